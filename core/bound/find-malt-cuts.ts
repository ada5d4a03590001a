import { askedBy, type MaltCut, mostOf, sourcesIn, stocksOf, wantedOf } from "./malt-cuts.ts";
import type { Pool } from "./malt.ts";
import type { BoundModel } from "./model.ts";
import { remainderOf, stepsOf } from "./rounding.ts";

/** A cut that the point violates, and how far, for each unit of the row's length. */
export interface Found<C> {
  readonly cut: C;
  readonly by: number;
}

/** Windows of more points than this are not looked at: longer than a season of the size planned for. */
const LONGEST = 200;
/** Sizes of runs and orders tried as steps in one window. */
const MOST_STEPS = 10;
/** Windows from one day on that are cut at a time. */
const MOST_WINDOWS = 3;
const LEAST_BY = 1e-4;
/** A demand that gets less of its need than this share from the malts of a cut is left out of it. */
const LEAST_NET = 0.5;
/** A day after every plan; a whole number, so that a cut can be written down. */
const FOREVER = 1e9;

/** A run or order that the point makes some of. */
interface Whole {
  readonly column: number;
  readonly size: number;
  readonly count: number;
  readonly weight: number;
}

/** What stands between two points of time, summed up at the point that is to be cut off. */
interface Slice {
  /** Stock on its first morning. */
  readonly stock: number;
  /** What is had from elsewhere or not made. */
  readonly rest: number;
  readonly wanted: number;
  /** What is asked of the malts, whatever is held. */
  readonly asked: number;
  readonly entries: number;
  readonly wholes: readonly Whole[];
  /** Sizes of its runs, and of the orders that the point places. */
  readonly sizes: readonly number[];
}

/** Window cuts of one set of malts that a point violates: the best of those that begin on each day, with all demands and with those that serve best. */
export function findMaltCuts(
  of: BoundModel,
  materials: readonly number[],
  homeOnly: boolean,
  values: Float64Array,
): Found<MaltCut>[] {
  const all = { materials, homeOnly, without: [], kept: [] };
  const chosen = { ...all, ...chooseDemands(of, materials, homeOnly, values) };
  const isSame = chosen.without.length + chosen.kept.length === 0;
  return [...findChosen(of, all, values), ...(isSame ? [] : findChosen(of, chosen, values))];
}

/** What a cut is of, before its window and its step are chosen. */
type Choice = Pick<MaltCut, "materials" | "homeOnly" | "without" | "kept">;

function findChosen(of: BoundModel, choice: Choice, values: Float64Array): Found<MaltCut>[] {
  const points = choice.materials.flatMap((one) => of.pools[one]?.points ?? []);
  const days = [...new Set(points)].sort((a, b) => a - b);
  const slices = days.map((day, i) => sliceOf(of, choice, day, days[i + 1] ?? FOREVER, values));
  return days.flatMap((from, first) =>
    bestFrom(slices, first).map((best) => cutOf(of, choice, from, days[best.last + 1] ?? FOREVER, best))
  );
}

function cutOf(of: BoundModel, choice: Choice, from: number, to: number, best: Window): Found<MaltCut> {
  const inside = (index: number) => {
    const latest = of.demands[index]?.latest ?? -Infinity;
    return latest >= from && latest < to;
  };
  return {
    by: best.by,
    cut: {
      kind: "malt" as const,
      ...choice,
      from,
      to,
      step: best.step,
      loose: best.loose,
      without: choice.without.filter(inside),
      kept: choice.kept.filter(inside),
    },
  };
}

/** A window's last slice, and the cut of it. */
interface Window {
  readonly by: number;
  readonly last: number;
  readonly step: number;
  readonly loose: readonly number[];
}

/** Which demands a cut of these malts does better without, or with what their promise asks: so that it wants the most that the point does not give. */
function chooseDemands(
  { demands }: BoundModel,
  materials: readonly number[],
  homeOnly: boolean,
  values: Float64Array,
): Pick<MaltCut, "without" | "kept"> {
  const at = (column: number) => values[column] as number;
  const without: number[] = [], kept: number[] = [];
  for (const demand of demands) {
    const net = (byPromise: boolean) => {
      const { wanted, rest } = askedBy(demand, materials, homeOnly, byPromise);
      const column = byPromise ? demand.kept : demand.made;
      return wanted <= 0
        ? 0
        : (wanted * at(column) - rest.reduce((sum, [use, gives]) => sum + gives * at(use), 0)) / wanted;
    };
    const byMade = net(false), byKept = demand.kept >= 0 && demand.kept !== demand.made ? net(true) : 0;
    const needT = askedBy(demand, materials, homeOnly, false).wanted;
    if (needT <= 0) continue;
    const keptT = byKept > 0 ? askedBy(demand, materials, homeOnly, true).wanted : 0;
    if (byKept >= LEAST_NET && byKept * keptT > byMade * needT) kept.push(demand.demand.index);
    else if (byMade < LEAST_NET) without.push(demand.demand.index);
  }
  return { without, kept };
}

function sliceOf(
  of: BoundModel,
  choice: Choice,
  from: number,
  to: number,
  values: Float64Array,
): Slice {
  const at = (column: number) => values[column] as number;
  const piece = wantedOf(of, { kind: "malt", ...choice, from, to, step: 1, loose: [] });
  const { materials, homeOnly } = choice;
  const pools = materials.map((material) => of.pools[material] as Pool);
  const stock = pools.flatMap((pool) => stocksOf(of.demands, pool, homeOnly, from))
    .reduce((sum, column) => sum + at(column), 0);
  const rest = piece.rest.reduce((sum, [column, gives]) => sum + gives * at(column), 0) - stock;
  const unmade = piece.made.reduce((sum, [column, need]) => sum + need * (1 - at(column)), 0);
  const sources = pools.flatMap((pool) => sourcesIn(pool, from, to).map(({ source }) => source)).filter((
    source,
  ) => source.whole >= 0 && source.terms.some((term) => term.home || !homeOnly));
  const wholes = sources.map((source): Whole => ({
    column: source.whole,
    size: mostOf(source, homeOnly),
    count: at(source.whole),
    weight: source.terms.reduce(
      (sum, term) => term.home || !homeOnly ? sum + term.gives * at(term.column) : sum,
      0,
    ),
  }));
  return {
    stock,
    rest: Math.max(0, rest) + Math.max(0, unmade),
    wanted: piece.wanted,
    asked: piece.made.reduce((sum, [, need]) => sum + need, 0),
    entries: piece.rest.length + piece.made.length + sources.length,
    wholes: wholes.filter(({ count, weight }) => count > 1e-9 || weight > 1e-9),
    sizes: sources.flatMap((source) =>
      source.offer < 0 || at(source.whole) > 1e-6 ? [mostOf(source, homeOnly)] : []
    ),
  };
}

/** The windows from a slice on whose cuts are violated most for their length, each with its best step. */
function bestFrom(
  slices: readonly Slice[],
  first: number,
): Window[] {
  let wanted = 0, rest = (slices[first] as Slice).stock, entries = 0;
  const wholes: Whole[] = [];
  // What is asked before the slice of each whole, and in all so far: no more of one counts than is asked behind it.
  const before: number[] = [];
  let askedT = 0;
  const sizes: number[] = [];
  const found: { by: number; last: number; step: number; wholes: number; wanted: number; askedT: number }[] =
    [];
  for (let last = first; last < Math.min(slices.length, first + LONGEST); last++) {
    const slice = slices[last] as Slice;
    wanted += slice.wanted;
    rest += slice.rest;
    entries += slice.entries;
    for (const one of slice.wholes) {
      wholes.push(one);
      before.push(askedT);
    }
    askedT += slice.asked;
    for (const size of slice.sizes) {
      const isNew = size > 0 && sizes.every((one) => Math.abs(one - size) > 1e-6);
      if (isNew && sizes.length < MOST_STEPS) sizes.push(size);
    }
    if (slice.wanted === 0 || wanted <= 1e-6) continue;
    let best = 0, bestStep = 0;
    for (const step of [...sizes, wanted * 1.0001]) {
      const left = remainderOf(wanted, step);
      if (!left || rest >= step * left.remainder * left.steps) continue;
      const asked = step * left.remainder * left.steps;
      let sum = rest;
      for (let i = 0; i < wholes.length && sum < asked; i++) {
        const one = wholes[i] as Whole;
        sum += Math.min(one.weight, countedAs(one, askedT - (before[i] as number), step, left));
      }
      const by = (asked - sum) / Math.sqrt(entries);
      if (by > Math.max(LEAST_BY, best)) {
        best = by;
        bestStep = step;
      }
    }
    if (best > 0) found.push({ by: best, last, step: bestStep, wholes: wholes.length, wanted, askedT });
  }
  const chosen = found.sort((a, b) => b.by - a.by).slice(0, MOST_WINDOWS);
  return chosen.map(({ by, last, step, wholes: count, wanted: wantedT, askedT: askedIn }) => {
    const left = remainderOf(wantedT, step);
    const loose = left
      ? wholes.slice(0, count).filter((one, i) =>
        one.weight < countedAs(one, askedIn - (before[i] as number), step, left)
      )
      : [];
    return { by, last, step, loose: loose.map((one) => one.column) };
  });
}

/** What a run or order counts for in a cut when it is counted whole; `mostT` is what is asked behind it. */
function countedAs(
  one: Whole,
  mostT: number,
  step: number,
  { remainder, steps }: { remainder: number; steps: number },
): number {
  return step * remainder * stepsOf(Math.min(one.size, mostT), step, remainder, steps) * one.count;
}
