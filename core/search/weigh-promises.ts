import { G_PER_TONNE } from "../units.ts";
import { goodPart } from "./origin.ts";
import type { Use, Weighing } from "./weighing.ts";

/** Home share kept above a promise, and share kept above a demand, against rounding to whole grams. */
const MARGIN = 1e-5;
/** The same for a brew that rounding had left without it. */
const PADDED_MARGIN = 1e-4;
/** Price of a tonne of home-grown grain that a promise lacks: above any money, so that a row never makes the model unanswerable. */
const LACK_PRICE = 1e5;

/** Grist weight of a brew in tonnes, as columns: each use by its own extract, raw grain as a fixed weight. */
function gristOf(
  of: Weighing,
  usesOf: ReadonlyMap<number, Use[]>,
  demand: number,
): { uses: Use[]; rawT: number; rawHomeT: number; rawNamedT: number } {
  const { problem, evaluator, evaluation } = of;
  const from = evaluator.table.first[demand] as number;
  let rawT = 0;
  let rawHomeT = 0;
  let rawNamedT = 0;
  problem.demands[demand]?.lines.forEach((line, l) => {
    if (problem.materials[line.material]?.malt) return;
    rawT += line.bookMassG / G_PER_TONNE;
    if ((evaluation.homeG[from + l] as number) > 0) rawHomeT += line.bookMassG / G_PER_TONNE;
    if ((evaluation.namedG[from + l] as number) > 0) rawNamedT += line.bookMassG / G_PER_TONNE;
  });
  return { uses: usesOf.get(demand) ?? [], rawT, rawHomeT, rawNamedT };
}

/** Home-grown weight >= promise x grist weight, for each brew whose promise is kept. */
export function promiseRows(of: Weighing): void {
  const { problem, evaluation, model, made, kept } = of;
  const usesOf = Map.groupBy(of.uses, (use) => use.demand);
  for (const index of of.order) {
    const demand = problem.demands[index] as (typeof problem.demands)[number];
    if (demand.promise <= 0 || demand.kind !== "brew") continue;
    if (!of.chooses && evaluation.status[index] !== 2) continue;
    const { uses, rawT, rawHomeT } = gristOf(of, usesOf, index);
    const share = Math.min(1, demand.promise + (of.padded.has(index) ? PADDED_MARGIN : MARGIN));
    const entries = uses.map((
      use,
    ): [number, number] => [use.column, ((use.source.home ? 1 : 0) - share) / use.source.perG]);
    const raw = rawHomeT - share * rawT;
    // Twice the grist is more than a promise can ever lack.
    const whole = 2 * demand.lines.reduce((sum, line) => sum + line.bookMassG, 0) / G_PER_TONNE;
    if (!of.chooses) {
      const column = model.column(LACK_PRICE, 0, whole);
      of.shortPromises.push({ demand: index, column });
      model.row(-raw, Infinity, [...entries, [column, 1]]);
      continue;
    }
    // As much as can be missing when the promise is not kept; raw grain counts only if the brew is made.
    const most = share * (mostOtherT(of, uses) + rawT - rawHomeT);
    model.row(0, Infinity, [...entries, [made[index] as number, raw + most], [kept[index] as number, -most]]);
  }
}

/** The most that a brew's uses can weigh in malt that is not home-grown, tonnes. */
function mostOtherT({ model }: Weighing, uses: readonly Use[]): number {
  const ofLines = new Map<string, number>();
  for (const { line, day, source, column } of uses) {
    if (source.home) continue;
    const key = `${line} ${day}`;
    ofLines.set(key, Math.max(ofLines.get(key) ?? 0, (model.upper[column] as number) / source.perG));
  }
  const byDay = new Map<string, number>();
  for (const [key, massT] of ofLines) {
    const day = key.split(" ")[1] as string;
    byDay.set(day, (byDay.get(day) ?? 0) + massT);
  }
  return Math.max(0, ...byDay.values());
}

/** Weight from named lots or fields >= least share x grist weight, for every brew made whose beer asks for it. */
export function requireRows(of: Weighing): void {
  const { problem, model, evaluation, made } = of;
  const usesOf = Map.groupBy(of.uses, (use) => use.demand);
  for (const index of of.order) {
    const demand = problem.demands[index] as (typeof problem.demands)[number];
    if (!of.chooses && evaluation.status[index] === 0) continue;
    for (const asked of demand.requires) {
      const { uses, rawT, rawNamedT } = gristOf(of, usesOf, index);
      const share = Math.min(1, asked.leastShare + MARGIN);
      const entries = uses.map((
        { column, source },
      ): [number, number] => [column, (goodPart(asked, source.share) - share) / source.perG]);
      // Raw grain, a fixed weight, counts only if the brew is made.
      const raw = rawNamedT - share * rawT;
      if (of.chooses) model.row(0, Infinity, [...entries, [made[index] as number, raw]]);
      else model.row(-raw, Infinity, entries);
    }
  }
}
