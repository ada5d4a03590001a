/** Orders of all malts together in a malt store that gets smaller and smaller. */
import { expect, test } from "vitest";
import { makeSeason } from "../../../core/generate/make-season.ts";
import type { CellarBatch } from "../../../core/search/cellar.ts";
import { counted } from "../../../core/search/counted.ts";
import { fillBrews } from "../../../core/search/fill-brews.ts";
import { settledEffort } from "../../../core/search/finish.ts";
import { weightsOf } from "../../../core/search/finish-weights.ts";
import { ordersThatFit } from "../../../core/search/fit-orders.ts";
import { placesOver } from "../../../core/search/money.ts";
import { outturn } from "../../../core/search/outturn.ts";
import { placeOrders, plannedOrders } from "../../../core/search/place-orders.ts";
import type { Settling } from "../../../core/search/settling.ts";
import { loadHighs } from "../../_support/highs.ts";
import { plainStart } from "./_plain-start.ts";

const highs = await loadHighs();
const SPANS = [Infinity, 60, 25, 10, 3, 0];

/** What is to be settled for a season, with the batches of its runs; the malt store is given later. */
function startOf(seed: number) {
  const start = plainStart(makeSeason("small", seed));
  const by = settledEffort({ ...start, highs });
  const { kept: candidate, evaluation } = counted(start.evaluator, start.candidate, by.effort.breadth);
  const how = {
    room: 1,
    tightDays: [],
    fixedLoads: false,
    whole: false,
    near: null,
    orders: null,
    padded: new Set<number>(),
  };
  const weights = weightsOf(by, candidate, evaluation, new Float64Array(start.problem.lots.length), how);
  const { stowage } = evaluation;
  const settling: Settling = { ...start, candidate, evaluation, weights, stowage, noRoomFor: new Set() };
  const made = candidate.runs.flatMap((run, i): CellarBatch[] =>
    outturn(start.problem, run, `r${i}`, i, stowage.taken.filter((one) => one.key === i))?.batches ?? []
  );
  return { settling, made };
}

function inStore({ settling, made }: ReturnType<typeof startOf>, places: number) {
  const { season } = settling.problem;
  const maltStore = { ...season.maltStore, places };
  const problem = { ...settling.problem, season: { ...season, maltStore } };
  return { settling: { ...settling, problem }, made };
}

/** Cents of the first orders that fit, all malts ordered for the same days of need; null where none fit. */
function alikeCents({ settling, made }: ReturnType<typeof startOf>): number | null {
  const { problem } = settling;
  for (const spanDays of SPANS) {
    const { batches, ordersCents } = placeOrders(
      settling,
      problem.materials.map((one) => plannedOrders(settling, one, { spanDays }) ?? []),
    );
    const all = [...made.map((batch) => ({ ...batch })), ...batches];
    if (placesOver(problem, all, fillBrews(settling, all).takings).placeDays === 0) return ordersCents;
  }
  return null;
}

test("fit wherever orders for the same days do, cost no more, and often less", () => {
  let tight = 0, cheaper = 0;
  for (const seed of [442, 445, 448, 449]) {
    const start = startOf(seed);
    const ample =
      ordersThatFit(...Object.values(inStore(start, 1e6)) as [Settling, CellarBatch[]]).ordersCents;
    for (const places of [80, 60, 50, 40, 35, 30, 25, 20]) {
      const stored = inStore(start, places);
      const alike = alikeCents(stored);
      const found = ordersThatFit(stored.settling, stored.made);
      if (alike === null) continue;
      expect(found.over.placeDays).toBe(0);
      expect(found.ordersCents).toBeLessThanOrEqual(alike);
      expect(found.ordersCents).toBeGreaterThanOrEqual(ample);
      if (alike > ample) tight++;
      if (found.ordersCents < alike) cheaper++;
    }
  }
  expect(tight).toBeGreaterThan(4);
  expect(cheaper / tight).toBeGreaterThan(0.5);
});
