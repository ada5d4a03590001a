import type { Demand, Line, Problem } from "../search/problem.ts";
import type { LinearModel } from "../solve/linear.ts";
import { G_PER_TONNE } from "../units.ts";
import { pointAt, type Pool } from "./malt.ts";
import { ROUNDED_T } from "./source.ts";

/** What a line takes of a pool, tonnes of extract (of raw grain, of weight). */
export interface LineUse {
  readonly line: number;
  readonly material: number;
  readonly home: boolean;
  readonly column: number;
  /** What a tonne of it gives the line. */
  readonly gives: number;
  /** True for the line's own material, false for a substitute. */
  readonly main: boolean;
}

/** A brew or sale, made whole or not at all: its columns. */
export interface DemandColumns {
  readonly demand: Demand;
  readonly made: number;
  /** Promise held; the same column as `made` where nothing is promised, -1 where nothing counts. */
  readonly kept: number;
  readonly earliest: number;
  readonly latest: number;
  /** By line: what it needs, tonnes of extract (of raw grain, of weight), rounding taken off. */
  readonly needT: readonly number[];
  /** By line: what of that has to be home-grown if the promise is held. */
  readonly homeT: readonly number[];
  readonly uses: readonly LineUse[];
}

/** A share of the grist may be missed by so much through rounding to grams, which weighs more in a small brew. */
export function shareTolerance(needT: readonly number[]): number {
  const totalT = needT.reduce((sum, one) => sum + one, 0);
  return 5e-5 + 4 * ROUNDED_T * needT.length / Math.max(totalT, 1e-3);
}

/** All demands: every line met in extract, substitutes inside their limits, promises, and what has to be of named origin is in ./origin.ts. */
export function addBrews(
  model: LinearModel,
  problem: Problem,
  pools: readonly (Pool | null)[],
): DemandColumns[] {
  return problem.demands.map((demand) => addDemand(model, problem, pools, demand));
}

function addDemand(
  model: LinearModel,
  problem: Problem,
  pools: readonly (Pool | null)[],
  demand: Demand,
): DemandColumns {
  const may = demand.days.length > 0;
  const made = model.column(-demand.saleCents / 100, 0, may ? 1 : 0, true);
  const earliest = Math.min(...demand.days), latest = Math.max(...demand.days);
  const uses: LineUse[] = [];
  const needs: number[] = [];
  demand.lines.forEach((line, place) => {
    const needT = Math.max(0, needOf(problem, pools, demand, line) - ROUNDED_T);
    needs.push(needT);
    if (!may) return;
    const entries: [number, number][] = [];
    const use = (material: number, main: boolean): [number, number][] => {
      const pool = pools[material];
      if (!pool) return [];
      const at = pointAt(pool.points, latest);
      const gives = measure(problem, demand, line, material);
      return ([0, 1] as const).flatMap((kind): [number, number][] => {
        if (!isOpen(pool, kind, at)) return [];
        const column = model.column(0, 0, needT / gives);
        uses.push({ line: place, material, home: kind === 0, column, gives, main });
        (pool.used[at] as Pool["used"][number])[kind].push([column, 1]);
        return [[column, gives]];
      });
    };
    entries.push(...use(line.material, true));
    for (const { material, mostShare } of line.substitutes) {
      const columns = use(material, false);
      entries.push(...columns);
      if (mostShare < 1 && columns.length > 0) {
        model.row(-Infinity, ROUNDED_T, [...columns, [made, -mostShare * needT]]);
      }
    }
    model.row(0, 0, [...entries, [made, -needT]]);
  });
  const kept = addPromise(model, pools, demand, made, uses, needs);
  const homeT = kept < 0 || kept === made ? needs.map(() => 0) : homeNeeds(pools, demand, uses, needs);
  return { demand, made, kept, earliest, latest, needT: needs, homeT, uses };
}

/** Malt counts by extract and raw grain by weight: what a tonne so counted gives a line, at the most. */
function measure(problem: Problem, demand: Demand, line: Line, material: number): number {
  const of = problem.materials[material];
  const isMaltLine = problem.materials[line.material]?.malt != null;
  if (material === line.material || (isMaltLine && of?.malt)) return 1;
  const perLine = isMaltLine ? 1 : line.extractG / line.bookMassG;
  if (of?.malt) return 1 / perLine;
  const beer = problem.season.beers.find((one) => one.id === demand.beerId);
  const booked = beer?.substitutes.flatMap(({ forLine, ingredient }) =>
    forLine === line.lineId && ingredient.kind === "grain" && ingredient.crop === of?.crop
      ? [ingredient.extractAsIs]
      : []
  );
  return Math.max(...booked ?? [], 1e-3) / perLine;
}

/** Whether anything of a kind has come in by a point. */
function isOpen(pool: Pool, kind: 0 | 1, at: number): boolean {
  for (let point = 0; point <= at; point++) {
    for (const source of pool.sources[point] as Pool["sources"][number]) {
      const fixedT = kind === 0 ? source.fixedHomeT : source.fixedOtherT;
      if (fixedT > 0 || source.terms.some((term) => term.home === (kind === 0))) return true;
    }
  }
  return false;
}

/** Tonnes of extract; of raw grain, of weight. Malt that is sold goes by weight, so the poorest malt will do. */
function needOf(problem: Problem, pools: readonly (Pool | null)[], demand: Demand, line: Line): number {
  if (!problem.materials[line.material]?.malt) return line.bookMassG / G_PER_TONNE;
  if (demand.kind === "brew") return line.extractG / G_PER_TONNE;
  const perT = pools[line.material]?.perT ?? [null, null];
  const least = Math.min(...perT.flatMap((one) => one ? [one.least] : []), 1);
  return line.bookMassG / G_PER_TONNE * least;
}

/** Home-grown weight, at its most, >= promise x weight of the rest, at its least, unless the promise is not kept. */
function addPromise(
  model: LinearModel,
  pools: readonly (Pool | null)[],
  demand: Demand,
  made: number,
  uses: readonly LineUse[],
  needs: readonly number[],
): number {
  if (demand.kind !== "brew" || demand.class > 3) return -1;
  const share = demand.promise - shareTolerance(needs);
  if (share <= 0) return made;
  const kept = model.column(0, 0, demand.days.length > 0 ? 1 : 0, true);
  model.row(-Infinity, 0, [[kept, 1], [made, -1]]);
  const entries: [number, number][] = [];
  let mostOtherT = 0;
  needs.forEach((needT, line) => {
    const ofLine = uses.filter((use) => use.line === line && !use.home);
    mostOtherT += Math.max(0, ...ofLine.map((use) => needT / (pools[use.material]?.perT[1]?.greatest ?? 1)));
  });
  for (const use of uses) {
    const perT = pools[use.material]?.perT[use.home ? 0 : 1];
    if (!perT) continue;
    entries.push(use.home ? [use.column, (1 - share) / perT.least] : [use.column, -share / perT.greatest]);
  }
  const slack = share * mostOtherT;
  model.row(0, Infinity, [...entries, [made, slack], [kept, -slack]]);
  return kept;
}

/** What of each line has to be home-grown, were all that need not be so to go into that line. */
function homeNeeds(
  pools: readonly (Pool | null)[],
  demand: Demand,
  uses: readonly LineUse[],
  needs: readonly number[],
): number[] {
  const ofLine = (line: number) => uses.filter((use) => use.line === line);
  const perT = ({ material, home }: LineUse) => pools[material]?.perT[home ? 0 : 1];
  const mostT = needs.reduce((sum, needT, line) => {
    const least = Math.min(1, ...ofLine(line).map((use) => (perT(use)?.least ?? 1) * use.gives));
    return sum + needT / least;
  }, 0);
  const otherT = (1 - demand.promise + shareTolerance(needs)) * mostT;
  return needs.map((needT, line) => {
    const others = ofLine(line).filter((use) => !use.home);
    const most = Math.max(0, ...others.map((use) => (perT(use)?.greatest ?? 1) * use.gives));
    return Math.max(0, needT - otherT * most);
  });
}
