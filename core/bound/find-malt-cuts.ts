import { type MaltCut, mostOf, sourcesIn, stocksOf, wantedOf } from "./malt-cuts.ts";
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
const LEAST_BY = 1e-4;
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
  readonly entries: number;
  readonly wholes: readonly Whole[];
  /** Sizes of its runs, and of the orders that the point places. */
  readonly sizes: readonly number[];
}

/** Window cuts of one set of malts that a point violates: the best of those that begin on each day. */
export function findMaltCuts(
  of: BoundModel,
  materials: readonly number[],
  homeOnly: boolean,
  values: Float64Array,
): Found<MaltCut>[] {
  const days = [...new Set(materials.flatMap((one) => of.pools[one]?.points ?? []))].sort((a, b) => a - b);
  const slices = days.map((day, i) => sliceOf(of, materials, homeOnly, day, days[i + 1] ?? FOREVER, values));
  return days.flatMap((_, first) => {
    const best = bestFrom(slices, first);
    return best
      ? [{
        by: best.by,
        cut: {
          kind: "malt" as const,
          materials,
          homeOnly,
          from: days[first] as number,
          to: days[best.last + 1] ?? FOREVER,
          step: best.step,
          loose: best.loose,
        },
      }]
      : [];
  });
}

function sliceOf(
  of: BoundModel,
  materials: readonly number[],
  homeOnly: boolean,
  from: number,
  to: number,
  values: Float64Array,
): Slice {
  const at = (column: number) => values[column] as number;
  const piece = wantedOf(of, { kind: "malt", materials, homeOnly, from, to, step: 1, loose: [] });
  const pools = materials.map((material) => of.pools[material] as Pool);
  const stock = pools.flatMap((pool) => stocksOf(of.demands, pool, homeOnly, from))
    .reduce((sum, column) => sum + at(column), 0);
  const rest = piece.rest.reduce((sum, [column, gives]) => sum + gives * at(column), 0) - stock;
  const unmade = piece.made.reduce((sum, [column, need]) => sum + need * (1 - at(column)), 0);
  const sources = pools.flatMap((pool) => sourcesIn(pool, from, to)).filter((source) =>
    source.whole >= 0 && source.terms.some((term) => term.home || !homeOnly)
  );
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
    entries: piece.rest.length + piece.made.length + sources.length,
    wholes: wholes.filter(({ count, weight }) => count > 1e-9 || weight > 1e-9),
    sizes: sources.flatMap((source) =>
      source.offer < 0 || at(source.whole) > 1e-6 ? [mostOf(source, homeOnly)] : []
    ),
  };
}

/** The window from a slice on whose cut is violated most for its length. */
function bestFrom(
  slices: readonly Slice[],
  first: number,
): { by: number; last: number; step: number; loose: number[] } | null {
  let wanted = 0, rest = (slices[first] as Slice).stock, entries = 0;
  const wholes: Whole[] = [];
  const sizes: number[] = [];
  let best: { by: number; last: number; step: number; wholes: number } | null = null;
  for (let last = first; last < Math.min(slices.length, first + LONGEST); last++) {
    const slice = slices[last] as Slice;
    wanted += slice.wanted;
    rest += slice.rest;
    entries += slice.entries;
    wholes.push(...slice.wholes);
    for (const size of slice.sizes) {
      const isNew = size > 0 && sizes.every((one) => Math.abs(one - size) > 1e-6);
      if (isNew && sizes.length < MOST_STEPS) sizes.push(size);
    }
    if (slice.wanted === 0 || wanted <= 1e-6) continue;
    for (const step of [...sizes, wanted * 1.0001]) {
      const left = remainderOf(wanted, step);
      if (!left || rest >= step * left.remainder * left.steps) continue;
      const asked = step * left.remainder * left.steps;
      let sum = rest;
      for (let i = 0; i < wholes.length && sum < asked; i++) {
        const one = wholes[i] as Whole;
        sum += Math.min(one.weight, countedAs(one, step, left));
      }
      const by = (asked - sum) / Math.sqrt(entries);
      if (by > Math.max(LEAST_BY, best?.by ?? 0)) best = { by, last, step, wholes: wholes.length };
    }
  }
  if (!best) return null;
  const window = slices.slice(first, best.last + 1);
  const left = remainderOf(window.reduce((sum, slice) => sum + slice.wanted, 0), best.step);
  const { step } = best;
  const loose = left
    ? wholes.slice(0, best.wholes).filter((one) => one.weight < countedAs(one, step, left))
    : [];
  return { by: best.by, last: best.last, step, loose: loose.map((one) => one.column) };
}

/** What a run or order counts for in a cut when it is counted whole. */
function countedAs(
  one: Whole,
  step: number,
  { remainder, steps }: { remainder: number; steps: number },
): number {
  return step * remainder * stepsOf(one.size, step, remainder, steps) * one.count;
}
