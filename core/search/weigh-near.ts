import type { LinearModel } from "../solve/linear.ts";
import { G_PER_TONNE } from "../units.ts";
import type { RunChoice } from "./candidate.ts";
import { needOf } from "./lines.ts";
import type { Source } from "./weigh-sources.ts";
import type { Weighing } from "./weighing.ts";

/** What an accepted plan did, where weights are to stay near it: a model of a few thousand columns fewer, and loads that do not stir for nothing. */
export interface Near {
  /** Grams that the accepted plan draws for a run, by `runKey`; of two lots those of the second. */
  readonly drawG: ReadonlyMap<string, number>;
  /** What the accepted plan makes, by id: 1 made, 2 with its promise held. */
  readonly made: ReadonlyMap<string, number>;
  /** Stated price of a changed run, cents. */
  readonly changedCents: number;
  /** Batches before and after the one in turn that a line may draw from. */
  readonly reach: number;
  /** A load that differs by no more than this share is the same load. */
  readonly sameLoad: number;
}

/** A run's slot and lots, as a key. */
export function runKey({ slot, lot, lot2 }: RunChoice): string {
  return `${slot.index}.${lot}.${lot2}`;
}

/** Price of a tonne more or less of a load that counts as the same: enough to choose between loads that cost the same. */
const STIR_PRICE = 0.5;
/** Share of a load by which it has to change to cost the whole price of a changed run. */
const WHOLE_CHANGE = 0.25;

/** load = kept + more − less: within the same load nearly free, beyond it at a slope up to the price of a changed run. */
export function keepLoad(model: LinearModel, column: number, keptG: number, near: Near): void {
  const keptT = keptG / G_PER_TONNE;
  // A hair less than the limit, as loads are rounded to grams.
  const sameT = keptT * near.sameLoad * 0.99;
  const slope = near.changedCents / 100 / (WHOLE_CHANGE * keptT) + STIR_PRICE;
  const most = (model.upper[column] as number) + keptT;
  const steps = [[STIR_PRICE, sameT], [slope, most]] as const;
  model.row(keptT, keptT, [
    [column, 1],
    ...steps.map(([price, upTo]): [number, number] => [model.column(price, 0, upTo), -1]),
    ...steps.map(([price, upTo]): [number, number] => [model.column(price, 0, upTo), 1]),
  ]);
}

/** Latest arrivals of an offer that a use may be bought with. */
const ARRIVALS = 2;

/**
 * The sources each line may draw from, by line and material: batches around the one whose turn it is, first in, first out, and the
 * last arrivals of each offer. A demand that asks for an origin may draw from all.
 */
export function sourcesNear(
  of: Weighing,
  reach: number,
): (line: number, material: number) => readonly Source[] {
  const { problem, evaluator, evaluation } = of;
  const known = new Map<string, Source[]>();
  const made = problem.materials.map(({ index }) =>
    of.sources.filter((source) => source.material === index && source.offer < 0)
      .sort((a, b) => a.ready - b.ready)
  );
  const bought = problem.materials.map(({ index }) =>
    Map.groupBy(
      of.sources.filter((source) => source.material === index && source.offer >= 0),
      (source) => source.offer,
    )
  );
  const leftT = new Map(made.flat().map((source) => [source, expectedT(of, source)]));
  for (const index of of.order) {
    if (evaluation.status[index] === 0) continue;
    const demand = problem.demands[index] as (typeof problem.demands)[number];
    const on = of.daysOf(index)[0] ?? -1;
    demand.lines.forEach((line, l) => {
      const at = (evaluator.table.first[index] as number) + l;
      for (const material of [line.material, ...line.substitutes.map((one) => one.material)]) {
        const open = (made[material] ?? []).filter((source) => source.ready <= on && source.last >= on);
        const needT = material === line.material ? needOf(problem, line) / G_PER_TONNE : 0;
        const [first, last] = takeInTurn(open, needT, leftT);
        const near = demand.requires.length > 0
          ? open
          : open.slice(Math.max(0, first - reach), last + reach + 1);
        for (const offers of bought[material]?.values() ?? []) {
          near.push(...offers.filter((source) => source.ready <= on && source.last >= on).slice(-ARRIVALS));
        }
        known.set(`${at} ${material}`, near);
      }
    });
  }
  return (line, material) => known.get(`${line} ${material}`) ?? [];
}

/** Takes a need from the sources in turn, and returns the first and the last of them that it came to. */
function takeInTurn(
  open: readonly Source[],
  needT: number,
  leftT: Map<Source, number>,
): [first: number, last: number] {
  let first = open.findIndex((source) => (leftT.get(source) as number) > 0);
  if (first < 0) first = Math.max(0, open.length - 1);
  let last = first;
  let left = needT;
  for (let at = first; at < open.length && left > 0; at++) {
    const source = open[at] as Source;
    const takenT = Math.min(left, leftT.get(source) as number);
    if (takenT <= 0) continue;
    leftT.set(source, (leftT.get(source) as number) - takenT);
    left -= takenT;
    last = at;
  }
  return [first, last];
}

/** What a source will hold: a run's with the load the accepted plan gave it, or else the search. */
function expectedT(of: Weighing, source: Source): number {
  const given = Math.max(0, source.fixedT);
  const run = of.runs[source.run];
  if (source.column < 0 || run === undefined) return given;
  const { loads } = of.evaluation;
  const second = loads.draw2G[source.run] as number;
  const loadG = of.near?.drawG.get(runKey(run)) ?? (second > 0 ? second : loads.drawG[source.run] as number);
  return given + source.perColumn * loadG / G_PER_TONNE;
}
