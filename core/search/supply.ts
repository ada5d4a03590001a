import type { RunChoice } from "./candidate.ts";
import type { Problem } from "./problem.ts";

/** A batch as the search sees it: extract that is ready from a day to a day. For raw grain extract means weight. */
export interface Supply {
  arrives: number;
  ready: number;
  last: number;
  extractG: number;
  /** Grams of extract in a gram of the batch; of raw grain, which is counted by weight, 1. */
  perG: number;
  /** Grams of extract in a gram of raw grain. */
  rawExtract?: number;
  home: boolean;
  /** Share of it from each lot index; null when unknown or bought. */
  share: ReadonlyMap<number, number> | null;
  /** Held, booked or under way: it comes into the store whatever the plan does. */
  settled: boolean;
}

/** Share of a held batch from each lot index; null when it names none. */
export function heldShares(
  problem: Problem,
  { lots }: Pick<Problem["batches"][number], "lots">,
): Map<number, number> | null {
  if (lots.length === 0) return null;
  const shares = new Map<number, number>();
  for (const { lotId, share } of lots) {
    const lot = problem.season.lots.findIndex((one) => one.id === lotId);
    shares.set(lot, (shares.get(lot) ?? 0) + share);
  }
  return shares;
}

/** What the book already holds, by material. */
export function heldSupplies(problem: Problem): Supply[][] {
  const held: Supply[][] = problem.materials.map(() => []);
  for (const batch of problem.batches) {
    const isMalt = problem.materials[batch.material]?.malt;
    const perG = isMalt ? batch.extractAsIs : 1;
    held[batch.material]?.push({
      arrives: batch.arrivesDay,
      ready: batch.readyDay,
      last: batch.lastDay,
      extractG: batch.massG * perG,
      perG,
      ...(isMalt ? {} : { rawExtract: batch.extractAsIs }),
      home: batch.home,
      share: heldShares(problem, batch),
      settled: true,
    });
  }
  return held;
}

/**
 * What malt of grain from these lots is: home-grown when every lot is, its extract by the weight drawn from each, share of dry
 * weight, and the share of each lot. `bookExtractDb` stands for lots with no figure of their own.
 */
export function blendOf(
  problem: Problem,
  draws: readonly { lot: number; massG: number }[],
  bookExtractDb: number,
): { home: boolean; extractDb: number; share: Map<number, number> } {
  const share = new Map<number, number>();
  let home = true;
  let massG = 0;
  let extractG = 0;
  let own = false;
  for (const draw of draws) {
    if (draw.massG <= 0) continue;
    const lot = problem.lots[draw.lot] as Problem["lots"][number];
    home = home && lot.home;
    massG += draw.massG;
    share.set(draw.lot, (share.get(draw.lot) ?? 0) + draw.massG);
    extractG += draw.massG * (lot.lot.maltExtractDb ?? bookExtractDb);
    own = own || lot.lot.maltExtractDb !== undefined;
  }
  for (const [lot, partG] of share) share.set(lot, partG / massG);
  return { home, extractDb: own ? extractG / massG : bookExtractDb, share };
}

/** Grain of a run by lot. */
export function drawsOf(
  run: RunChoice,
  drawG: number,
  draw2G: number,
): readonly { lot: number; massG: number }[] {
  return run.fixed?.draws ?? [{ lot: run.lot, massG: drawG }, { lot: run.lot2, massG: draw2G }];
}

/** Share of a run's malt that comes out as each material: a customer's lot gives that customer's malt. */
export function outputsOf(problem: Problem, run: RunChoice): { material: number; share: number }[] {
  const of = problem.materials[run.slot.malt];
  if (!of?.made) return [];
  const owner = problem.lots[run.fixed?.draws[0]?.lot ?? run.lot]?.lot.owner ?? "farm";
  const materialOf = (maltId: string | null) =>
    problem.materials.findIndex((one) => one.maltId === maltId && one.owner === owner);
  const also = of.made.alsoGives.map((one) => ({ material: materialOf(one.maltId), share: one.share }));
  const share = 1 - also.reduce((sum, one) => sum + one.share, 0);
  return [{ material: materialOf(of.maltId), share }, ...also];
}
