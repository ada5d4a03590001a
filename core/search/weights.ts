import type { Highs } from "highs";
import { LinearModel, solveLinear } from "../solve/linear.ts";
import type { RunChoice } from "./candidate.ts";
import type { Evaluation, Evaluator } from "./evaluate.ts";
import { mostDrawnFor } from "./loads.ts";
import type { Problem } from "./problem.ts";
import { heldSupplies, outputsOf } from "./supply.ts";

/** Exact weights for a chosen set of runs and brew days. Extract in grams; of raw grain, weight. */
export interface Weights {
  drawG: number[];
  draw2G: number[];
  /** Home-grown extract of its own material for each line. */
  home: Float64Array;
  /** Extract from substitutes, line by line. */
  substituted: { line: number; material: number; home: boolean; extractG: number }[];
  /** Extract to be bought, by arrival day, with the last day on which some of it is used. */
  purchases: Need[];
}

interface Need {
  material: number;
  day: number;
  lastUse: number;
  extractG: number;
}

const T = 1e6;
/** Extract a batch is thought to give less, so that whole grams never run short. */
const ROUNDING_G = 20;
/** Home share kept above a promise against rounding. */
const SHARE_MARGIN = 2e-5;
/** Arrival days tried for each material. */
const ARRIVALS = 60;

/** A line's use of a pool: its brew day and its column. */
interface Use {
  day: number;
  column: number;
}

/** A source of extract of one material in the model: constant plus a multiple of a run's draw. */
interface Source {
  ready: number;
  last: number;
  fixedT: number;
  column: number;
  perDraw: number;
  perG: number;
}

/**
 * The allocation LP. Given which runs are made when, which brews are made when and which promises are kept, it chooses loads
 * inside the vessels' limits, who gets home malt, substitutes inside their limits, and what is bought when; it minimises
 * run costs by weight, purchases, the reserve's price and the grain used up. Null when it has no answer.
 */
export function weigh(
  highs: Highs,
  problem: Problem,
  evaluator: Evaluator,
  runs: readonly RunChoice[],
  evaluation: Evaluation,
  day: Int32Array,
  cutG: Float64Array,
): Weights | null {
  const { table, markets } = evaluator;
  const model = new LinearModel();
  const { loads, status } = evaluation;

  // Loads. A lot's grain is worth what is paid for its surplus.
  const worth = surplusWorth(problem, evaluation);
  const lotRows = problem.lots.map((): [number, number][] => []);
  const columns = runs.map((run, i) => {
    const made = problem.materials[run.slot.malt]?.made;
    const drawn = loads.drawG[i] as number;
    if (drawn <= 0 || run.fixed || !made || (loads.draw2G[i] as number) > 0) return -1;
    const crop = problem.lots[run.lot]?.crop ?? 0;
    const keep = 1 - made.screeningLoss;
    const least = (run.slot.leastG[crop] as number) / keep + 4;
    const most = mostDrawnFor(run.slot.greatestG[crop] as number, made.screeningLoss);
    const cost = made.perTonneCents * keep / 100 + (worth[run.lot] as number) * T / 100;
    const column = model.column(cost, Math.min(least, most) / T, most / T);
    (lotRows[run.lot] as [number, number][]).push([column, 1]);
    return column;
  });
  const lotLeft = problem.lots.map((lot) => lot.totalG - lot.firmG - (cutG[lot.index] as number));
  runs.forEach((run, i) => {
    if (run.fixed?.standing === "booked") {
      for (const draw of run.fixed.draws) lotLeft[draw.lot] = (lotLeft[draw.lot] as number) - draw.massG;
    }
    if (run.fixed || columns[i] !== -1) return;
    lotLeft[run.lot] = (lotLeft[run.lot] as number) - (loads.drawG[i] as number);
    if ((loads.draw2G[i] as number) > 0) {
      lotLeft[run.lot2] = (lotLeft[run.lot2] as number) - (loads.draw2G[i] as number);
    }
  });
  for (const one of evaluation.rawWants) lotLeft[one.lot] = (lotLeft[one.lot] as number) - one.massG;
  for (const lot of problem.lots) {
    const entries = lotRows[lot.index] as [number, number][];
    if (entries.length > 0) model.row(-Infinity, Math.max(0, lotLeft[lot.index] as number) / T, entries);
  }

  const homeSources = sourcesOf(problem, runs, evaluation, columns, true);
  const heldSources = sourcesOf(problem, runs, evaluation, columns, false);

  // Uses, by pool. Each entry: the line's day, its column.
  const pool = () => problem.materials.map((): Use[] => []);
  const homeUse = pool();
  const boughtUse = pool();
  const homeColumn = new Int32Array(table.length).fill(-1);
  const substitutes: { line: number; material: number; home: boolean; column: number }[] = [];
  for (const demandIndex of evaluation.order) {
    if (status[demandIndex] === 0) continue;
    const demand = problem.demands[demandIndex] as Problem["demands"][number];
    const on = day[demandIndex] as number;
    const from = table.first[demandIndex] as number;
    const share: [number, number][] = [];
    let rawHome = 0;
    demand.lines.forEach((line, l) => {
      const index = from + l;
      const material = problem.materials[line.material];
      if (material?.malt === null) {
        if ((evaluator.server.home[index] as number) > 0) rawHome += line.bookMassG;
        return;
      }
      const needT = (table.need[index] as number) / T;
      const perG = material?.extract || 1;
      const entries: [number, number][] = [];
      const use = (m: number, home: boolean, most: number): number => {
        const column = model.column(0, 0, most);
        ((home ? homeUse : boughtUse)[m] as Use[]).push({ day: on, column });
        entries.push([column, 1]);
        return column;
      };
      homeColumn[index] = use(line.material, true, needT);
      use(line.material, false, needT);
      share.push([homeColumn[index] as number, 1 / perG]);
      for (const one of line.substitutes) {
        const of = problem.materials[one.material];
        if (!of?.malt) continue;
        const both: [number, number][] = [];
        for (const home of [true, false]) {
          const column = use(one.material, home, needT);
          both.push([column, 1]);
          substitutes.push({ line: index, material: one.material, home, column });
          if (home) share.push([column, 1 / of.extract]);
        }
        model.row(-Infinity, one.mostShare * needT, both);
      }
      model.row(needT, needT, entries);
    });
    if (status[demandIndex] === 2 && demand.promise > 0) {
      const gristT = demand.lines.reduce((sum, line) => sum + line.bookMassG, 0) / T;
      model.row((demand.promise + SHARE_MARGIN) * gristT - rawHome / T, Infinity, share);
    }
  }

  // Purchases: continuous amounts on the last useful arrival day before each use; whole packs come later.
  const purchases: { material: number; day: number; column: number }[] = [];
  const boughtSources = heldSources.map((list) => [...list]);
  for (const material of problem.materials) {
    const uses = boughtUse[material.index] as Use[];
    if (!material.malt || uses.length === 0) continue;
    for (
      const arrival of usefulArrivals(
        material.offers.flatMap((offer) => offer.arrivals),
        uses.map((one) => one.day),
      )
    ) {
      const column = model.column((markets[material.index]?.centsPerExtractG ?? 0) * T / 100, 0, Infinity);
      purchases.push({ material: material.index, day: arrival, column });
      const shelf = Math.max(...material.offers.map((offer) => offer.shelfDays));
      (boughtSources[material.index] as Source[]).push({
        ready: arrival,
        last: arrival + shelf,
        fixedT: 0,
        column,
        perDraw: 1,
        perG: material.offers[0]?.extract ?? 1,
      });
    }
  }

  for (const material of problem.materials) {
    limitUses(
      model,
      homeSources[material.index] as Source[],
      homeUse[material.index] as Use[],
    );
    limitUses(
      model,
      boughtSources[material.index] as Source[],
      boughtUse[material.index] as Use[],
    );
    if (material.floorG > 0) {
      const sources = [
        ...homeSources[material.index] as Source[],
        ...boughtSources[material.index] as Source[],
      ];
      const uses = [
        ...homeUse[material.index] as Use[],
        ...boughtUse[material.index] as Use[],
      ];
      reserveRows(model, problem, material.floorG, material.extract, sources, uses);
    }
  }

  const answer = solveLinear(highs, model, { seconds: 30 });
  if (!answer.values) return null;
  const value = (column: number) =>
    column < 0 ? 0 : Math.max(0, (answer.values as Float64Array)[column] as number) * T;
  const home = new Float64Array(table.length);
  for (let line = 0; line < table.length; line++) home[line] = value(homeColumn[line] as number);
  return {
    drawG: runs.map((_, i) =>
      columns[i] === -1 ? loads.drawG[i] as number : Math.round(value(columns[i] as number))
    ),
    draw2G: [...loads.draw2G],
    home,
    substituted: substitutes.map((one) => ({ ...one, extractG: value(one.column) })).filter((one) =>
      one.extractG > 1
    ),
    purchases: purchases.map((one) => ({
      material: one.material,
      day: one.day,
      lastUse: lastUseOf(
        boughtSources[one.material] as Source[],
        boughtUse[one.material] as Use[],
        value,
        one.column,
      ),
      extractG: value(one.column),
    })).filter((one) => one.extractG > 1),
  };
}

/** Walks bought malt through its uses, first out what spoils first, and returns the last day the purchase is drawn on. */
function lastUseOf(
  sources: readonly Source[],
  uses: readonly Use[],
  value: (column: number) => number,
  column: number,
): number {
  const left = sources.map((one) => ({
    ...one,
    extractG: one.fixedT * T + (one.column < 0 ? 0 : value(one.column)),
  }))
    .sort((a, b) => a.last - b.last || a.ready - b.ready);
  let lastUse = -Infinity;
  for (const use of [...uses].sort((a, b) => a.day - b.day)) {
    let open = value(use.column);
    for (const one of left) {
      if (open <= 1) break;
      if (one.ready > use.day || one.last < use.day || one.extractG <= 0) continue;
      const part = Math.min(open, one.extractG);
      one.extractG -= part;
      open -= part;
      if (one.column === column) lastUse = use.day;
    }
  }
  return lastUse;
}

/** Cents a gram of each lot's grain would bring if it were not malted. */
function surplusWorth(problem: Problem, evaluation: Evaluation): number[] {
  return problem.lots.map((lot) => {
    if (lot.endCentsPerG > 0) return lot.endCentsPerG;
    const load = evaluation.stowage.loads.find((one) => one.items.some((item) => item.lot === lot.index));
    return load ? (problem.pickups[load.pickup]?.perTonneCents ?? 0) / T : 0;
  });
}

/** Batches of the book and of the runs, as sources of one pool (home-grown or not), by material. */
function sourcesOf(
  problem: Problem,
  runs: readonly RunChoice[],
  evaluation: Evaluation,
  columns: readonly number[],
  home: boolean,
): Source[][] {
  const sources: Source[][] = heldSupplies(problem).map((list) =>
    list.filter((one) => one.home === home).map((one) => ({
      ready: one.ready,
      last: one.last,
      fixedT: Math.max(0, one.extractG - ROUNDING_G) / T,
      column: -1,
      perDraw: 0,
      perG: one.perG,
    }))
  );
  runs.forEach((run, i) => {
    const lot = problem.lots[run.lot];
    const made = problem.materials[run.slot.malt]?.made;
    const drawn = evaluation.loads.drawG[i] as number;
    if (!lot || !made || drawn <= 0 || lot.home !== home) return;
    for (const { material, share } of outputsOf(problem, run.slot.malt)) {
      const malt = problem.materials[material]?.malt;
      if (!malt || share <= 0) continue;
      const perG = (lot.lot.maltExtractDb ?? malt.extractCoarseDb) * (1 - malt.maltMoistureWb);
      const column = columns[i] as number;
      const maltPerDraw = evaluation.maltG(i) / (drawn + (evaluation.loads.draw2G[i] as number));
      sources[material]?.push({
        ready: run.slot.stripDay + (problem.materials[material]?.restDays ?? 0),
        last: run.slot.stripDay + malt.shelfLifeDays,
        fixedT: (column < 0 ? evaluation.maltG(i) * share * perG : 0) / T - ROUNDING_G / T,
        column,
        perDraw: column < 0 ? 0 : maltPerDraw * share * perG,
        perG,
      });
    }
  });
  return sources;
}

/** The last arrival day on or before each use, thinned evenly when there are many. */
function usefulArrivals(arrivals: readonly number[], uses: readonly number[]): number[] {
  const sorted = [...new Set(arrivals)].sort((a, b) => a - b);
  const useful = new Set<number>();
  let at = 0;
  for (const use of [...uses].sort((a, b) => a - b)) {
    while (at < sorted.length && (sorted[at] as number) <= use) at++;
    if (at > 0) useful.add(sorted[at - 1] as number);
  }
  const list = [...useful];
  if (list.length <= ARRIVALS) return list;
  const step = list.length / ARRIVALS;
  return Array.from({ length: ARRIVALS }, (_, i) => list[Math.floor(i * step)] as number);
}

/**
 * Uses up to any day, counted from just after any batch's last day, take no more than the batches that were ready by then and
 * still good after it: the condition under which first-in-first-out can serve them all.
 */
function limitUses(
  model: LinearModel,
  sources: readonly Source[],
  uses: readonly Use[],
): void {
  if (uses.length === 0) return;
  const sorted = [...uses].sort((a, b) => a.day - b.day);
  const lastUse = (sorted[sorted.length - 1] as { day: number }).day;
  const ends = [-Infinity, ...new Set(sources.map((one) => one.last).filter((last) => last < lastUse))].sort((
    a,
    b,
  ) => a - b);
  for (const end of ends) {
    const good = sources.filter((one) => one.last > end).sort((a, b) => a.ready - b.ready);
    // Stock variables keep the rows short: stock + used = stock before + came in.
    let stock = -1;
    let next = 0;
    let i = sorted.findIndex((use) => use.day > end);
    if (i < 0) continue;
    while (i < sorted.length) {
      const { day } = sorted[i] as { day: number };
      const entries: [number, number][] = [];
      let fixed = 0;
      while (next < good.length && (good[next] as Source).ready <= day) {
        const source = good[next] as Source;
        fixed += source.fixedT;
        if (source.column >= 0) entries.push([source.column, source.perDraw]);
        next++;
      }
      if (stock >= 0) entries.push([stock, 1]);
      while (i < sorted.length && (sorted[i] as { day: number }).day === day) {
        entries.push([(sorted[i] as { column: number }).column, -1]);
        i++;
      }
      const after = model.column(0, 0, Infinity);
      entries.push([after, -1]);
      // What is not carried on is simply left over, so the stock may be less than the balance, never more.
      model.row(-fixed, Infinity, entries);
      stock = after;
    }
  }
}

/** Prices every tonne-day of ready stock under the floor inside the horizon. Stock is weighed at the malt's book extract. */
function reserveRows(
  model: LinearModel,
  problem: Problem,
  floorG: number,
  perG: number,
  sources: readonly Source[],
  uses: readonly Use[],
): void {
  const price = problem.season.costs.reservePerTonneDayCents / 100;
  if (price === 0 || perG === 0) return;
  const first = problem.asOfDay + 1;
  const end = problem.horizonDay + 1;
  const days = new Set<number>([first]);
  for (const source of sources) if (source.ready > first && source.ready < end) days.add(source.ready);
  for (const use of uses) if (use.day > first && use.day < end) days.add(use.day);
  const marks = [...days].sort((a, b) => a - b);
  const incoming = [...sources].sort((a, b) => a.ready - b.ready);
  const outgoing = [...uses].sort((a, b) => a.day - b.day);
  let inAt = 0;
  let outAt = 0;
  let stock = -1;
  marks.forEach((mark, i) => {
    const until = marks[i + 1] ?? end;
    const entries: [number, number][] = [];
    let fixed = 0;
    while (inAt < incoming.length && (incoming[inAt] as Source).ready <= mark) {
      const source = incoming[inAt] as Source;
      fixed += source.fixedT;
      if (source.column >= 0) entries.push([source.column, source.perDraw]);
      inAt++;
    }
    while (outAt < outgoing.length && (outgoing[outAt] as { day: number }).day <= mark) {
      entries.push([(outgoing[outAt] as { column: number }).column, -1]);
      outAt++;
    }
    if (stock >= 0) entries.push([stock, 1]);
    const after = model.column(0, 0, Infinity);
    entries.push([after, -1]);
    model.row(-fixed, -fixed, entries);
    const under = model.column(price * (until - mark), 0, Infinity);
    model.row(floorG / T, Infinity, [[under, 1], [after, 1 / perG]]);
    stock = after;
  });
}
