import type { LotState, LotStay, LotStretch } from "../../core/year/stores-band.ts";
import { c, type Frame } from "./frame.ts";
import { type Spot, TYPE, type Wording } from "./label-placement.ts";
import { heightOf, type StorePlace } from "./stores-layout.ts";
import { textWidth } from "./text-width.ts";
import { shortDay, tonnes } from "./words.ts";
import type { WordsWish } from "./Words.tsx";

/** Grain at least this high carries its words inside; words of lower grain stand above it. */
export const ROOM = 14;
/** How far above a level line the base line of words lies. */
export const ABOVE = 3.5;

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
 * the stretch is long enough for it; else the name moves on to where it is ready. A letter never stands alone.
 */
export function lotWishes(stay: LotStay, place: StorePlace, frame: Frame, height: Height): WordsWish[] {
  const { letter } = stay;
  const from = Math.max(stay.from, frame.fromDay);
  const weight = tonnes(stay.levelsG[from - stay.from] ?? 0);
  const always = (state: LotState) => stay.stretches.every((one) => one.state === state);
  const bound = always("feed") ? ", feed only" : always("locked") ? ", locked" : "";
  const name = plainName(stay);
  const full = `${name}, ${weight}`, least = `${stay.crop} ${weight}`;
  const wish = (
    text: string,
    shorter: readonly Wording[],
    day: number,
    until: number,
    withLetter: boolean,
  ): WordsWish => ({
    text,
    shorter,
    ...(withLetter ? { letter } : {}),
    of: stay.node,
    rank: withLetter ? 2 : 4,
    ...(withLetter ? { crowd: `lots ${place.row.id}`, place: place.row.name } : {}),
    spots: spotsOn(stay, place, frame, height, day, until, textWidth(`${letter} ${text}`, TYPE)),
  });
  const sleeping = stay.stretches.find((one) => one.from <= from && one.to >= from && isSleeping(one));
  const ready = stay.stretches.find(({ state, from: start }) => state === "ready" && start > from);
  if (sleeping === undefined || ready === undefined || ready.from >= frame.toDay) {
    const state = sleeping === undefined ? bound : `, ${sleepWord(sleeping)}`;
    return [wish(full + state, [full, least + state, least, weight], from, stay.to, true)];
  }
  const room = frame.x(sleeping.to + 1) - frame.x(from) - 10;
  const since = `ready from ${shortDay(ready.from)}`;
  const sleeps = [`${full}, ${sleepWord(sleeping)}`, `${least}, ${sleepWord(sleeping)}`]
    .find((text) => textWidth(`${letter} ${text}`, TYPE) <= room);
  if (sleeps !== undefined) {
    return [
      wish(sleeps, [least, weight], from, sleeping.to, true),
      wish(since, [`from ${shortDay(ready.from)}`], ready.from, stay.to, false),
    ];
  }
  const short = `${weight}, ${sleepWord(sleeping)}`;
  if (textWidth(`${letter} ${short}`, TYPE) <= room) {
    return [
      wish(short, [weight], from, sleeping.to, true),
      wish(`${name}, ${since}`, [`${stay.crop}, ${since}`, since], ready.from, stay.to, false),
    ];
  }
  return [wish(`${full}, ${since}`, [full, least, weight], ready.from, stay.to, true)];
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

/** How far words may step aside for threads that cross the grain. */
const SHIFTS = [0, 10, 20, 34, 52, 70, 92, 120];

/** Where words about a lot may stand from a day on, each with the halo of its ground: in the grain, else above it. */
function spotsOn(
  stay: LotStay,
  { row, ground }: StorePlace,
  frame: Frame,
  height: Height,
  day: number,
  until: number,
  width: number,
): Spot[] {
  const left = frame.x(day) + 5, end = Math.max(left, frame.x(until + 1));
  const spots = SHIFTS.filter((shift) => shift === 0 || left + shift < end).flatMap((shift): Spot[] => {
    const x = left + shift;
    const most = height(stay, x, x + width);
    const least = row.kind === "bags" ? 0 : Math.min(height(stay, x, x), height(stay, x + width, x + width));
    const state = stay.stretches.findLast(({ from }) => frame.x(from) <= x)?.state;
    const tone = state === "ready" ? x < frame.x(frame.todayDay) ? "on-done" : "on-planned" : "on-asleep";
    const look = `${tone} ${stay.crop}`;
    const inside = least >= ROOM && x + width < end
      ? [{ x, y: c(ground - least + 11.5), look }, { x, y: c(ground - 4), look }]
      : [];
    return [...inside, { x, y: c(ground - most - ABOVE), look: "halo" }];
  });
  // Inside the grain is best, wherever along it; above the level comes second.
  return [...spots.filter(({ look }) => look !== "halo"), ...spots.filter(({ look }) => look === "halo")];
}
