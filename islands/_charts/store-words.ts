import type { LotStay, LotStretch } from "../../core/year/year.ts";
import { c, type Frame } from "./frame.ts";
import { type Box, type Spot, TYPE } from "./label-placement.ts";
import { heightOf, type StorePlace } from "./stores-layout.ts";
import { textWidth } from "./text-width.ts";
import { shortDay, tonnes } from "./words.ts";
import type { WordsWish } from "./Words.tsx";

/** Grain at least this high carries its words inside; words of lower grain stand above it. */
const ROOM = 14;

/** Everything the drawing says in words about one store, the most urgent first. */
export function storeWishes(place: StorePlace, frame: Frame, perTonne: number): WordsWish[] {
  const height = (stay: LotStay, fromX: number, toX: number) => highest(stay, place, frame, perTonne, fromX, toX);
  const lots = place.row.stays.filter(({ from, to }) => to >= frame.fromDay && from < frame.toDay)
    .flatMap((stay) => lotWishes(stay, place, frame, height));
  return [...mustGo(place, frame, height), ...lastDays(place, frame), ...lots, ...loads(place, frame, height)];
}

type Height = (stay: LotStay, fromX: number, toX: number) => number;

/** How high a lot stands at most between two places of the axis; in a bag row every lot counts as the whole row. */
function highest(stay: LotStay, { row, height }: StorePlace, frame: Frame, perTonne: number, fromX: number, toX: number): number {
  if (row.kind === "bags") return height;
  const day = (x: number) => Math.floor(frame.fromDay + (x - frame.left) / frame.dayWidth);
  let most = 0;
  for (let at = Math.max(day(fromX), stay.from); at <= Math.min(day(toX), stay.to); at++) {
    most = Math.max(most, heightOf(row, stay, stay.levelsG[at - stay.from] ?? 0, perTonne));
  }
  return most;
}

/** What must leave, in bold, ending at the load it speaks of, above the grain and if it fits inside the bin. */
function mustGo({ row, ground, height: full }: StorePlace, frame: Frame, height: Height): WordsWish[] {
  return row.mustLeave.filter(({ onDay }) => onDay < frame.toDay && onDay >= frame.fromDay).map((one): WordsWish => {
    const width = textWidth(one.text, TYPE, true);
    const stay = row.stays.find(({ lotId, from, to }) => lotId === one.lotId && from <= one.onDay && to >= one.onDay - 1);
    const spots = [10, 40, 90, 150].map((shift): Spot => {
      const x = frame.x(one.onDay + 1) - shift;
      return { x, y: c(ground - (stay === undefined ? full : height(stay, x - width - 4, x)) - 4), anchor: "end" };
    });
    const right = frame.x(one.onDay + 1);
    return { text: one.text, bold: true, of: one.node, look: "halo", spots: [...spots, { x: right + 6, y: ground + 11 }] };
  });
}

/** The last malting day of a lot, to the right of its standing rule. */
function lastDays({ row, ground, height }: StorePlace, frame: Frame): WordsWish[] {
  return row.stays.filter((stay) => isLastDayShown(stay, frame)).map((stay): WordsWish => {
    const { day } = stay.lastMaltingDay!;
    // The reason's first words are enough here; the lot's own name has all of them.
    const reason = stay.lastMaltingDay!.reason.split(/[:;,(]/)[0]!.trim();
    const x = frame.x(day + 1) + 6;
    return {
      text: `${stay.letter} is to be steeped by ${shortDay(day)}: ${reason}`,
      shorter: [`${stay.letter}: steep by ${shortDay(day)}, ${reason}`, `${stay.letter}: steep by ${shortDay(day)}`],
      bold: true,
      of: stay.node,
      look: "halo",
      spots: [
        { x, y: ground - height + 10 },
        { x, y: ground - height - 3 },
        { x: x - 11, y: ground - height + 10, anchor: "end" },
        { x: x - 11, y: ground - height - 3, anchor: "end" },
      ],
    };
  });
}

/** True when a lot's last malting day lies on the axis and while the lot is still there, so that a rule is drawn. */
export function isLastDayShown({ lastMaltingDay, from, to }: LotStay, frame: Frame): boolean {
  if (lastMaltingDay === null) return false;
  const { day } = lastMaltingDay;
  // A lot that will be used up long before its last day needs no rule to say so.
  return day >= Math.max(from, frame.fromDay) && day < frame.toDay - 1 && day <= to + 21;
}

/**
 * Name, weight and state of a lot. While it sleeps its letter stands on the sleeping grain, with the whole name if
 * the stretch is long enough for it; else the name moves on to where it is ready.
 */
function lotWishes(stay: LotStay, place: StorePlace, frame: Frame, height: Height): WordsWish[] {
  const { letter } = stay;
  const from = Math.max(stay.from, frame.fromDay);
  const weight = tonnes(stay.levelsG[from - stay.from] ?? 0);
  const feedOnly = stay.stretches.every(({ state }) => state === "feed");
  const name = plainName(stay);
  const full = `${name}, ${weight}`;
  const wish = (text: string, shorter: readonly string[], day: number, until: number, withLetter: boolean): WordsWish => ({
    text,
    shorter,
    ...(withLetter ? { letter } : {}),
    of: stay.node,
    ...spotsOn(stay, place, frame, height, day, until, textWidth(text, TYPE) + (withLetter ? textWidth(`${letter} `, TYPE, true) : 0)),
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
    return [wish(`${full}, ${sleepWord(sleeping)}`, [], from, sleeping.to, true), wish(since, [""], ready.from, stay.to, false)];
  }
  const later = [`${name}, ${since}`, since, weight, ""];
  if (fits(sleepWord(sleeping))) {
    return [wish(sleepWord(sleeping), [""], from, sleeping.to, true), wish(`${full}, ${since}`, later, ready.from, stay.to, false)];
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
function spotsOn(stay: LotStay, { row, ground }: StorePlace, frame: Frame, height: Height, day: number, until: number, width: number): Pick<WordsWish, "spots" | "look"> {
  const left = frame.x(day) + 6;
  const least = row.kind === "bags" ? 0 : Math.min(height(stay, left, left), height(stay, left + width, left + width) || height(stay, left, left));
  const stretch = stay.stretches.find(({ from, to }) => from <= day && day <= to);
  if (least >= ROOM) {
    const look = stretch?.state === "ready" ? day < frame.todayDay ? "on-done" : "on-planned" : "on-asleep";
    // Threads to bins further down cross the grain, so the words may step aside.
    const shifts = [0, 16, 34, 52, 70].filter((shift) => shift === 0 || left + shift + width < frame.x(until));
    return {
      look: `${look} ${stay.crop}`,
      spots: shifts.flatMap((shift) => [ground - 4.5, ground - least + 11].map((y) => ({ x: left + shift, y: c(y) }))),
    };
  }
  const ends = Math.max(left, frame.x(until));
  const spots = [0, 26, 56, 90].filter((shift) => shift === 0 || left + shift < ends)
    .map((shift) => ({ x: left + shift, y: c(ground - height(stay, left + shift - 6, left + shift + width) - 3) }));
  return { look: "halo", spots };
}

/** Loads that no other lot waits for: said quietly beside their box. */
function loads({ row, ground }: StorePlace, frame: Frame, height: Height): WordsWish[] {
  const urgent = new Set(row.mustLeave.map(({ refId }) => refId));
  const plain = row.departures.filter(({ kind, refId, day, standing }) =>
    (kind === "feed" || kind === "sold" || kind === "seed") && !urgent.has(refId) && standing !== "done" && day >= frame.fromDay && day < frame.toDay
  );
  return plain.map(({ kind, day, massG, letter, node }): WordsWish => {
    const x = frame.x(day + 1);
    const after = row.stays.find(({ from, to }) => from <= day + 1 && day + 1 <= to);
    const grain = after === undefined ? 0 : height(after, x, x + 110);
    const where = kind === "feed" ? "to feed" : kind === "seed" ? "for seed" : "sold";
    const inGrain = after !== undefined && grain >= ROOM;
    return {
      text: `${letter} ${tonnes(massG)} ${where} ${shortDay(day)}`,
      shorter: [`${tonnes(massG)} ${where}`],
      of: node,
      look: inGrain ? `on-planned ${after.crop}` : "quiet halo",
      spots: inGrain
        ? [{ x: x + 4, y: ground - 4.5 }, { x: x - 10, y: ground - 4.5, anchor: "end" }, { x: x + 4, y: c(ground - grain + 11) }]
        : [{ x: x + 4, y: c(ground - grain - 4) }, { x: x + 4, y: ground + 10 }, { x: x - 13, y: ground + 10, anchor: "end" }],
    };
  });
}

/** Ground lines and what hangs below them, which words keep clear of. */
export function textFloor({ ground }: StorePlace, frame: Frame): Box {
  return { x: frame.left, y: ground - 0.5, width: frame.right - frame.left, height: 1 };
}
