import type { LotStay, LotStretch } from "../../core/year/year.ts";
import { c, type Frame } from "./frame.ts";
import { TYPE } from "./label-placement.ts";
import { heightOf, type StorePlace } from "./stores-layout.ts";
import { textWidth } from "./text-width.ts";
import { shortDay, tonnes } from "./words.ts";
import type { WordsWish } from "./Words.tsx";

/** Grain at least this high carries its words inside; words of lower grain stand above it. */
export const ROOM = 14;

/** How high a lot stands at most between two places of the axis. */
export type Height = (stay: LotStay, fromX: number, toX: number) => number;

/** How high a lot stands at most between two places of the axis; in a bag row every lot counts as the whole row. */
export function highest(
  stay: LotStay,
  { row, height }: StorePlace,
  frame: Frame,
  perTonne: number,
  fromX: number,
  toX: number,
): number {
  if (row.kind === "bags") return height;
  const day = (x: number) => Math.floor(frame.fromDay + (x - frame.left) / frame.dayWidth);
  let most = 0;
  for (let at = Math.max(day(fromX), stay.from); at <= Math.min(day(toX), stay.to); at++) {
    most = Math.max(most, heightOf(row, stay, stay.levelsG[at - stay.from] ?? 0, perTonne));
  }
  return most;
}

/**
 * Name, weight and state of a lot. While it sleeps its letter stands on the sleeping grain, with the whole name if
 * the stretch is long enough for it; else the name moves on to where it is ready.
 */
export function lotWishes(stay: LotStay, place: StorePlace, frame: Frame, height: Height): WordsWish[] {
  const { letter } = stay;
  const from = Math.max(stay.from, frame.fromDay);
  const weight = tonnes(stay.levelsG[from - stay.from] ?? 0);
  const feedOnly = stay.stretches.every(({ state }) => state === "feed");
  const name = plainName(stay);
  const full = `${name}, ${weight}`;
  const wish = (
    text: string,
    shorter: readonly string[],
    day: number,
    until: number,
    withLetter: boolean,
  ): WordsWish => ({
    text,
    shorter,
    ...(withLetter ? { letter } : {}),
    of: stay.node,
    ...spotsOn(
      stay,
      place,
      frame,
      height,
      day,
      until,
      textWidth(text, TYPE) + (withLetter ? textWidth(`${letter} `, TYPE, true) : 0),
    ),
  });
  const sleeping = stay.stretches.find((one) => one.from <= from && one.to >= from && isSleeping(one));
  const ready = stay.stretches.find(({ state, from: start }) => state === "ready" && start > from);
  if (sleeping === undefined || ready === undefined || ready.from >= frame.toDay) {
    const state = sleeping === undefined ? feedOnly ? ", feed only" : "" : `, ${sleepWord(sleeping)}`;
    return [wish(full + state, [name + state, weight, ""], from, stay.to, true)];
  }
  const room = frame.x(sleeping.to + 1) - frame.x(from) - 10;
  const since = `ready from ${shortDay(ready.from)}`;
  const fits = (text: string) => textWidth(text, TYPE) + textWidth(`${letter} `, TYPE, true) <= room;
  if (fits(`${full}, ${sleepWord(sleeping)}`)) {
    return [
      wish(`${full}, ${sleepWord(sleeping)}`, [], from, sleeping.to, true),
      wish(since, [""], ready.from, stay.to, false),
    ];
  }
  const later = [`${name}, ${since}`, since, weight, ""];
  if (fits(sleepWord(sleeping))) {
    return [
      wish(sleepWord(sleeping), [""], from, sleeping.to, true),
      wish(`${full}, ${since}`, later, ready.from, stay.to, false),
    ];
  }
  return [wish(full, [name, weight, ""], ready.from, stay.to, true)];
}

/** A lot's name without the letter that many farms begin it with, because the letter stands before it anyway. */
function plainName({ name, letter }: LotStay): string {
  return name.startsWith(`${letter} `) ? name.slice(letter.length + 1) : name;
}

function isSleeping({ state }: LotStretch): boolean {
  return state === "asleep" || state === "awaiting";
}

function sleepWord({ state }: LotStretch): string {
  return state === "awaiting" ? "awaiting result" : "asleep";
}

/** Where words about a lot may stand from a day on, and the halo that goes with the place: in the grain, else above it. */
function spotsOn(
  stay: LotStay,
  { row, ground }: StorePlace,
  frame: Frame,
  height: Height,
  day: number,
  until: number,
  width: number,
): Pick<WordsWish, "spots" | "look"> {
  const left = frame.x(day) + 6;
  const least = row.kind === "bags" ? 0 : Math.min(
    height(stay, left, left),
    height(stay, left + width, left + width) || height(stay, left, left),
  );
  const stretch = stay.stretches.find(({ from, to }) => from <= day && day <= to);
  if (least >= ROOM) {
    const look = stretch?.state === "ready" ? day < frame.todayDay ? "on-done" : "on-planned" : "on-asleep";
    // Threads to bins further down cross the grain, so the words may step aside.
    const shifts = [0, 16, 34, 52, 70].filter((shift) =>
      shift === 0 || left + shift + width < frame.x(until)
    );
    return {
      look: `${look} ${stay.crop}`,
      spots: shifts.flatMap((shift) =>
        [ground - 4.5, ground - least + 11].map((y) => ({ x: left + shift, y: c(y) }))
      ),
    };
  }
  const ends = Math.max(left, frame.x(until));
  const spots = [0, 26, 56, 90].filter((shift) => shift === 0 || left + shift < ends)
    .map((shift) => ({
      x: left + shift,
      y: c(ground - height(stay, left + shift - 6, left + shift + width) - 3),
    }));
  return { look: "halo", spots };
}
