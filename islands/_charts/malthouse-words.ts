import type { Year } from "../../core/year/year.ts";
import type { Frame } from "./frame.ts";
import { type Box, FIRST, labelBox } from "./label-placement.ts";
import { type Limit, type Line, type MalthouseLayout, TREADS } from "./malthouse-layout.ts";
import { shortDay } from "./words.ts";
import type { WordsWish } from "./Words.tsx";
import { worthLeft } from "./worth-layout.ts";

/** Words of the malthouse: its limits over their dimension lines, pauses above the stairs, what went wrong below them. */
export function malthouseWishes(year: Year, layout: MalthouseLayout, frame: Frame): WordsWish[] {
  const { top, bottom, pauseY } = layout;
  const within = { x: frame.left, y: top - 8, width: frame.right - frame.left, height: bottom - top + 24 };
  return [
    ...layout.limits.map((one) => limitWish(one, frame)),
    ...pauseWishes(year, layout, frame, pauseY),
    ...closureWishes(year, layout, frame),
    ...dumpedWishes(year, layout, frame),
  ].map((wish) => ({ ...wish, within }));
}

/** A limit's words stand on their line, right after today where they can. */
function limitWish({ from, to, words, text, y, vessel }: Limit, frame: Frame): WordsWish {
  const left = frame.x(from), right = frame.x(to + 1), now = frame.x(frame.todayDay);
  const middle = (Math.max(left, Math.min(now, right)) + right) / 2;
  const { width } = labelBox(text, { x: 0, y: 0 }, LIMIT_TYPE, true);
  const places = [
    now > left ? now + 10 + width / 2 : middle,
    middle,
    (left + right) / 2,
    middle - 60,
    middle + 60,
    left + width / 2,
    right - width / 2,
  ];
  return {
    text,
    shorter: [words, `${vessel.name} full`, `${vessel.stages.join(" and ")} full`],
    bold: true,
    size: LIMIT_TYPE,
    rank: FIRST,
    look: "halo limit-words",
    crowd: "limits",
    spots: places.map((x) => ({
      x: Math.min(Math.max(x, frame.left + width / 2), frame.right - width / 2),
      y: y - 4,
      anchor: "middle" as const,
    })),
  };
}

/** The limit of the year is an answer, so its type is that of the worst shortage. */
const LIMIT_TYPE = 13;

/** Why no run starts: over the gap that it leaves in the bed, and where it leaves none over its own days. */
function pauseWishes({ malthouse }: Year, { lines }: MalthouseLayout, frame: Frame, y: number): WordsWish[] {
  const bed = malthouse.vessels.find(({ id }) => id === lines[0]?.bed);
  const seen: { reason: string; from: number; to: number }[] = (bed?.gaps ?? [])
    .filter(({ reason }) => reason !== "").map(({ reason, start, end }) => ({
      reason,
      from: start,
      to: end - 1,
    }));
  for (const { reason, from, to } of malthouse.pauses.toSorted((a, b) => a.from - b.from)) {
    const same = seen.find((one) => one.reason.includes(reason) && from <= one.to + 4 && to >= one.from - 4);
    if (same === undefined) seen.push({ reason, from, to });
    else same.to = Math.max(same.to, to);
  }
  const shown = seen.filter(({ from, to }) => to >= frame.fromDay && from < frame.toDay)
    .toSorted((a, b) => a.from - b.from);
  const middles = shown.map(({ from, to }) => (frame.x(from) + frame.x(to + 1)) / 2);
  return shown.map(({ reason, from }, index): WordsWish => {
    const x = middles[index]!;
    const room = Math.min(x - (middles[index - 1] ?? -Infinity), (middles[index + 1] ?? Infinity) - x) - 6;
    const short = fewerWords(reason, room);
    const { width } = labelBox(short, { x: 0, y: 0 });
    const inside = Math.min(Math.max(x, frame.left + width / 2), frame.right - width / 2);
    return {
      text: short,
      full: `${reason}, from ${shortDay(from)}`,
      place: "Malthouse",
      look: "quiet halo",
      rank: 3,
      crowd: "pauses",
      spots: [0, -14, 14, -28, 28].map((shift) => ({ x: inside + shift, y, anchor: "middle" as const })),
    };
  });
}

/** A reason, or less of it where the whole would stand nearer to the next pause than to its own. */
function fewerWords(reason: string, width: number): string {
  const afterColon = reason.slice(reason.indexOf(":") + 1).trim();
  const words = [reason, afterColon, afterColon.split(" ")[0]!];
  return words.find((one) => labelBox(one, { x: 0, y: 0 }).width <= width) ?? words[2]!;
}

/** A closed stretch of a vessel: the part of its tread that is crossed out. */
export interface ClosedBox extends Box {
  readonly reason: string;
}

/** The closures of the vessels of a line, where they stand on its stairs. */
export function closedBoxes({ malthouse }: Year, line: Line, frame: Frame): ClosedBox[] {
  return malthouse.vessels.flatMap((vessel) =>
    vessel.closures.filter(({ start, end }) => end > frame.fromDay && start < frame.toDay).flatMap(
      ({ start, end, reason }) => {
        const stage = vessel.stages[0] ?? "bed";
        if (stage === "bed" && vessel.id !== line.bed) return [];
        const y = line.top +
          (stage === "steep" ? 0 : stage === "bed" ? TREADS.steep : TREADS.steep + TREADS.bed);
        const x = frame.x(start);
        return [{ x, y: y + 1.5, width: frame.x(end) - x, height: TREADS[stage] - 3, reason }];
      },
    )
  );
}

/** Closures that the words over a gap of the bed do not tell already. */
function closureWishes(year: Year, layout: MalthouseLayout, frame: Frame): WordsWish[] {
  const { lines } = layout;
  return lines.flatMap((line) => {
    const told = year.malthouse.vessels.find(({ id }) => id === line.bed)?.gaps ?? [];
    return closedBoxes(year, line, frame).filter(({ x, width, reason }) =>
      !told.some((gap) =>
        gap.reason.includes(reason) && frame.x(gap.start) < x + width && x < frame.x(gap.end)
      )
    );
  }).map(({ x, width, reason }): WordsWish => ({
    text: reason,
    shorter: [reason.split(" ")[0] ?? ""],
    full: reason,
    place: "Malthouse",
    look: "quiet halo",
    rank: 3,
    crowd: "closures",
    spots: [0, -20, 20, -44, 44].map((shift) => ({
      x: x + width / 2 + shift,
      y: footY(year, layout, frame, x + width / 2),
      anchor: "middle",
    })),
  }));
}

/** Base line of words below the stairs: under the strip of what a run is worth, where that stands. */
function footY(year: Year, { bottom, stairsBottom }: MalthouseLayout, frame: Frame, x: number): number {
  return (x + FOOT_ROOM < worthLeft(year, frame) ? stairsBottom : bottom) + 9;
}

/** Words below the stairs reach about so far to the right of their middle. */
const FOOT_ROOM = 60;

function dumpedWishes(year: Year, layout: MalthouseLayout, frame: Frame): WordsWish[] {
  return layout.lines.flatMap(({ runs }) => runs).filter(({ standing }) => standing === "dumped").map(
    (run): WordsWish => {
      const from = run.stages[0]?.start ?? 0;
      const y = footY(year, layout, frame, frame.x(from) + 10);
      return {
        text: `dumped ${shortDay(from)}`,
        full: `run ${run.number} dumped, steeped ${shortDay(from)}`,
        place: "Malthouse",
        look: "quiet halo",
        rank: 3,
        crowd: "closures",
        of: run.node,
        spots: [10, 30].map((shift) => ({ x: frame.x(from) + shift, y, anchor: "middle" as const })),
      };
    },
  );
}

/** The malt most made of each crop needs no letter on its runs: the lot's letter says it all. Others by their initial. */
export function maltLetters({ malthouse }: Year): Map<string, string> {
  const runs = new Map<string, Map<string, number>>();
  for (const { crop, maltId } of malthouse.runs) {
    const ofCrop = runs.get(crop) ?? new Map<string, number>();
    runs.set(crop, ofCrop.set(maltId, (ofCrop.get(maltId) ?? 0) + 1));
  }
  const usual = new Set(
    [...runs.values()].flatMap((ofCrop) => [...ofCrop].toSorted((a, b) => b[1] - a[1])[0]?.[0] ?? []),
  );
  return new Map(
    malthouse.runs.filter(({ maltId }) => !usual.has(maltId))
      .map(({ maltId, maltName }) => [maltId, maltName.charAt(0).toLowerCase()]),
  );
}

/** Those letters with the malts they stand for. */
export function unusualMalts(year: Year): Map<string, string[]> {
  const letters = maltLetters(year);
  const names = new Map<string, string[]>();
  for (const [maltId, letter] of letters) {
    const name = year.malthouse.runs.find((run) => run.maltId === maltId)?.maltName ?? "";
    names.set(letter, [...names.get(letter) ?? [], name]);
  }
  return names;
}
