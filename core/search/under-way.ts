import type { RecordedRun } from "../season/records.ts";
import type { Vessel } from "../season/malthouse.ts";
import { staffedMinutes } from "./attendance.ts";
import type { Problem } from "./problem.ts";
import { NEXT, type stageLimits, standing, type Times } from "./slots.ts";

type Limits = ReturnType<typeof stageLimits>;

interface Timing {
  times: Times;
  /** Extra windows used. */
  extras: number[];
}

/** Timings tried before the first that is staffed has to do. */
const MOST_TRIED = 2000;

/**
 * The hand-overs to come of a run under way, none before now: each stage as near to its usual hours as leaves the later ones a staffed
 * minute and the vessels open. The grain cannot wait: where there is no such timing the plan shows one that is staffed, or else the
 * usual hours all the same.
 */
export function timesToCome(
  problem: Problem,
  run: RecordedRun,
  limits: Limits,
  known: readonly number[],
): Timing {
  const { season, attendance, book } = problem;
  const late = overdueLimits(limits, known, book.asOfMinute);
  const vessels = (["steep", "bed", "kiln"] as const).map((stage) =>
    season.vessels.find((one) => one.id === run.vesselIds[stage])
  ) as [Vessel, Vessel, Vessel];
  let staffed: Timing | null = null;
  let tried = 0;
  for (const timing of timings(problem, late, known, [])) {
    if (vessels.every(Boolean) && standing(season, attendance, vessels, timing.times)) return timing;
    staffed ??= timing;
    if (++tried >= MOST_TRIED) break;
  }
  return staffed ?? { times: usualTimes(known, late, book.asOfMinute), extras: [] };
}

/** Every staffed timing, the nearest to the usual hours of the first stage to come first. */
function* timings(
  problem: Problem,
  limits: Limits,
  known: readonly number[],
  extras: readonly number[],
): Generator<Timing> {
  const stage = known.length - 1;
  const limit = limits[stage];
  const handOver = NEXT[stage];
  if (!limit || !handOver) {
    yield { times: known as unknown as Times, extras: [...extras] };
    return;
  }
  const begun = known[stage] as number;
  const least = Math.max(begun + Math.ceil(limit.least * 60), problem.book.asOfMinute);
  const usual = begun + Math.round(limit.usual * 60);
  const greatest = begun + Math.floor(limit.greatest * 60);
  for (const { minute, extra } of staffedMinutes(problem.attendance, handOver, least, usual, greatest)) {
    yield* timings(problem, limits, [...known, minute], extra >= 0 ? [...extras, extra] : extras);
  }
}

/** Grain that has lain too long already lies on until somebody is there. */
function overdueLimits(
  limits: Limits,
  known: readonly number[],
  now: number,
): Limits {
  const stage = known.length - 1;
  const begun = known[stage] as number;
  const late = { ...(limits[stage] as (typeof limits)[number]) };
  if (begun + late.greatest * 60 >= now) return limits;
  late.greatest = (now - begun) / 60 + LONGEST_WAIT_HOURS;
  const [steep, bed, kiln] = limits.map((limit, i) => i === stage ? late : limit);
  return [steep, bed, kiln] as unknown as Limits;
}

/** Common practice, no source: long enough for anybody to come back. */
const LONGEST_WAIT_HOURS = 1000;

/** The hand-overs to come after the usual hours of each stage, never before now. */
function usualTimes(known: readonly number[], limits: Limits, now: number): Times {
  const times = [...known];
  for (let stage = known.length - 1; stage < 3; stage++) {
    const usual = Math.round((limits[stage] as { usual: number }).usual * 60);
    times.push(Math.max((times[stage] as number) + usual, now));
  }
  return times as unknown as Times;
}
