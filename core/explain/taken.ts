import type { Stage } from "../season/malthouse.ts";
import type { RunMark } from "../year/malthouse-band.ts";
import type { Year } from "../year/year.ts";

/** Days from one load to the next in a vessel that are no more than cleaning, a night and a day of rest: common practice, no source. */
const BACK_TO_BACK_DAYS = 3;
/** Fewer loads in a row are no limit. */
const LEAST_LOADS = 3;

/**
 * The stretches, in days, in which the vessels of a stage are taken back to back: each vessel of the stage has load upon load with
 * no more than three days between. A vessel that waits longer than that is not full.
 */
export function takenStretches(year: Year, stage: Stage): { from: number; to: number; loads: number }[] {
  const vessels = year.malthouse.vessels.filter((vessel) => vessel.stages.includes(stage));
  const each = vessels.map((vessel) => stretchesOf(year.malthouse.runs, vessel.id));
  return each.reduce((common, one) => inCommon(common, one), each[0] ?? []);
}

interface Stretch {
  from: number;
  to: number;
  loads: number;
}

function stretchesOf(runs: readonly RunMark[], vesselId: string): Stretch[] {
  const loads = runs.flatMap((run) => run.stages.filter((one) => one.vesselId === vesselId))
    .sort((a, b) => a.start - b.start);
  const rows: Stretch[] = [];
  for (const { start, end } of loads) {
    const last = rows.at(-1);
    if (last !== undefined && start - last.to <= BACK_TO_BACK_DAYS) {
      last.to = Math.max(last.to, end);
      last.loads++;
    } else rows.push({ from: start, to: end, loads: 1 });
  }
  return rows.filter((row) => row.loads >= LEAST_LOADS)
    .map((row) => ({ ...row, from: Math.floor(row.from), to: Math.floor(row.to) }));
}

function inCommon(a: readonly Stretch[], b: readonly Stretch[]): Stretch[] {
  return a.flatMap((one) =>
    b.flatMap((other) => {
      const from = Math.max(one.from, other.from), to = Math.min(one.to, other.to);
      return from < to ? [{ from, to, loads: Math.min(one.loads, other.loads) }] : [];
    })
  );
}
