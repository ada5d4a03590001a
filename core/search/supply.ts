import type { RunChoice } from "./candidate.ts";
import { type Loads, maltOf } from "./loads.ts";
import type { Problem } from "./problem.ts";

/** A batch as the search sees it: extract that is ready from a day to a day. For raw grain extract means weight. */
export interface Supply {
  arrives: number;
  ready: number;
  last: number;
  extractG: number;
  /** Grams of extract in a gram of the batch. */
  perG: number;
  home: boolean;
  /** Held, booked or under way: it comes into the store whatever the plan does. */
  settled: boolean;
}

/** What the book already holds, by material. */
export function heldSupplies(problem: Problem): Supply[][] {
  const held: Supply[][] = problem.materials.map(() => []);
  for (const batch of problem.batches) {
    const perG = problem.materials[batch.material]?.malt ? batch.extractAsIs : 1;
    held[batch.material]?.push({
      arrives: batch.arrivesDay,
      ready: batch.readyDay,
      last: batch.lastDay,
      extractG: batch.massG * perG,
      perG,
      home: batch.home,
      settled: true,
    });
  }
  return held;
}

/** Share of a run's malt that comes out as each material. */
export function outputsOf(problem: Problem, malt: number): { material: number; share: number }[] {
  const made = problem.materials[malt]?.made;
  if (!made) return [];
  const also = made.alsoGives.map((one) => ({
    material: problem.materials.findIndex((material) => material.maltId === one.maltId),
    share: one.share,
  }));
  return [{ material: malt, share: 1 - also.reduce((sum, one) => sum + one.share, 0) }, ...also];
}

/** Fills `supplies` with the held batches and what the runs give, by readiness. */
export function gatherSupplies(
  problem: Problem,
  held: readonly (readonly Supply[])[],
  runs: readonly RunChoice[],
  loads: Loads,
  supplies: Supply[][],
): void {
  supplies.forEach((list, material) => {
    list.length = 0;
    for (const one of held[material] as readonly Supply[]) list.push(one);
  });
  for (let i = 0; i < runs.length; i++) {
    const run = runs[i] as RunChoice;
    const drawG = loads.drawG[i] as number;
    const draw2G = loads.draw2G[i] as number;
    if (drawG + draw2G <= 0) continue;
    const lot = problem.lots[run.lot];
    const maltG = maltOf(problem, run, drawG, draw2G);
    for (const { material, share } of outputsOf(problem, run.slot.malt)) {
      const of = problem.materials[material];
      if (!of?.malt || !lot || share <= 0) continue;
      const perG = (lot.lot.maltExtractDb ?? of.malt.extractCoarseDb) * (1 - of.malt.maltMoistureWb);
      supplies[material]?.push({
        arrives: run.slot.stripDay,
        ready: run.slot.stripDay + of.restDays,
        last: run.slot.stripDay + of.shelfDays,
        extractG: maltG * share * perG,
        perG,
        home: lot.home,
        settled: run.fixed !== null,
      });
    }
  }
  for (const list of supplies) list.sort((a, b) => a.ready - b.ready || a.last - b.last);
}
