import { byStart, type Candidate, cropOf, lotFits, nothingSubstituted, type RunChoice } from "./candidate.ts";
import { type DateBoard, datedDemands } from "./dates.ts";
import type { FixedRun, Problem } from "./problem.ts";
import type { VesselBoard } from "./vessels.ts";

/** Malt of a gram of grain, roughly: common practice, no source. Exact weights come later. */
const MALT_PER_GRAIN = 0.8;

/**
 * The plan a careful person makes without looking ahead: brews in order, and for each malt that would run out the oldest
 * lot that is ready, on the first legal day. It is the measure the search has to beat, and one of its starts.
 */
export function naivePlan(
  problem: Problem,
  fixed: readonly FixedRun[],
  board: VesselBoard,
  dates: DateBoard,
): Candidate {
  const runs: RunChoice[] = fixed.map((one) => ({
    slot: one.slot,
    lot: one.draws[0]?.lot ?? 0,
    lot2: -1,
    fixed: one,
  }));
  const left = problem.lots.map((lot) => lot.totalG - lot.firmG);
  for (const one of fixed) {
    if (one.standing === "booked") {
      for (const draw of one.draws) left[draw.lot] = (left[draw.lot] ?? 0) - draw.massG;
    }
  }
  const stock = problem.materials.map((material) =>
    problem.batches.filter((batch) => batch.material === material.index).reduce(
      (sum, batch) => sum + batch.massG,
      0,
    ) +
    fixed.filter((one) =>
      one.slot.malt === material.maltIndex &&
      problem.lots[one.draws[0]?.lot ?? -1]?.lot.owner === material.owner
    ).reduce(
      (sum, one) => sum + one.draws.reduce((grams, draw) => grams + draw.massG, 0) * MALT_PER_GRAIN,
      0,
    )
  );
  const cursor = problem.slotsByMalt.map(() => 0);
  for (const { demand } of datedDemands(problem, dates.day)) {
    for (const line of problem.demands[demand]?.lines ?? []) {
      const m = line.material;
      const material = problem.materials[m];
      if (!material?.made) continue;
      while ((stock[m] as number) < line.bookMassG) {
        const choice = firstLegal(problem, board, m, cursor, left, dates.day[demand] as number);
        if (!choice) break;
        const kept = 1 - material.made.screeningLoss;
        const crop = cropOf(problem, choice);
        const draw = Math.min(left[choice.lot] as number, (choice.slot.greatestG[crop] as number) / kept);
        left[choice.lot] = (left[choice.lot] as number) - draw;
        stock[m] = (stock[m] as number) + draw * MALT_PER_GRAIN;
        board.put(choice.slot, crop);
        runs.push(choice);
      }
      stock[m] = Math.max(0, (stock[m] as number) - line.bookMassG);
    }
  }
  return { runs: runs.sort(byStart), day: dates.day.slice(), substituted: nothingSubstituted(problem) };
}

function firstLegal(
  problem: Problem,
  board: VesselBoard,
  malt: number,
  cursor: number[],
  left: readonly number[],
  brewDay: number,
): RunChoice | null {
  const slots = problem.slotsByMalt[malt] ?? [];
  const material = problem.materials[malt];
  if (!material?.made) return null;
  const oldestFirst = problem.lots.filter((one) => one.lot.owner === material.owner).map((lot) => lot.index)
    .sort((a, b) => (problem.lots[a]?.lot.formedOn ?? "") < (problem.lots[b]?.lot.formedOn ?? "") ? -1 : 1);
  for (; (cursor[malt] as number) < slots.length; cursor[malt] = (cursor[malt] as number) + 1) {
    const slot = slots[cursor[malt] as number];
    if (!slot || slot.stripDay + material.restDays > brewDay) return null;
    for (const lot of oldestFirst) {
      if (!lotFits(problem, slot, lot)) continue;
      const crop = problem.lots[lot]?.crop ?? 0;
      const clean = (left[lot] as number) * (1 - material.made.screeningLoss);
      if (clean < (slot.leastG[crop] as number) || !board.fits(slot, crop)) continue;
      return { slot, lot, lot2: -1, fixed: null };
    }
  }
  return null;
}
