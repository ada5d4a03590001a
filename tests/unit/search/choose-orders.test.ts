/** Orders chosen with the weights: fewer and larger ones where brews can take their malt while it lasts. */
import { describe, expect, test } from "vitest";
import { auditPlan } from "../../../core/audit/audit.ts";
import { dayNumber } from "../../../core/calendar.ts";
import { makeSeason } from "../../../core/generate/make-season.ts";
import { makeNaivePlan } from "../../../core/plan/make.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import { ORDER_ROOMS } from "../../../core/plan/rounds.ts";
import { chooseOrders } from "../../../core/search/choose-orders.ts";
import { finish, type Finishing, settledEffort } from "../../../core/search/finish.ts";
import { doneBy } from "../../../core/search/run-exchange.ts";
import type { WholeOrder } from "../../../core/search/weights.ts";
import { loadHighs } from "../../_support/highs.ts";
import { plainStart } from "./_plain-start.ts";

const highs = await loadHighs();
const SEEDS = [2, 3, 4, 441, 442, 445, 447, 448, 449, 450];

const withOrders = (by: Finishing, orders: readonly WholeOrder[]): Finishing => ({
  ...by,
  effort: { ...by.effort, orders },
});

/** A season planned without a search. */
async function planned(seed: number) {
  const season = makeSeason("small", seed);
  const start = plainStart(season);
  const by = settledEffort({ ...start, highs });
  const naive = await makeNaivePlan(season, { seed: 1, iterations: 0, highs });
  const plan: Plan = { ...naive, ...finish(by, start.candidate) };
  return { season, ...start, by, plan, done: doneBy(start.problem, plan) };
}

// A crowded malt store mostly holds no larger orders, and is weighed in another way.
const all = (await Promise.all(SEEDS.map(planned))).filter(({ by }) => !by.evaluator.hurry.crowded);
const found = all.map((of) => {
  const tries = ORDER_ROOMS.flatMap((room) => {
    const { by, candidate, plan, done } = of;
    const orders = chooseOrders(by, candidate, plan, room);
    return orders
      ? [{ ...of, orders, better: { ...plan, ...finish(withOrders(by, orders), candidate, done) } }]
      : [];
  });
  return tries.find(isTaken) ?? tries[0];
}).filter((one) => one !== undefined);

interface Chosen extends Awaited<ReturnType<typeof planned>> {
  orders: readonly WholeOrder[];
  better: Plan;
}

/** Whether the orders stand as chosen and nothing is lost: the model does not see what places bags that are begun take. */
function isTaken({ problem, orders, done, better }: Chosen): boolean {
  const malts = better.orders.filter(({ standing, offerId }) =>
    standing === "not booked" &&
    problem.materials[problem.offers.find(({ id }) => id === offerId)!.material]!.malt
  ).map((one) => `${one.offerId} ${dayNumber(one.arrivesOn)} ${one.packs}`);
  const own = orders.map(({ offer, day, packs }) => `${problem.offers[offer]!.id} ${day} ${packs}`);
  return malts.sort().join() === own.sort().join() &&
    doneBy(problem, better).every((one, index) => one >= done[index]!);
}

describe("orders chosen with the weights", () => {
  test("are found for some seasons, in whole packs of at least the least, on days the plan ordered for", () => {
    expect(found.length).toBeGreaterThan(2);
    for (const { problem, plan, orders } of found) {
      const planned = new Set(plan.orders.map((one) => `${one.offerId} ${dayNumber(one.arrivesOn)}`));
      for (const { offer, day, packs } of orders) {
        expect(Number.isInteger(packs)).toBe(true);
        expect(packs).toBeGreaterThanOrEqual(problem.offers[offer]!.leastPacks);
        expect(planned.has(`${problem.offers[offer]!.id} ${day}`)).toBe(true);
      }
    }
  });

  test("are the plan's orders of malt as they stand, with what it made and kept, for less", () => {
    let kept = 0, saved = 0, ordered = 0;
    for (const one of found) {
      expect(auditPlan(one.season, one.better)).toEqual([]);
      if (!isTaken(one)) continue;
      kept++;
      expect(one.better.goals.moneyCents).toBeLessThan(one.plan.goals.moneyCents);
      saved += one.plan.goals.moneyCents - one.better.goals.moneyCents;
      ordered += one.plan.goals.money.ordersCents;
    }
    expect(kept / found.length).toBeGreaterThan(0.5);
    expect(saved / ordered).toBeGreaterThan(0.01);
  });

  test("leave nothing to choose once more", () => {
    for (const one of found) {
      const { candidate, by, done, better } = one;
      if (!isTaken(one)) continue;
      const again = chooseOrders(by, candidate, better, 1);
      const next = again && finish(withOrders(by, again), candidate, done);
      if (next) expect(next.goals.moneyCents).toBeGreaterThan(better.goals.moneyCents * 0.98);
    }
  });
});

test("nothing is chosen where nothing is ordered, or when it is stopped", () => {
  for (const { by, candidate, plan } of all) {
    expect(chooseOrders(by, candidate, { ...plan, orders: [] }, 1)).toBeNull();
    expect(chooseOrders(by, candidate, plan, 1, () => true)).toBeNull();
  }
});
