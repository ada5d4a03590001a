import type { DemandColumns } from "./brews.ts";
import type { BoundModel } from "./model.ts";
import { pointAt, type Pool } from "./malt.ts";
import { type CutRow, remainderOf, rounded, stepsOf, type Wanted } from "./rounding.ts";
import type { Source } from "./source.ts";

/**
 * A window cut: what demands that end in `from` to before `to` ask of some malts together comes from stock, from what comes in in the window,
 * or from elsewhere. `homeOnly` counts home-grown malt alone, and other malt as elsewhere. Runs and orders whose count columns are in
 * `loose` count by weight, the others by the whole run or order, at its greatest.
 */
export interface MaltCut {
  readonly kind: "malt";
  readonly materials: readonly number[];
  readonly homeOnly: boolean;
  readonly from: number;
  readonly to: number;
  readonly step: number;
  readonly loose: readonly number[];
}

/** The row of a window cut; null where rounding gives none. */
export function maltRow(of: BoundModel, cut: MaltCut): CutRow | null {
  const wanted = wantedOf(of, cut);
  return rounded(wanted, cut.step);
}

function wantedOf({ pools, demands }: BoundModel, cut: MaltCut): Wanted {
  const { materials, homeOnly, from, to } = cut;
  const wholes: [number, number][] = [], rest: [number, number][] = [], made: [number, number][] = [];
  const loose = new Set(cut.loose);
  let wanted = 0;
  for (const material of materials) {
    const pool = pools[material] as Pool;
    for (const column of stocksOf(demands, pool, homeOnly, from)) rest.push([column, 1]);
    for (const source of sourcesIn(pool, from, to)) {
      wanted -= source.fixedHomeT + (homeOnly ? 0 : source.fixedOtherT);
      const terms = source.terms.filter((term) => term.home || !homeOnly);
      if (terms.length === 0) continue;
      if (source.whole >= 0 && !loose.has(source.whole)) {
        wholes.push([source.whole, mostOf(source, homeOnly)]);
      } else for (const term of terms) rest.push([term.column, term.gives]);
    }
  }
  for (const demand of demands) {
    if (demand.latest < from || demand.latest >= to) continue;
    demand.needT.forEach((needT, line) => {
      const asked = demand.demand.lines[line];
      if (!asked || !materials.includes(asked.material) || needT <= 0) return;
      wanted += needT;
      made.push([demand.made, needT]);
      for (const use of demand.uses) {
        if (use.line !== line) continue;
        const inside = materials.includes(use.material) && (use.home || !homeOnly);
        const over = inside ? use.gives - 1 : use.gives;
        if (over > 0) rest.push([use.column, over]);
      }
    });
  }
  return { wholes, rest, made, wanted };
}

/** Columns of what lies there on the morning of a day: stock behind the stretch it falls into, and what that stretch still uses. */
function stocksOf(demands: readonly DemandColumns[], pool: Pool, homeOnly: boolean, day: number): number[] {
  const at = pointAt(pool.points, day - 1);
  if (at < 0) return [];
  const to = pool.points[at + 1] ?? Infinity;
  const stocks = [pool.home[at] as number, ...(homeOnly ? [] : [pool.other[at] as number])];
  const later = demands.filter(({ latest }) => latest >= day && latest < to).flatMap(({ uses }) =>
    uses.flatMap((use) => use.material === pool.material && (use.home || !homeOnly) ? [use.column] : [])
  );
  return [...stocks.filter((one) => one >= 0), ...later];
}

function sourcesIn(pool: Pool, from: number, to: number): Source[] {
  return pool.points.flatMap((day, at) => day >= from && day < to ? pool.sources[at] ?? [] : []);
}

/** Most that one run or order gives. */
function mostOf(source: Source, homeOnly: boolean): number {
  if (!homeOnly || source.terms.every((term) => term.home)) return source.mostT;
  const most = Math.max(...source.terms.map((term) => term.gives));
  const home = Math.max(...source.terms.filter((term) => term.home).map((term) => term.gives));
  return source.mostT * home / most;
}

/** Sets of malts that are looked at together: each alone, and each with one that may stand in for it. */
export function maltSets({ pools, demands }: BoundModel): number[][] {
  const sets = new Map<string, number[]>();
  const put = (set: number[]) => {
    const sorted = [...new Set(set)].sort((a, b) => a - b);
    if (sorted.every((material) => pools[material])) sets.set(sorted.join(" "), sorted);
  };
  for (const demand of demands) {
    demand.demand.lines.forEach((line) => {
      put([line.material]);
      for (const { material } of line.substitutes) put([line.material, material]);
    });
  }
  return [...sets.values()];
}

/** A cut that the point violates, and how far, for each unit of the row's length. */
export interface Found<C> {
  readonly cut: C;
  readonly by: number;
}

/** Windows of more points than this are not looked at. */
const LONGEST = 60;
const LEAST_BY = 1e-4;

/** Window cuts of one set of malts that a point violates, one a window at most. */
export function findMaltCuts(
  of: BoundModel,
  materials: readonly number[],
  homeOnly: boolean,
  values: Float64Array,
): Found<MaltCut>[] {
  const days = [...new Set(materials.flatMap((one) => of.pools[one]?.points ?? []))].sort((a, b) => a - b);
  const at = (column: number) => values[column] as number;
  const slices = days.map((day, i) => {
    const piece = wantedOf(of, {
      kind: "malt",
      materials,
      homeOnly,
      from: day,
      to: days[i + 1] ?? Infinity,
      step: 1,
      loose: [],
    });
    const sources = materials.flatMap((material) =>
      sourcesIn(of.pools[material] as Pool, day, days[i + 1] ?? Infinity)
    )
      .filter((source) => source.terms.some((term) => term.home || !homeOnly));
    const stocks = materials.flatMap((material) =>
      stocksOf(of.demands, of.pools[material] as Pool, homeOnly, day)
    );
    const stock = stocks.reduce((sum, column) => sum + at(column), 0);
    const elsewhere = piece.rest.reduce((sum, [column, gives]) => sum + gives * at(column), 0) - stock;
    const unmade = piece.made.reduce((sum, [column, need]) => sum + need * (1 - at(column)), 0);
    return {
      stock,
      // Loose sources without a whole column are in `elsewhere` already.
      rest: Math.max(0, elsewhere) + Math.max(0, unmade),
      wanted: piece.wanted,
      entries: piece.rest.length + piece.made.length,
      wholes: sources.map((source) => ({
        column: source.whole,
        size: source.whole >= 0 ? mostOf(source, homeOnly) : 0,
        count: source.whole >= 0 ? at(source.whole) : 0,
        weight: source.whole < 0 ? 0 : source.terms.reduce(
          (sum, term) => term.home || !homeOnly ? sum + term.gives * at(term.column) : sum,
          0,
        ),
      })),
    };
  });
  const found: Found<MaltCut>[] = [];
  for (let first = 0; first < days.length; first++) {
    let wanted = 0, rest = (slices[first] as (typeof slices)[number]).stock, entries = 0;
    const wholes: (typeof slices)[number]["wholes"] = [];
    const sizes = new Set<number>();
    let best: Found<MaltCut> | null = null;
    for (let last = first; last < Math.min(days.length, first + LONGEST); last++) {
      const slice = slices[last] as (typeof slices)[number];
      wanted += slice.wanted;
      rest += slice.rest;
      entries += slice.entries;
      for (const one of slice.wholes) {
        wholes.push(one);
        if (one.size > 0) sizes.add(Math.round(one.size * 1e9) / 1e9);
      }
      if (slice.entries === 0 || wanted <= 1e-6) continue;
      for (const step of [...sizes, wanted * 1.0001]) {
        const left = remainderOf(wanted, step);
        if (!left) continue;
        const { remainder, steps } = left;
        const asked = step * remainder * steps;
        let sum = rest, loose = 0;
        for (const one of wholes) {
          if (one.column < 0) continue;
          const whole = step * remainder * stepsOf(one.size, step, remainder, steps) * one.count;
          sum += Math.min(whole, one.weight);
          if (one.weight < whole) loose++;
          if (sum >= asked) break;
        }
        const by = (asked - sum) / Math.sqrt(entries + wholes.length + loose);
        if (by <= Math.max(LEAST_BY, best?.by ?? 0)) continue;
        const isLoose = (one: (typeof wholes)[number]) =>
          one.column >= 0 &&
          one.weight < step * remainder * stepsOf(one.size, step, remainder, steps) * one.count;
        best = {
          by,
          cut: {
            kind: "malt",
            materials,
            homeOnly,
            from: days[first] as number,
            to: days[last + 1] ?? FOREVER,
            step,
            loose: wholes.flatMap((one) => isLoose(one) ? [one.column] : []),
          },
        };
      }
    }
    if (best) found.push(best);
  }
  return found;
}

/** A day after every plan; a whole number, so that a cut can be written down. */
const FOREVER = 1e9;
