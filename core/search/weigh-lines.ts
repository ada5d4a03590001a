import { G_PER_TONNE } from "../units.ts";
import { needOf } from "./lines.ts";
import type { Problem } from "./problem.ts";
import { chooseDays } from "./weigh-days.ts";
import { drawPool, isPool } from "./weigh-pools.ts";
import type { Source } from "./weigh-sources.ts";
import { PROMISES, TAIL, type Weighing } from "./weighing.ts";

/** Price of a tonne of extract that a line lacks, above that of any promise. */
const LINE_PRICE = 1e7;
/** Too small to matter in money; a price that grows with the square of the wait hands batches out first in, first out. */
const WAIT_PRICE = 2e-7;
/** A day's price on bought malt, a tonne: of plans that cost the same, the one that uses home malt first and orders late. */
const EARLY_PRICE = 0.02;

/** Share by which a brew is given more that rounding to grams had left without. */
const PAD_SHARE = 5e-5;

/**
 * Every line of a made brew is met in extract on its day, substitutes inside their limits; a brew is made on one day at most,
 * in a tank. Fills the made and kept columns, what lines may lack, and the choices of day and tank.
 */
export function meetLines(of: Weighing): void {
  const { problem, evaluator, evaluation, model, made, kept, goals, lacks, chosen } = of;
  const { table } = evaluator;
  if (of.whole) { for (const choice of chooseDays(of)) chosen.push(choice); }
  for (const index of of.order) {
    const demand = problem.demands[index] as Problem["demands"][number];
    if (!of.chooses && evaluation.status[index] === 0) continue;
    if (of.chooses) {
      made[index] = model.column(-demand.saleCents / 100, 0, 1, true);
      kept[index] = model.column(0, 0, 1, true);
      goals[demand.class < 4 ? demand.class - 1 : TAIL]?.push(made[index] as number);
      if (demand.kind === "brew" && demand.class < 4) goals[PROMISES]?.push(kept[index] as number);
      model.row(-Infinity, 0, [[kept[index] as number, 1], [made[index] as number, -1]]);
      if (of.whole) {
        const days = chosen.filter((one) => one.demand === index);
        model.row(0, 0, [
          [made[index] as number, -1],
          ...days.map((one): [number, number] => [one.column, 1]),
        ]);
      }
    }
    demand.lines.forEach((line, l) => {
      const at = (table.first[index] as number) + l;
      if (!problem.materials[line.material]?.malt) {
        // Raw grain is handed out before: without it the brew is not made.
        const lacksRaw = evaluation.status[index] === 0 ||
          evaluation.deficits.some((one) => one.line === at) &&
            (problem.materials[line.material]?.offers.length ?? 0) === 0;
        if (lacksRaw && of.chooses) model.row(0, 0, [[made[index] as number, 1]]);
        return;
      }
      // A brew asks for extract, a sale for weight.
      const byWeight = demand.kind === "sale";
      const wanted = (byWeight ? line.bookMassG : needOf(problem, line)) / G_PER_TONNE;
      const needT = of.padded.has(index) ? wanted * (1 + PAD_SHARE) : wanted;
      const share = (source: Source) => byWeight ? 1 / source.perG : 1;
      const replaced = line.substitutes.map((): [number, number][] => []);
      for (const on of of.daysOf(index)) {
        const entries: [number, number][] = [];
        const use = (material: number): [number, number][] => {
          const columns: [number, number][] = [];
          for (const source of of.sourcesFor(at, material)) {
            if (source.ready > on || source.last < on) continue;
            // A pool is shared out first in, first out, by itself.
            const wait = isPool(source) ? 0 : on - source.ready;
            const early = source.offer >= 0 && !of.whole ? EARLY_PRICE * (problem.endDay - on) : 0;
            const column = model.column(WAIT_PRICE * wait * wait + early, 0, needT / share(source));
            of.uses.push({ line: at, demand: index, day: on, source, column });
            columns.push([column, share(source)]);
          }
          entries.push(...columns);
          return columns;
        };
        use(line.material);
        line.substitutes.forEach((one, i) => {
          if (problem.materials[one.material]?.malt) {
            (replaced[i] as [number, number][]).push(...use(one.material));
          }
        });
        if (of.whole) {
          const here = chosen.filter((one) => one.demand === index && one.day === on);
          model.row(0, 0, [...entries, ...here.map((one): [number, number] => [one.column, -needT])]);
        } else if (of.chooses) model.row(0, 0, [...entries, [made[index] as number, -needT]]);
        else {
          // A line that cannot be met after all costs its brew, not the whole answer.
          const lack = model.column(LINE_PRICE, 0, needT);
          lacks.push({ demand: index, column: lack });
          model.row(needT, needT, [...entries, [lack, 1]]);
        }
      }
      line.substitutes.forEach((one, i) => {
        const entries = replaced[i] as [number, number][];
        if (of.chooses) {
          model.row(-Infinity, 0, [...entries, [made[index] as number, -one.mostShare * needT]]);
        } else model.row(-Infinity, one.mostShare * needT, entries);
      });
    });
  }
  drawSources(of);
}

/** No source gives more than it holds. */
function drawSources(of: Weighing): void {
  for (const [source, uses] of Map.groupBy(of.uses, (use) => use.source)) {
    if (isPool(source)) {
      drawPool(of, source, uses);
      continue;
    }
    const entries = uses.map(({ column }): [number, number] => [column, 1]);
    if (source.column >= 0) entries.push([source.column, -source.perColumn]);
    of.model.row(-Infinity, Math.max(source.column >= 0 ? -Infinity : 0, source.fixedT), entries);
  }
}
