import type { BreakMark, PlantingMark } from "../../core/year/fields-band.ts";
import type { Year } from "../../core/year/year.ts";
import { c, type Frame, NUMBERS } from "./frame.ts";
import { TYPE } from "./label-placement.ts";
import { textWidth, wrap } from "./text-width.ts";
import { areaFigure } from "./words.ts";
import { LINE } from "./Words.tsx";

/** Units a tonne is high in a harvest wedge. */
export const WEDGE_PER_TONNE = 0.55;
const LEAST_PITCH = 14.5;
const HEAD = 17;

/** A line of the fields band: fields that are worked as one, with what they carry over the year. */
export interface FieldRow {
  readonly names: readonly string[];
  /** The names as they stand left of the axis, in lines. */
  readonly lines: readonly string[];
  /** Their land in the reader's unit. */
  readonly figure: string;
  readonly plantings: readonly PlantingMark[];
  readonly breaks: readonly BreakMark[];
  /** The line the crop stands on. */
  readonly ground: number;
}

export interface FieldsLayout {
  readonly top: number;
  readonly bottom: number;
  readonly rows: readonly FieldRow[];
  /** Harvests that lie before the axis: they show only in a trace. */
  readonly past: readonly PlantingMark[];
}

/** Height of a harvest wedge, by the weight that comes into store. */
export function wedgeHeight(massG: number): number {
  // Two tonnes would be a line of one pixel; the least wedge can just be seen as one.
  return massG === 0 ? 0 : Math.max(2.5, massG / 1e6 * WEDGE_PER_TONNE);
}

/** Which fields share a line and where the lines stand. Harvest order, so that threads into the bins cross least. */
export function layoutFields({ fields, units }: Year, frame: Frame, top: number): FieldsLayout {
  const shown = fields.plantings.filter((one) =>
    one.harvest.late >= frame.fromDay && one.drillDay < frame.toDay
  );
  const rows = new Map<
    string,
    { first: PlantingMark | BreakMark; plantings: PlantingMark[]; breaks: BreakMark[] }
  >();
  const rowOf = (key: string, first: PlantingMark | BreakMark) => {
    const row = rows.get(key) ?? { first, plantings: [], breaks: [] };
    rows.set(key, row);
    return row;
  };
  for (const one of shown.toSorted((a, b) => a.harvest.likely - b.harvest.likely)) {
    rowOf([...one.fieldNames].sort().join("\n"), one).plantings.push(one);
  }
  for (const one of fields.breaks) {
    const days = Math.min(one.to + 1, frame.toDay) - Math.max(one.from, frame.fromDay);
    // A break that only begins or ends on the axis gets no line of its own, or the band would fill with stubs.
    if (days > 0 && (rows.has(one.fieldName) || days > (frame.toDay - frame.fromDay) / 3)) {
      rowOf(one.fieldName, one).breaks.push(one);
    }
  }
  let ground = top + HEAD - 6;
  const placed = [...rows.values()].map(({ first, plantings, breaks }) => {
    const highest = Math.max(0, ...plantings.map(({ binG }) => wedgeHeight(binG.good)));
    const names = "fieldNames" in first ? first.fieldNames : [first.fieldName];
    const figure = areaFigure(first.areaM2, units);
    const lines = nameLines(names, figure);
    ground += Math.max(LEAST_PITCH, highest + 4, lines.length * LINE + 2);
    // The first names keep clear of the band's own.
    ground = Math.max(ground, top + HEAD - 1 + lines.length * LINE);
    return { names, lines, figure, plantings, breaks, ground: c(ground) };
  });
  return {
    top,
    bottom: placed.length === 0 ? top + HEAD + 8 : ground + 4,
    rows: placed,
    past: fields.plantings.filter((one) => one.harvest.late < frame.fromDay),
  };
}

/** Most lines that the names of one row may fill. */
const MOST_LINES = 3;

/** The names of a row, broken into lines: only the last one has to leave room for the figure. */
function nameLines(names: readonly string[], figure: string): string[] {
  const beside = NUMBERS - textWidth(figure, TYPE) - 8;
  const all = names.join(", ");
  for (let count = 1; count <= MOST_LINES; count++) {
    const lines = wrap(all, [...Array<number>(count - 1).fill(NUMBERS), beside], TYPE);
    if (count === MOST_LINES || !lines.at(-1)?.endsWith("…")) return lines;
  }
  return [];
}
