import type { Lack, MaltRow } from "../../core/year/malt-band.ts";
import type { Year } from "../../core/year/year.ts";
import { c, type Frame, NUMBERS } from "./frame.ts";
import { TYPE } from "./label-placement.ts";
import type { Step } from "./steps.ts";
import { textWidth, wrap } from "./text-width.ts";
import { LINE } from "./Words.tsx";

/** A malt with the line it stands on. */
export interface MaltPlace {
  readonly row: MaltRow;
  /** Its name as it stands left of the axis. */
  readonly lines: readonly string[];
  readonly ground: number;
  readonly height: number;
}

export interface MaltLayout {
  readonly top: number;
  readonly bottom: number;
  readonly places: readonly MaltPlace[];
  /** One scale for all malts and for what is lacking: units of a tonne. */
  readonly perTonne: number;
  /** Malts that are only bought share this line, where their orders stand. */
  readonly bought: { readonly rows: readonly MaltRow[]; readonly ground: number } | null;
}

const LEAST_HEIGHT = 9;

/** Where each malt's base line stands: all on one kilogram scale, none stacked on another. */
export function layoutMalt({ malt }: Year, frame: Frame, top: number, allMalts: number): MaltLayout {
  const made = malt.rows.filter(({ made, mostG, lacks }) =>
    made !== "bought" && (mostG > 0 || lacks.length > 0)
  );
  const bought = malt.rows.filter(({ made, orders }) => made === "bought" && orders.length > 0);
  const tonnes = made.reduce((sum, row) => sum + row.mostG / 1e6, 0);
  const perTonne = tonnes === 0 ? 10 : Math.min(20, Math.max(1.5, allMalts / tonnes));
  let ground = top;
  const places = made.map((row, index): MaltPlace => {
    const height = Math.max(LEAST_HEIGHT, row.mostG / 1e6 * perTonne);
    const above = made[index - 1];
    const hangs = above === undefined ? 8 : hanging(above, frame, perTonne);
    const lines = maltLines(row.name);
    ground = Math.max(
      ground + Math.max(hangs + height, lines.length * LINE + 2),
      top + 11 + lines.length * LINE,
    );
    return { row, lines, ground: Math.round(ground), height };
  });
  const last = made.at(-1);
  const end = last === undefined ? top : ground + hanging(last, frame, perTonne);
  const boughtGround = bought.length > 0 ? Math.round(end + 10) : null;
  return {
    top,
    bottom: boughtGround === null ? Math.max(end, top + 24) : boughtGround + 4,
    places,
    perTonne,
    bought: boughtGround === null ? null : { rows: bought, ground: boughtGround },
  };
}

/** A malt's name beside its figure, or where it is longer than that with its first words in a line above. */
function maltLines(name: string): string[] {
  const beside = wrap(name, [BESIDE], TYPE);
  return beside[0]?.endsWith("…") ? wrap(name, [NUMBERS, BESIDE], TYPE) : beside;
}

/** Width that a malt's figure leaves to its name. */
const BESIDE = 92;

/** Room below a base line: what is lacking hangs there with its words under it, and orders stand there. */
function hanging(row: MaltRow, frame: Frame, perTonne: number): number {
  const lacks = row.lacks.filter(({ firstDay }) => firstDay >= frame.fromDay && firstDay < frame.toDay);
  if (lacks.length > 0) {
    return deepest({ lacks }, perTonne) + 3 + Math.min(2, lackLines(lacks, frame)) * WORDS;
  }
  return row.orders.some(({ standing }) => standing !== "done") ? 15 : row.orders.length > 0 ? 12 : 5;
}

/** A line of words under a notch. */
const WORDS = 12;

/** How many lines the words of shortages need, each beginning where its shortage does. */
function lackLines(lacks: readonly Lack[], frame: Frame): number {
  const ends: number[] = [];
  const worst = Math.max(...lacks.map(({ massG }) => massG));
  for (const { firstDay, massG, text, weight } of lacks) {
    // All but the largest may be said in fewer words.
    const width = textWidth(massG === worst ? text : weight, TYPE, true) + (massG === worst ? 0 : 60);
    const left = Math.min(frame.x(firstDay), frame.right - width);
    const free = ends.findIndex((end) => end < left);
    ends[free === -1 ? ends.length : free] = left + width + 6;
  }
  return ends.length;
}

/** The least notch that can be seen at arm's length, however little is lacking. */
const LEAST_NOTCH = 3;

/** How deep a lacking weight hangs below the base line. */
export function notchDepth(massG: number, perTonne: number): number {
  return Math.max(LEAST_NOTCH, massG / 1e6 * perTonne);
}

/** Depth of the deepest notch, which grows through its episode. */
export function deepest({ lacks }: { readonly lacks: readonly Lack[] }, perTonne: number): number {
  return Math.max(0, ...lacks.map(({ massG }) => notchDepth(massG, perTonne)));
}

/** The upper edges of a malt on hand: ready home malt, bought malt on it, and on both what still rests. */
export function maltSeries(
  { row, ground }: MaltPlace,
  frame: Frame,
  perTonne: number,
  firstDay: number,
): { readonly ready: Step[]; readonly withBought: Step[]; readonly all: Step[] } {
  const series = (massG: (index: number) => number): Step[] => {
    const steps: Step[] = [];
    for (let day = frame.fromDay; day < frame.toDay; day++) {
      const y = c(ground - massG(day - firstDay) / 1e6 * perTonne);
      if (steps.at(-1)?.y !== y) steps.push({ x: frame.x(day), y });
    }
    return steps;
  };
  const home = (i: number) => row.readyHomeG[i] ?? 0;
  const ready = (i: number) => home(i) + (row.readyBoughtG[i] ?? 0);
  return {
    ready: series(home),
    withBought: series(ready),
    all: series((i) => ready(i) + (row.restingG[i] ?? 0)),
  };
}
