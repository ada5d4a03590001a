import { isoDate } from "../calendar.ts";
import type { Plan, PlanRun } from "../plan/plan.ts";
import type { Candidate } from "./candidate.ts";
import type { CellarBatch } from "./cellar.ts";
import type { Evaluation, Evaluator } from "./evaluate.ts";
import { wantsOf } from "./wants.ts";
import { extraHoursCents } from "./extra-hours.ts";
import { ordersThatFit } from "./fit-orders.ts";
import { endGrain, grainMovements, grainSales, movesCents } from "./grain-movements.ts";
import { type placesOver, reserveCents } from "./money.ts";
import { outturn } from "./outturn.ts";
import type { Want } from "./piles.ts";
import type { Problem } from "./problem.ts";
import { type PlanBody, type Settling, uniqueId } from "./settling.ts";
import type { Times } from "./slots.ts";
import { heldShares } from "./supply.ts";
import type { Explained } from "./unmade.ts";
import type { Weights } from "./weights.ts";

/** A plan's books; `explained` is the body with a first cause for all that is not made. */
export interface Books {
  body: Omit<PlanBody, keyof Explained | "cannotKeep">;
  over: ReturnType<typeof placesOver>;
  explained: () => PlanBody;
}

/** Turns weights into a plan in whole grams, packs and cents: the books are kept here as a clerk would. */
export function settle(
  settling: Settling,
): Books {
  const { problem, candidate, stowage } = settling;
  const runs: PlanRun[] = [];
  const made: CellarBatch[] = heldBatches(problem);
  const named = runNames(problem, candidate);
  let runsCents = 0;
  let nightTurnsCents = 0;
  const times: Times[] = [];
  candidate.runs.forEach((run, i) => {
    const out = outturn(problem, run, named[i] as string, i, stowage.taken.filter((one) => one.key === i));
    const grain = problem.materials[run.slot.malt]?.made;
    if (!out || !grain) return;
    runs.push(out.run);
    made.push(...out.batches);
    if (out.run.standing !== "under way") {
      runsCents += grain.runCents + grain.perTonneCents * out.run.cleanG / 1e6;
    }
    nightTurnsCents += run.slot.nightCents;
    times.push(run.slot.times);
  });

  const { orders, ordersCents, filled, batches, over } = ordersThatFit(settling, made);
  const { takings, salesCents, explain, ...brews } = filled;
  const grain = grainMovements(problem, stowage);
  const money = {
    runsCents: Math.round(runsCents),
    ordersCents,
    movesCents: Math.round(movesCents(problem, grain.moves)),
    nightTurnsCents,
    extraHoursCents: extraHoursCents(problem, times),
    feedCents: grain.feedLoads.reduce((sum, load) => sum - load.revenueCents, 0),
    salesCents: Math.round(salesCents + grainSales(problem, grain.grainDeliveries)),
    endGrainCents: Math.round(endGrain(problem, stowage)),
    reserveCents: Math.round(reserveCents(problem, batches, takings)),
    changedRunsCents: 0,
  };
  const body = {
    runs,
    drums: [],
    ...brews,
    orders,
    ...grain,
    goals: {
      ...countGoals(problem, brews.brews, brews.maltDeliveries),
      moneyCents: Object.values(money).reduce((sum, part) => sum + part, 0),
      money,
    },
  };
  const explained = (): PlanBody => {
    const why = explain();
    const cannotKeep = [
      ...settling.refused,
      ...problem.booked.refused,
      ...why.unbrewed.filter((brew) => problem.demands.some((one) => one.id === brew.id && one.booked))
        .map((brew) => ({ kind: "brew" as const, id: brew.id, why: brew.why })),
    ];
    return { ...body, ...why, cannotKeep };
  };
  return { body, over, explained };
}

function heldBatches(problem: Problem): CellarBatch[] {
  return problem.batches.filter((batch) => batch.material >= 0).map((batch) => ({
    id: batch.id,
    key: `batch ${batch.id}`,
    material: batch.material,
    arrives: batch.arrivesDay,
    ready: batch.readyDay,
    last: batch.lastDay,
    massG: batch.massG,
    leftG: batch.massG,
    carryG: 0,
    perG: batch.extractAsIs,
    home: batch.home,
    share: heldShares(problem, batch),
    settled: true,
  }));
}

/** Ids of the runs: a record's or booking's own, else the steep-in day, numbered when several start on it. */
function runNames(problem: Problem, candidate: Candidate): string[] {
  const known = new Set([
    ...problem.season.records.runs.map((run) => run.id),
    ...problem.season.bookings.runs.map((run) => run.id),
  ]);
  const names: string[] = [];
  for (const run of candidate.runs) {
    if (run.fixed) names.push(run.fixed.id);
    else names.push(uniqueId(`run-${isoDate(run.slot.steepDay)}`, [...known, ...names]));
  }
  return names;
}

function countGoals(problem: Problem, brews: Plan["brews"], deliveries: Plan["maltDeliveries"]) {
  const made: [number, number, number] = [0, 0, 0];
  const asked: [number, number, number] = [0, 0, 0];
  let promisesHeld = 0;
  let tailMade = 0;
  const done = new Map(brews.map((brew) => [brew.id, brew]));
  const sold = new Set(deliveries.map((one) => one.contractId));
  for (const demand of problem.demands) {
    const brew = done.get(demand.id);
    const is = demand.kind === "brew" ? brew !== undefined : sold.has(demand.id);
    if (demand.class === 4) {
      if (is) tailMade++;
      continue;
    }
    const at = (demand.class - 1) as 0 | 1 | 2;
    asked[at]++;
    if (!is) continue;
    made[at]++;
    if (brew?.promiseHeld) promisesHeld++;
  }
  return { made, asked, promisesHeld, tailMade };
}

/** The wants of a candidate with exact weights, for the last stowing. */
export function exactWants(
  problem: Problem,
  evaluator: Evaluator,
  candidate: Candidate,
  weights: Weights,
  evaluation: Evaluation,
): Want[] {
  const { table } = evaluator;
  const raw = evaluation.rawWants.filter((want) =>
    weights.status[table.demand[-2 - want.key] as number] !== 0
  );
  return wantsOf(problem, candidate.runs, { drawG: weights.drawG, draw2G: weights.draw2G }, raw);
}
