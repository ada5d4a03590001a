import type { LotStay } from "../../core/year/stores-band.ts";
import { c, type Frame } from "./frame.ts";
import type { Box, Spot } from "./label-placement.ts";
import { ABOVE, type Height, highest, lotWishes, ROOM } from "./lot-words.ts";
import { MUST_LINE, MUST_TYPE } from "./must-lines.ts";
import { loadHeight, type StorePlace, type StoresLayout } from "./stores-layout.ts";
import { shortDay, tonnes } from "./words.ts";
import type { WordsWish } from "./Words.tsx";

/** Everything the bins say in words; what is urgent in any of them ranks before what is not. */
export function storeWishes({ places, perTonne, top, bottom }: StoresLayout, frame: Frame): WordsWish[] {
  const within: Box = {
    x: frame.left,
    y: top - 14,
    width: frame.right - frame.left,
    height: bottom - top + 26,
  };
  return places.flatMap((place): WordsWish[] => {
    const height: Height = (stay, fromX, toX) => highest(stay, place, frame, perTonne, fromX, toX);
    const shown = place.row.stays.filter(({ from, to }) => to >= frame.fromDay && from < frame.toDay);
    return [
      ...mustGo(place, frame, height, perTonne),
      ...lastDays(place, frame),
      ...shown.flatMap((stay) => lotWishes(stay, place, frame, height)),
      ...loads(place, frame, height),
    ];
  }).map((wish) => ({ ...wish, within }));
}

/** What must leave and what it makes room for, ending at the load it speaks of: over the grain of its bin, or above it. */
function mustGo(
  { row, ground, height: full, must }: StorePlace,
  frame: Frame,
  height: Height,
  perTonne: number,
): WordsWish[] {
  return must.map(({ note, go, after, width, line }): WordsWish => {
    const right = frame.x(note.onDay + 1);
    const stay = row.stays.find(({ lotId, from, to }) =>
      lotId === note.lotId && from <= note.onDay && to >= note.onDay - 1
    );
    const above = (at: number) => c(ground - full - ABOVE - at * MUST_LINE);
    const spots = [10, 16, 26, 40, 60].flatMap((shift): Spot[] => {
      const x = right - shift;
      const over = stay === undefined ? full : height(stay, x - width - 4, x);
      const own = line === null ? [c(ground - over - ABOVE), above(0)] : [above(line)];
      return own.map((y) => ({ x, y, anchor: "end" }));
    });
    return {
      letter: note.letter,
      text: go,
      after,
      shorter: [[go, `: ${note.words.comes}`], go],
      bold: true,
      size: MUST_TYPE,
      rank: 0,
      mayCross: true,
      crowd: `must ${row.id}`,
      place: row.name,
      of: note.node,
      look: "halo must",
      mark: { x: right - 4, y: ground + loadHeight(note.massG, perTonne) },
      spots,
    };
  });
}

/** The last malting day of a lot, to the right of its standing rule. */
function lastDays({ row, ground, height }: StorePlace, frame: Frame): WordsWish[] {
  return row.stays.filter((stay) => isLastDayShown(stay, frame)).map((stay): WordsWish => {
    const { day } = stay.lastMaltingDay!;
    // The reason's first words are enough here; the lot's own name has all of them.
    const reason = stay.lastMaltingDay!.reason.split(/[:;,(]/)[0]!.trim();
    const x = frame.x(day + 1) + 5;
    return {
      letter: stay.letter,
      text: `steep by ${shortDay(day)}: ${reason}`,
      shorter: [`steep by ${shortDay(day)}`],
      bold: true,
      rank: 1,
      of: stay.node,
      look: "halo",
      crowd: `lots ${row.id}`,
      place: row.name,
      mark: { x: x - 5, y: ground - height },
      spots: [
        { x, y: ground - height + 9 },
        { x, y: ground - height - ABOVE - 1 },
        { x: x - 10, y: ground - height + 9, anchor: "end" },
        { x: x - 10, y: ground - height - ABOVE - 1, anchor: "end" },
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

/** Loads that no other lot waits for: said quietly beside their box. */
function loads({ row, ground }: StorePlace, frame: Frame, height: Height): WordsWish[] {
  const urgent = new Set(row.mustLeave.map(({ refId, lotId }) => `${refId} ${lotId}`));
  const plain = row.departures.filter(({ kind, refId, lotId, day, standing }) =>
    (kind === "feed" || kind === "sold" || kind === "seed") && !urgent.has(`${refId} ${lotId}`) &&
    standing !== "done" && day >= frame.fromDay && day < frame.toDay
  );
  return plain.map(({ kind, day, massG, letter, node }): WordsWish => {
    const x = frame.x(day + 1);
    const after = row.stays.find(({ from, to }) => from <= day + 1 && day + 1 <= to);
    const grain = after === undefined ? 0 : height(after, x - 110, x + 110);
    const where = kind === "feed" ? "to feed" : kind === "seed" ? "for seed" : "sold";
    const inGrain: Spot[] = after !== undefined && grain >= ROOM
      ? [
        { x: x + 4, y: ground - 4, look: `on-planned ${after.crop}` },
        { x: x - 10, y: ground - 4, anchor: "end", look: `on-planned ${after.crop}` },
      ]
      : [];
    return {
      letter,
      text: `${tonnes(massG)} ${where} ${shortDay(day)}`,
      shorter: [`${tonnes(massG)} ${where}`],
      rank: 3,
      of: node,
      look: "halo",
      crowd: `loads ${row.id}`,
      place: row.name,
      spots: [
        ...inGrain,
        { x: x + 4, y: ground + 10 },
        { x: x - 12, y: ground + 10, anchor: "end" },
        { x: x + 4, y: c(ground - grain - ABOVE) },
        { x: x - 4, y: c(ground - grain - ABOVE), anchor: "end" },
      ],
    };
  });
}
