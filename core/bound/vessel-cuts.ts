import type { Problem } from "../search/problem.ts";
import type { Slot } from "../search/slots.ts";
import type { Found } from "./find-malt-cuts.ts";
import type { BoundModel } from "./model.ts";
import type { CutRow } from "./rounding.ts";

/** A vessel cut: runs steeped in the steps `from` to `to` are no more than the vessels of a stage can take one after another. */
export interface VesselCut {
  readonly kind: "vessels";
  /** 0 steep, 1 bed, 2 kiln. */
  readonly stage: number;
  readonly from: number;
  readonly to: number;
}

/** A load in a vessel, cleaning behind it included, in epoch minutes, and the step of its steeping. */
interface Stay {
  readonly start: number;
  readonly end: number;
  readonly step: number;
}

/** How many runs the vessels of each stage can take at most: by stage, the stays that slots offer in each vessel, by their end. */
export type VesselStays = readonly (readonly (readonly Stay[])[])[];

/** Stays of legal slots, by stage and vessel. Where a stage has one vessel, a load that keeps it from stage to stage stays all the while. */
export function vesselStays(problem: Problem, slots: readonly Slot[], stepDays: number): VesselStays {
  return [0, 1, 2].map((stage) => {
    const vessels = [...new Set(slots.map((slot) => slot.vessels[stage] as number))].sort((a, b) => a - b);
    return vessels.map((vessel) => {
      const cleaning = leastCleaning(problem, vessel);
      const stays = new Map<string, Stay>();
      for (const slot of slots) {
        if (slot.vessels[stage] !== vessel) continue;
        const [first, last] = stretchOf(slot, stage, vessels.length === 1);
        const start = slot.times[first] as number, end = (slot.times[last] as number) + cleaning;
        const step = Math.floor((slot.steepDay - problem.freeDay) / stepDays);
        stays.set(`${start} ${end} ${step}`, { start, end, step });
      }
      return [...stays.values()].sort((a, b) => a.end - b.end || a.start - b.start);
    });
  });
}

/** Hand-overs between which the load lies in the vessel of a stage. */
function stretchOf(slot: Slot, stage: number, whole: boolean): [first: number, last: number] {
  let first = stage, last = stage + 1;
  if (!whole) return [first, last];
  while (first > 0 && slot.vessels[first - 1] === slot.vessels[stage]) first--;
  while (last < 3 && slot.vessels[last] === slot.vessels[stage]) last++;
  return [first, last];
}

/** Least minutes between two loads, whatever their crops. */
function leastCleaning({ season }: Problem, vessel: number): number {
  const of = season.vessels[vessel];
  if (!of) return 0;
  return 60 * Math.min(of.cleaningHours, ...of.changeOver.map((one) => one.hours));
}

/** The most loads that can follow each other in the vessels of a stage: in each, always the one that is over first. */
export function mostRuns(stays: VesselStays, stage: number, from: number, to: number): number {
  let most = 0;
  for (const ofVessel of stays[stage] ?? []) {
    let free = -Infinity;
    for (const { start, end, step } of ofVessel) {
      if (start < free || step < from || step > to) continue;
      most++;
      free = end;
    }
  }
  return most;
}

export function vesselRow({ runs, stays }: BoundModel, { stage, from, to }: VesselCut): CutRow {
  return {
    lower: -mostRuns(stays, stage, from, to),
    entries: runs.filter((run) => run.step >= from && run.step <= to).map((run) => [run.count, -1] as const),
  };
}

/** Lengths of the windows that are looked at, in steps: all short ones, then longer ones further and further apart. */
function lengthsUpTo(most: number): number[] {
  const lengths: number[] = [];
  for (let length = 1; length < most; length = Math.max(length + 1, Math.floor(length * 1.2))) {
    lengths.push(length);
  }
  return [...lengths, most];
}

/** Finds vessel cuts that a point violates; what the vessels can take is worked out once. */
export function vesselCutFinder({ runs, stays }: BoundModel): (values: Float64Array) => Found<VesselCut>[] {
  const last = Math.max(-1, ...runs.map((run) => run.step));
  const lengths = last < 0 ? [] : lengthsUpTo(last + 1);
  const windows = lengths.flatMap((length) =>
    Array.from({ length: last + 2 - length }, (_, from) => ({ from, to: from + length - 1 }))
  );
  const limits = [0, 1, 2].flatMap((stage) =>
    windows.map(({ from, to }) => ({
      cut: { kind: "vessels", stage, from, to } as const,
      most: mostRuns(stays, stage, from, to),
    }))
  );
  return (values) => {
    const begun = new Float64Array(last + 2);
    for (const run of runs) {
      begun[run.step + 1] = (begun[run.step + 1] as number) + (values[run.count] as number);
    }
    for (let step = 1; step <= last + 1; step++) {
      begun[step] = (begun[step] as number) + (begun[step - 1] as number);
    }
    return limits.flatMap(({ cut, most }) => {
      const over = (begun[cut.to + 1] as number) - (begun[cut.from] as number) - most;
      return over > 1e-4 ? [{ cut, by: over / Math.sqrt(cut.to - cut.from + 1) }] : [];
    });
  };
}
