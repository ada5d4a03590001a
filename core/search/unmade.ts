import type { Plan } from "../plan/plan.ts";
import { causeOf, type Free, type Lack, Starts } from "./causes.ts";
import type { CellarBatch } from "./cellar.ts";
import { DateBoard } from "./dates.ts";
import { placesTaken, type Taking } from "./money.ts";
import { boardOf } from "./polish.ts";
import type { Settling } from "./settling.ts";

/** What is not made, and why. */
export type Explained = Pick<Plan, "unbrewed" | "unsold">;

/** A first cause for every demand that is not made. */
export function explain(
  settling: Settling,
  lacks: ReadonlyMap<number, Lack>,
  met: readonly { demand: number }[],
  free: Free,
): Explained {
  const { problem } = settling;
  const known = { ...settling, free, starts: new Starts(problem, boardOf(problem, settling.candidate)) };
  const made = new Set(met.map((one) => one.demand));
  const explained: Explained = { unbrewed: [], unsold: [] };
  for (const demand of problem.demands) {
    if (made.has(demand.index)) continue;
    const { cause, why } = causeOf(
      known,
      demand,
      lacks.get(demand.index) ?? null,
      settling.noRoomFor.size > 0,
    );
    if (demand.kind === "sale") explained.unsold.push({ contractId: demand.id, cause, why });
    else explained.unbrewed.push({ id: demand.id, beerId: demand.beerId, cause, why });
  }
  for (const { contract, day } of problem.grainSales) {
    if (day !== null) continue;
    const lot = problem.season.lots.find((one) => one.id === contract.lotId);
    const why = `too little of lot ${lot?.letter ?? contract.lotId} is left in the contract's window`;
    explained.unsold.push({ contractId: contract.id, cause: "no grain", why });
  }
  return explained;
}

/** What the filled plan leaves for one more brew. */
export function freeFor(
  { problem, stowage, tanks }: Settling,
  batches: readonly CellarBatch[],
  takings: readonly Taking[],
  made: readonly { demand: number; day: number }[],
): Free {
  const { used, allowed } = placesTaken(problem, batches, takings);
  const day = new Int32Array(problem.demands.length).fill(-1);
  for (const one of made) day[one.demand] = one.day;
  const dates = new DateBoard(problem, tanks, day);
  const leftG = problem.lots.map((lot) => lot.totalG);
  for (const one of [...stowage.taken, ...stowage.leftOut]) {
    leftG[one.lot] = (leftG[one.lot] as number) - one.massG;
  }
  return {
    grainG: (lot) => leftG[lot] ?? 0,
    places: (to) => {
      const most = mostFrom(used, to - problem.asOfDay);
      return (from) => allowed - (most[from - problem.asOfDay] ?? 0);
    },
    takes: (demand, on) => dates.allows(demand, on),
    brewhouse: (on) => dates.brewhouseOpen(on),
  };
}

/** The most of each stretch from a day to before `end`; nothing from `end` on. */
function mostFrom(used: Int32Array, end: number): Int32Array {
  const most = used.slice(0, Math.max(0, end));
  for (let d = most.length - 2; d >= 0; d--) most[d] = Math.max(most[d] as number, most[d + 1] as number);
  return most;
}
