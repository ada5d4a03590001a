/** Bookings of every kind: kept as they are, changed in any field, left out, refused, or done. */
import { describe, expect, test } from "vitest";
import { auditPlan } from "../../../core/audit/audit.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import type { Season } from "../../../core/season/season.ts";
import { handPlan } from "./_hand-plan.ts";
import { handSeason } from "./_hand-season.ts";
import { of } from "./_variant.ts";

/** The hand-written season and plan with a booked order, feed load and move beside the booked run and brew. */
function booked() {
  const season = handSeason(), plan = handPlan();
  const [order] = plan.orders, [load] = plan.feedLoads, [move] = plan.moves;
  for (const thing of [order, load, move]) thing!.standing = "booked";
  const { id, offerId, orderedOn, arrivesOn, packs, batchId } = order!;
  season.bookings.orders.push({ id, offerId, orderedOn, arrivesOn, packs, batchId });
  season.bookings.feedLoads.push({
    id: load!.id,
    pickupId: load!.pickupId,
    on: load!.on,
    items: structuredClone(load!.items),
  });
  const { standing: _standing, ...moved } = move!;
  season.bookings.moves.push({ ...moved });
  return { season, plan };
}

const bookingRules = (season: Season, plan: Plan) =>
  auditPlan(season, plan).filter(({ rule }) => rule.startsWith("booking-")).map(({ rule, thing }) =>
    `${rule} ${thing}`
  );

test("all kept as booked", () => {
  const { season, plan } = booked();
  expect(auditPlan(season, plan)).toEqual([]);
});

describe("changed in one field", () => {
  test.each<[string, (season: Season) => void]>([
    ["r2", ({ bookings }) => bookings.runs[0]!.draws[0]!.massG += 1],
    ["r2", ({ bookings }) => bookings.runs[0]!.draws[0]!.lotId = "b"],
    ["r2", ({ bookings }) => bookings.runs[0]!.draws[0]!.storeId = "bin-3"],
    ["r2", ({ bookings }) => bookings.runs[0]!.draws.push({ lotId: "b", storeId: "bin-3", massG: 1 })],
    ["r2", ({ bookings }) => bookings.runs[0]!.maltId = "munich"],
    ["r2", ({ bookings }) => bookings.runs[0]!.profileId = "munich-usual"],
    ["r2", ({ bookings }) => bookings.runs[0]!.vesselIds.kiln = "bed"],
    ["r2", ({ bookings }) => bookings.runs[0]!.steepInAt = "2027-01-19T08:01"],
    ["r2", ({ bookings }) => bookings.runs[0]!.castAt = "2027-01-21T08:01"],
    ["r2", ({ bookings }) => bookings.runs[0]!.kilnAt = "2027-01-25T08:01"],
    ["r2", ({ bookings }) => bookings.runs[0]!.stripAt = "2027-01-26T08:01"],
    ["b1", ({ bookings }) => bookings.brews[0]!.on = "2027-01-28"],
    ["o1", ({ bookings }) => of(bookings.orders, "o1").offerId = "other"],
    ["o1", ({ bookings }) => of(bookings.orders, "o1").orderedOn = "2027-01-27"],
    ["o1", ({ bookings }) => of(bookings.orders, "o1").arrivesOn = "2027-02-03"],
    ["o1", ({ bookings }) => of(bookings.orders, "o1").packs = 5],
    ["o1", ({ bookings }) => of(bookings.orders, "o1").batchId = "other"],
    ["fl1", ({ bookings }) => bookings.feedLoads[0]!.on = "2027-07-05"],
    ["fl1", ({ bookings }) => bookings.feedLoads[0]!.pickupId = "other"],
    ["fl1", ({ bookings }) => bookings.feedLoads[0]!.items[0]!.massG -= 1],
    ["mv1", ({ bookings }) => bookings.moves[0]!.on = "2027-02-06"],
    ["mv1", ({ bookings }) => bookings.moves[0]!.lotId = "a"],
    ["mv1", ({ bookings }) => bookings.moves[0]!.fromStoreId = "bin-2"],
    ["mv1", ({ bookings }) => bookings.moves[0]!.toStoreId = "bin-2"],
    ["mv1", ({ bookings }) => bookings.moves[0]!.massG += 1],
    ["mv1", ({ bookings }) => bookings.moves[0]!.lossG += 1],
  ])("%s, change %#", (thing, change) => {
    const { season, plan } = booked();
    change(season);
    expect(bookingRules(season, plan)).toEqual([`booking-kept ${thing}`]);
  });
});

const KINDS = [
  ["run", "r2"],
  ["brew", "b1"],
  ["order", "o1"],
  ["feed load", "fl1"],
  ["move", "mv1"],
] as const;

function without(plan: Plan, id: string): void {
  for (const list of [plan.runs, plan.brews, plan.orders, plan.feedLoads, plan.moves]) {
    const place = list.findIndex((thing) => thing.id === id);
    if (place >= 0) list.splice(place, 1);
  }
}

describe.each(KINDS)("a booked %s", (kind, id) => {
  test("left out", () => {
    const { season, plan } = booked();
    without(plan, id);
    expect(bookingRules(season, plan)).toEqual([`booking-kept ${id}`]);
  });

  test("left out, with the reason", () => {
    const { season, plan } = booked();
    without(plan, id);
    plan.cannotKeep.push({ kind, id, why: "It has become impossible." });
    expect(bookingRules(season, plan)).toEqual([]);
  });

  test("the reason given for another kind of that id is none", () => {
    const { season, plan } = booked();
    without(plan, id);
    plan.cannotKeep.push({ kind: kind === "run" ? "brew" : "run", id, why: "It has become impossible." });
    expect(bookingRules(season, plan)).toEqual([`booking-kept ${id}`]);
  });

  test("kept and refused", () => {
    const { season, plan } = booked();
    plan.cannotKeep.push({ kind, id, why: "It has become impossible." });
    expect(bookingRules(season, plan)).toEqual([`booking-both ${id}`]);
  });

  test("done: a record answers it", () => {
    const { season, plan } = booked();
    without(plan, id);
    const { records, bookings } = season;
    const [run] = bookings.runs, [brew] = records.brews;
    if (kind === "run") records.runs.push({ ...run!, outputs: [] });
    if (kind === "brew") records.brews.push({ ...structuredClone(brew!), brewId: id });
    if (kind === "order") records.orders.push(of(bookings.orders, id));
    if (kind === "feed load") records.feedLoads.push(of(bookings.feedLoads, id));
    if (kind === "move") records.moves.push(of(bookings.moves, id));
    expect(bookingRules(season, plan)).toEqual([]);
  });
});

describe("runs under way", () => {
  test("left out", () => {
    const season = handSeason(), plan = handPlan();
    without(plan, "r1");
    const found = auditPlan(season, plan).find(({ rule }) => rule === "under-way-run");
    expect(found?.message).toContain("does not hold it");
  });

  test.each(["stripAt", "endedAt"] as const)("over with its %s, but not before it", (end) => {
    const season = handSeason(), plan = handPlan(), under = season.records.runs[1]!;
    if (end === "stripAt") under.kilnAt = "2027-01-17T08:00";
    const rules = (at: string) => {
      under[end] = at;
      return auditPlan(season, plan).filter(({ rule, thing }) => rule === "standing" && thing === "r1")
        .length;
    };
    expect(rules("2027-01-18T09:00")).toBe(1);
    expect(rules("2027-01-18T09:01")).toBe(0);
  });
});
