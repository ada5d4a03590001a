import type { Year } from "../../core/year/year.ts";
import { brewWishes } from "./brews-words.ts";
import { fieldWishes } from "./fields-words.ts";
import { type Placed, placeLabels } from "./label-placement.ts";
import { maltWishes } from "./malt-words.ts";
import { malthouseWishes } from "./malthouse-words.ts";
import { obstaclesOf } from "./obstacles.ts";
import type { SectionLayout } from "./section-layout.ts";
import { storeWishes } from "./store-words.ts";
import type { WordsWish } from "./Words.tsx";

/**
 * All words of the section at their places. They are placed together, because words of one band hang into the next, and
 * by rank: what runs short, what is full and what must leave come before everything else in every band.
 */
export function sectionLabels(year: Year, layout: SectionLayout): Placed<WordsWish>[] {
  const { frame } = layout;
  return placeLabels(sectionWishes(year, layout), {
    x: frame.left - 4,
    y: 0,
    width: frame.right - frame.left + 8,
    height: layout.height + 12,
  }, obstaclesOf(year, layout));
}

/** Everything the section would like to say, band by band. */
export function sectionWishes(year: Year, layout: SectionLayout): WordsWish[] {
  const { frame } = layout;
  return [
    ...fieldWishes(layout.fields, frame),
    ...storeWishes(layout.stores, frame),
    ...malthouseWishes(year, layout.malthouse, frame),
    ...maltWishes(year, layout.malt, frame),
    ...brewWishes(year, layout.brews, frame),
  ];
}

/** What a drawing's "+n" stand for, by the part of the drawing it belongs to. */
export function leftOut(placed: readonly Placed<WordsWish>[]): { place: string; words: string[] }[] {
  const found = new Map<string, string[]>();
  for (const { place = "", full, letter = "", text, after = "" } of placed.flatMap(({ counts }) => counts)) {
    const words = full ?? `${letter} ${text}${after}`.trim();
    found.set(place, [...found.get(place) ?? [], words]);
  }
  return [...found].map(([place, words]) => ({ place, words }));
}
