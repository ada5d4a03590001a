import type { LotStay } from "../../core/year/year.ts";
import { c, type Frame } from "./frame.ts";
import { type Box, type Spot, TYPE } from "./label-placement.ts";
import { type Height, highest, lotWishes, ROOM } from "./lot-words.ts";
import type { StorePlace } from "./stores-layout.ts";
import { textWidth } from "./text-width.ts";
import { shortDay, tonnes } from "./words.ts";
import type { WordsWish } from "./Words.tsx";

/** Everything the bins say in words, what is urgent in any of them before what is not. */
export function storeWishes(places: readonly StorePlace[], frame: Frame, perTonne: number): WordsWish[] {
  const heightIn = (place: StorePlace): Height => (stay, fromX, toX) =>
    highest(stay, place, frame, perTonne, fromX, toX);
  const shown = ({ row }: StorePlace) =>
    row.stays.filter(({ from, to }) => to >= frame.fromDay && from < frame.toDay);
  return [
    ...places.flatMap((place) => mustGo(place, frame, heightIn(place))),
    ...places.flatMap((place) => lastDays(place, frame)),
    ...places.flatMap((place) =>
      shown(place).flatMap((stay) => lotWishes(stay, place, frame, heightIn(place)))
    ),
    ...places.flatMap((place) => loads(place, frame, heightIn(place))),
  ];
}

/** What must leave, in bold, ending at the load it speaks of, above the grain and if it fits inside the bin. */
function mustGo({ row, ground, height: full }: StorePlace, frame: Frame, height: Height): WordsWish[] {
  return row.mustLeave.filter(({ onDay }) => onDay < frame.toDay && onDay >= frame.fromDay).map(
    (one): WordsWish => {
      const width = textWidth(one.text, TYPE, true);
      const stay = row.stays.find(({ lotId, from, to }) =>
        lotId === one.lotId && from <= one.onDay && to >= one.onDay - 1
      );
      const spots = [10, 40, 90, 150].map((shift): Spot => {
        const x = frame.x(one.onDay + 1) - shift;
        return {
          x,
          y: c(ground - (stay === undefined ? full : height(stay, x - width - 4, x)) - 4),
          anchor: "end",
        };
      });
      const right = frame.x(one.onDay + 1);
      return {
        text: one.text,
        bold: true,
        of: one.node,
        look: "halo",
        spots: [...spots, { x: right + 6, y: ground + 11 }],
      };
    },
  );
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
      shorter: [
        `${stay.letter}: steep by ${shortDay(day)}, ${reason}`,
        `${stay.letter}: steep by ${shortDay(day)}`,
      ],
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

/** Loads that no other lot waits for: said quietly beside their box. */
function loads({ row, ground }: StorePlace, frame: Frame, height: Height): WordsWish[] {
  const urgent = new Set(row.mustLeave.map(({ refId }) => refId));
  const plain = row.departures.filter(({ kind, refId, day, standing }) =>
    (kind === "feed" || kind === "sold" || kind === "seed") && !urgent.has(refId) && standing !== "done" &&
    day >= frame.fromDay && day < frame.toDay
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
        ? [{ x: x + 4, y: ground - 4.5 }, { x: x - 10, y: ground - 4.5, anchor: "end" }, {
          x: x + 4,
          y: c(ground - grain + 11),
        }]
        : [{ x: x + 4, y: c(ground - grain - 4) }, { x: x + 4, y: ground + 10 }, {
          x: x - 13,
          y: ground + 10,
          anchor: "end",
        }],
    };
  });
}

/** Ground lines and what hangs below them, which words keep clear of. */
export function textFloor({ ground }: StorePlace, frame: Frame): Box {
  return { x: frame.left, y: ground - 0.5, width: frame.right - frame.left, height: 1 };
}
