import type { Year } from "../../core/year/year.ts";
import { todayBox } from "./Axis.tsx";
import type { Frame } from "./frame.ts";
import { type Box, labelBox, type Placed, placeLabels } from "./label-placement.ts";
import { type Limit, type Line, type MalthouseLayout, STAIR, TREADS } from "./malthouse-layout.ts";
import { shortDay } from "./words.ts";
import type { WordsWish } from "./Words.tsx";

/** The words of the band at their places: pauses above the stairs; closures and dumped runs below them. */
export function malthouseWords(year: Year, layout: MalthouseLayout, frame: Frame): Placed<WordsWish>[] {
  const { top, lines, limits, pauseY } = layout;
  const limitBoxes = limits.map((one) =>
    labelBox(one.text, { x: middleOf(one, frame), y: one.y - 4, anchor: "middle" }, 11.5, true)
  );
  const bounds = {
    x: frame.left,
    y: top - 6,
    width: frame.right - frame.left,
    height: layout.bottom - top + 24,
  };
  const stairs = lines.map((line) => ({
    x: frame.left,
    y: line.top,
    width: frame.right - frame.left,
    height: STAIR,
  }));
  const wishes = [
    ...pauseWishes(year, frame, pauseY),
    ...closureWishes(year, layout, frame),
    ...dumpedWishes(layout, frame),
  ];
  return placeLabels(wishes, bounds, [...limitBoxes, ...stairs, ...todayBox(frame)]);
}

function pauseWishes({ malthouse }: Year, frame: Frame, y: number): WordsWish[] {
  const seen: { reason: string; from: number; to: number }[] = [];
  for (const { reason, from, to } of malthouse.pauses.toSorted((a, b) => a.from - b.from)) {
    const same = seen.find((one) => one.reason === reason && from <= one.to + 4);
    if (same === undefined) seen.push({ reason, from, to });
    else same.to = Math.max(same.to, to);
  }
  const shown = seen.filter(({ from, to }) => to >= frame.fromDay && from < frame.toDay);
  const middles = shown.map(({ from, to }) => (frame.x(from) + frame.x(to + 1)) / 2);
  return shown.map(({ reason }, index): WordsWish => {
    const x = middles[index]!;
    const room = Math.min(x - (middles[index - 1] ?? -Infinity), (middles[index + 1] ?? Infinity) - x) - 6;
    const short = fewerWords(reason, room);
    const { width } = labelBox(short, { x: 0, y: 0 });
    const inside = Math.min(Math.max(x, frame.left + width / 2), frame.right - width / 2);
    return {
      text: short,
      look: "quiet halo",
      spots: [0, -14, 14, -28, 28].map((shift) => ({ x: inside + shift, y, anchor: "middle" as const })),
    };
  });
}

/** A reason, or its first word where the whole would stand nearer to the next pause than to its own. */
function fewerWords(reason: string, width: number): string {
  return labelBox(reason, { x: 0, y: 0 }).width <= width ? reason : reason.split(" ")[0]!;
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

function closureWishes(year: Year, { lines, bottom }: MalthouseLayout, frame: Frame): WordsWish[] {
  return lines.flatMap((line) => closedBoxes(year, line, frame)).map(({ x, width, reason }): WordsWish => ({
    text: reason,
    look: "quiet halo",
    spots: [0, -20, 20].map((shift) => ({ x: x + width / 2 + shift, y: bottom + 9, anchor: "middle" })),
  }));
}

function dumpedWishes({ lines, bottom }: MalthouseLayout, frame: Frame): WordsWish[] {
  return lines.flatMap(({ runs }) => runs).filter(({ standing }) => standing === "dumped").map(
    (run): WordsWish => {
      const from = run.stages[0]?.start ?? 0;
      return {
        text: `dumped ${shortDay(from)}`,
        look: "quiet halo",
        of: run.node,
        spots: [{ x: frame.x(from) + 10, y: bottom + 9, anchor: "middle" }, {
          x: frame.x(from) + 30,
          y: bottom + 9,
          anchor: "middle",
        }],
      };
    },
  );
}

/** Middle of a dimension line's words: over the line, and inside the axis. */
export function middleOf({ from, to, text }: Limit, frame: Frame): number {
  const { width } = labelBox(text, { x: 0, y: 0 }, 11.5, true);
  const at = (frame.x(from) + frame.x(to + 1)) / 2;
  return Math.min(Math.max(at, frame.left + width / 2), frame.right - width / 2);
}
