/** Stocks are counted at the opening position, so what is dated before it is in them, though somebody has recorded it. */
import { expect, test } from "vitest";
import { auditPlan } from "../../../core/audit/audit.ts";
import { context } from "../../../core/audit/context.ts";
import { batchG } from "../../../core/audit/malt-book.ts";
import { bookAt } from "../../../core/book/book.ts";
import { dayNumber } from "../../../core/calendar.ts";
import { ledger } from "../../../core/season/check/ledger.ts";
import type { Season } from "../../../core/season/season.ts";
import { handPlan } from "./_hand-plan.ts";
import { handSeason } from "./_hand-season.ts";

/** The day before the opening position. */
const on = "2027-01-03";
const TODAY = dayNumber("2027-01-18");
const at = (massG: number) => ({ lotId: "b", storeId: "bin-3", massG });
const bad = { on, reason: "weighed", deltaG: -1_000_000 };
const brew = (grist: Season["records"]["brews"][number]["grist"]) => ({
  brewId: "b0",
  on,
  tanks: [{ tankId: "t1", volumeL: 1000 }],
  grist,
});

/** Weights by all three books: of the auditor, of the planner, and of the season check. */
function books(change: (season: Season) => void) {
  const season = handSeason(), plan = handPlan();
  change(season);
  expect(auditPlan(season, plan)).toEqual([]);
  const { grain, malt } = context(season, plan), book = bookAt(season, plan.asOf);
  const told = ledger({ season, asOf: plan.asOf, today: TODAY, tell: () => {} });
  const stored = ["bin-1", "bin-3", "bags"].map((storeId) => [
    grain.stockG("b", storeId, TODAY),
    book.grain.get("b")?.get(storeId) ?? 0,
    told.grain.get(`b in ${storeId}`)?.balanceG ?? 0,
  ]);
  const batches = ["open-pale", "held-pale"].map((id) => [
    batchG(malt.batches.get(id)!, TODAY),
    book.batches.find((batch) => batch.id === id)?.massG ?? 0,
    told.malt.get(id)?.balanceG ?? 0,
  ]);
  return { stored, batches };
}

const GRAIN = [[0, 0, 0], [5_000_000, 5_000_000, 5_000_000], [0, 0, 0]];
const MALT = [[310_000, 310_000, 310_000], [400_000, 400_000, 400_000]];

test("the books agree on what lies there", () => {
  expect(books(() => {})).toEqual({ stored: GRAIN, batches: MALT });
});

test.each<[string, (season: Season) => void]>([
  ["a brew of raw grain", ({ records }) => {
    const from = { kind: "lot" as const, lotId: "b", storeId: "bin-3" };
    records.brews.push(brew([{ lineId: "base", from, massG: 1000 }]));
  }],
  ["a brew of malt", ({ records }) => {
    const from = { kind: "batch" as const, batchId: "open-pale" };
    records.brews.push(brew([{ lineId: "base", from, massG: 300_000 }]));
  }],
  ["a feed load", ({ records }) => {
    records.feedLoads.push({ id: "old", pickupId: "other", on, items: [at(4_000_000)] });
  }],
  ["a move", ({ records }) => {
    const [fromStoreId, toStoreId] = ["bin-3", "bin-1"] as const;
    records.moves.push({ id: "old", on, lotId: "b", fromStoreId, toStoreId, massG: 1000, lossG: 0 });
  }],
  ["a mix", ({ records }) => {
    records.mixes.push({ id: "old", on, parents: [at(1000)], intoLotId: "b", storeId: "bin-1" });
  }],
  ["a delivery", ({ records }) => {
    records.deliveries.push({ id: "old", contractId: "gone", on, ...at(1000) });
  }],
  ["a delivery of malt", ({ records }) => {
    records.maltDeliveries = [{ id: "old", contractId: "gone", on, batchId: "open-pale", massG: 300_000 }];
  }],
  ["a count of grain", ({ records }) => {
    records.adjustments.push({ id: "old", lotId: "b", storeId: "bin-3", ...bad });
  }],
  ["a count of malt", ({ records }) => {
    records.adjustments.push({ id: "old", batchId: "open-pale", ...bad });
  }],
  ["a fill", ({ records }) => void records.fills.push({ id: "old", on, ...at(1000) })],
  ["a run that was stripped, even under the id of a batch that was counted", ({ records }) => {
    const old = structuredClone(records.runs[0]!);
    Object.assign(old, { id: "old", steepInAt: "2026-12-20T08:00", castAt: "2026-12-22T08:00" });
    Object.assign(old, { kilnAt: "2026-12-26T08:00", stripAt: "2026-12-27T08:00" });
    old.outputs[0]!.batchId = "open-pale";
    records.runs.push(old);
  }],
  ["an order that had come, even under the id of a batch that was counted", ({ records }) => {
    records.orders.push({
      id: "old",
      offerId: "offer-crystal",
      orderedOn: "2026-12-22",
      arrivesOn: on,
      packs: 4,
      batchId: "open-pale",
    });
  }],
])("%s before the opening position changes no stock", (_, change) => {
  expect(books(change)).toEqual({ stored: GRAIN, batches: MALT });
});

test("on the day of the opening position it does", () => {
  const season = handSeason();
  season.records.fills.push({ id: "new", on: "2027-01-04", ...at(1000) });
  expect(bookAt(season, season.asOf).grain.get("b")?.get("bin-3")).toBe(5_001_000);
});

test("so does malt delivered on that day, by all three books", () => {
  const sold = { id: "new", contractId: "gone", on: "2027-01-04", batchId: "open-pale", massG: 1000 };
  const { batches } = books(({ records }) => void (records.maltDeliveries = [sold]));
  expect(batches).toEqual([[309_000, 309_000, 309_000], MALT[1]]);
});

test("a beer of before still stands in its tank", () => {
  const season = handSeason();
  season.records.brews = [brew([])];
  // Filled on 3 January for 20 days.
  const free = dayNumber("2027-01-23") + season.tanks[0]!.turnaroundDays;
  expect(bookAt(season, season.asOf).tankFree.get("t1")).toBe(free);
});
