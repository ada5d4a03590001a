/** What has happened is a fact, however wrong it looks; only what is still to come is judged. */
import { expect, test } from "vitest";
import { auditPlan } from "../../../core/audit/audit.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import type { Season } from "../../../core/season/season.ts";
import { handPlan } from "./_hand-plan.ts";
import { handSeason } from "./_hand-season.ts";
import { of, pay, retime } from "./_variant.ts";

test.each<[string, (season: Season, plan: Plan) => void]>([
  ["the run under way was steeped and cast while nobody was there", (season) => {
    season.roster.closed.push({
      from: "2027-01-14",
      to: "2027-01-16",
      handOvers: ["steepIn", "castToBed"],
      reason: "x",
    });
  }],
  [
    "the run under way lies in a vessel of another stage and line, too small and not for its crop",
    (season, plan) => {
      const tub = { ...structuredClone(of(season.vessels, "kiln")), id: "tub", name: "Tub", line: "two" };
      tub.loadLimits = [{ crop: "rye", leastG: 0, greatestG: 1000 }];
      season.vessels.push(tub);
      season.records.runs[1]!.vesselIds.steep = "tub";
      of(plan.runs, "r1").vesselIds.steep = "tub";
    },
  ],
  ["the run under way is of a lot that is feed now, and was asleep", (season, plan) => {
    const lot = { ...structuredClone(of(season.lots, "a")), id: "z", use: "feed" as const, analyses: [] };
    season.lots.push(lot);
    season.opening.grain[0]!.massG -= 1_000_000;
    season.opening.grain.push({ lotId: "z", storeId: "bags", massG: 1_000_000 });
    const draws = [{ lotId: "z", storeId: "bags", massG: 1_000_000 }];
    season.records.runs[1]!.draws = structuredClone(draws);
    of(plan.runs, "r1").draws = structuredClone(draws);
  }],
  ["the grain of the run under way has lain too long already", (season, plan) => {
    // 49 hours at as-of; the profile it was begun with has been shortened since.
    const { made } = of(season.maltTypes, "pale");
    if (made.from !== "grain") throw new Error("pale is made from grain");
    const short = { ...structuredClone(made.profiles[0]!), id: "short" };
    short.bed = { least: 40, usual: 48, greatest: 48 };
    made.profiles.push(short);
    season.records.runs[1]!.profileId = "short";
    of(plan.runs, "r1").profileId = "short";
  }],
  ["the bed of the run under way is closed, and turned too seldom", (season) => {
    of(season.vessels, "bed").closures.push({
      from: "2027-01-17T00:00",
      to: "2027-01-20T08:00",
      reason: "leak",
    });
    season.people[0]!.away.push({ from: "2027-01-17", to: "2027-01-17", reason: "ill" });
  }],
  ["the opening stock overfills its bin", (season) => {
    const bin = of(season.stores, "bin-3");
    if (bin.kind === "bin") bin.shape = { kind: "volume", volumeL: 1000 };
  }],
  ["two lots lie in one bin since the opening", (season) => {
    season.opening.grain.push({ lotId: "w", storeId: "bin-3", massG: 1000 });
  }],
  ["a recorded brew was on a closed day, in a tank too small, with malt not ready", (season) => {
    season.brewhouse.closed.push({ from: "2027-01-12", to: "2027-01-12", reason: "closed" });
    season.records.brews[0]!.tanks[0]!.volumeL = 5000;
    season.opening.malt[0]!.readyOn = "2027-01-20";
  }],
  ["the malt store is overfull when the plan is made, and no fuller after", (season) => {
    season.maltStore.places = 0;
    for (let bag = 0; bag < 20; bag++) {
      season.opening.malt.push({ ...structuredClone(season.opening.malt[0]!), id: `old-${bag}`, massG: 1 });
    }
    // Old bags leave by a count of the day itself, so the plan never needs more than there was.
    for (let bag = 0; bag < 14; bag++) {
      season.records.adjustments.push({
        id: `count-${bag}`,
        on: "2027-01-19",
        batchId: `old-${bag}`,
        deltaG: -1,
        reason: "thrown away",
      });
    }
  }],
  ["more of a lot is recorded as used than lay there", (season) => {
    season.records.feedLoads.push({
      id: "fl0",
      pickupId: "other",
      on: "2027-01-11",
      items: [{ lotId: "g", storeId: "bin-3", massG: 10 }],
    });
    season.records.adjustments.push({
      id: "count-g",
      on: "2027-01-12",
      lotId: "g",
      storeId: "bin-3",
      deltaG: 10,
      reason: "found",
    });
  }],
  ["a little more of a lot is recorded as used than lay there", (season) => {
    // Nothing of it is left, and the book is two kilograms short: less than a thousandth of what was there.
    season.opening.grain.push({ lotId: "g", storeId: "bin-1", massG: 3_000_000 });
    season.records.feedLoads.push({
      id: "fl0",
      pickupId: "other",
      on: "2027-01-11",
      items: [{ lotId: "g", storeId: "bin-1", massG: 3_002_000 }],
    });
  }],
  ["more of a batch is recorded as brewed than there was", (season) => {
    const batch = { ...structuredClone(season.opening.malt[0]!), id: "old", massG: 1000 };
    season.opening.malt.push(batch);
    season.records.brews[0]!.grist.push({
      lineId: "base",
      from: { kind: "batch", batchId: "old" },
      massG: 500_000,
    });
  }],
  ["nobody wrote down when the run under way was cast", (season, plan) => {
    const under = season.records.runs[1]!;
    delete under.castAt;
    under.kilnAt = "2027-01-18T08:30";
    retime(
      of(plan.runs, "r1"),
      "2027-01-14T08:00",
      "2027-01-16T08:00",
      "2027-01-18T08:30",
      "2027-01-19T08:00",
    );
    const [malt] = of(plan.runs, "r1").outputs;
    malt!.readyOn = "2027-01-26";
    malt!.bestBefore = "2027-08-07";
  }],
  ["a booking that was done needs no answer", (season) => {
    season.bookings.brews.push({ brewId: "bx", on: "2027-01-13" });
    season.bookings.runs.push({
      ...structuredClone(season.bookings.runs[0]!),
      id: "r0",
      steepInAt: "2026-12-30T08:00",
    });
  }],
])("%s", (_, change) => {
  const season = handSeason(), plan = handPlan();
  change(season, plan);
  expect(auditPlan(season, plan)).toEqual([]);
});

test("a run under way of a malt that is only bought by now is a fact", () => {
  const season = handSeason(), plan = handPlan();
  of(season.maltTypes, "pale").made = { from: "bought" };
  const broken = auditPlan(season, plan).filter(({ rule }) => rule === "run-malt").map(({ thing }) => thing);
  expect(broken).toEqual(["r2", "r3", "r4", "r6"]);
});

test("what the records leave below nothing is nothing, and owes nothing to what the plan brings there", () => {
  const season = handSeason(), plan = handPlan();
  season.opening.grain.push({ lotId: "b", storeId: "bin-1", massG: 1_000_000 });
  season.records.feedLoads.push({
    id: "fl0",
    pickupId: "other",
    on: "2027-01-11",
    items: [{ lotId: "b", storeId: "bin-1", massG: 1_020_000 }],
  });
  // One tonne arrives in bin 1, and all of it is sold from there.
  Object.assign(plan.moves[0]!, { massG: 1_005_025, lossG: 5025 });
  pay(plan, "movesCents", 1505);
  plan.grainDeliveries[0]!.storeId = "bin-1";
  expect(auditPlan(season, plan)).toEqual([]);
  plan.moves[0]!.massG -= 1;
  const broken = auditPlan(season, plan).map(({ rule, thing }) => `${rule} ${thing}`);
  expect(broken).toEqual(["lot-overdrawn b"]);
});

test("a bin that the records overdraw is clean so many days after the last taking, not after as-of", () => {
  const season = handSeason(), plan = handPlan();
  season.opening.grain.push({ lotId: "g", storeId: "bin-1", massG: 1000 });
  const load = {
    id: "fl0",
    pickupId: "other",
    on: "2027-01-11",
    items: [{ lotId: "g", storeId: "bin-1", massG: 1001 }],
  };
  season.records.feedLoads.push(load);
  // Lot B comes into bin 1 on 5 February, 25 days after the load.
  const bin = of(season.stores, "bin-1");
  if (bin.kind === "bin") bin.turnaroundDays = 25;
  const blamed = () => auditPlan(season, plan).filter(({ message }) => message.includes("lot g"));
  expect(blamed()).toEqual([]);
  load.on = "2027-01-12";
  expect(blamed().map(({ rule }) => rule)).toEqual(["bin-turnaround"]);
});

test("malt that the records leave below nothing is not missing from the reserve", () => {
  const season = handSeason();
  season.opening.malt.push({
    ...structuredClone(season.opening.malt[0]!),
    id: "old",
    ingredient: { kind: "malt", maltId: "munich" },
    massG: 1000,
  });
  season.records.brews[0]!.grist.push({
    lineId: "base",
    from: { kind: "batch", batchId: "old" },
    massG: 600_000,
  });
  expect(auditPlan(season, handPlan())).toEqual([]);
});

test("what the plan takes beyond what the records took is still a breach of dry matter", () => {
  const season = handSeason(), plan = handPlan();
  season.records.feedLoads.push({
    id: "fl0",
    pickupId: "other",
    on: "2027-01-11",
    items: [{ lotId: "g", storeId: "bin-1", massG: 1000 }],
  });
  of(plan.feedLoads, "fl1").items.push({ lotId: "g", storeId: "bin-1", massG: 100_000 });
  const rules = auditPlan(season, plan).map(({ rule, thing }) => `${rule} ${thing}`);
  expect(rules).toContain("lot-overdrawn g");
  expect(rules).toContain("dry-matter-lot g");
});

test("a refused brew may be made on another day, and is then not booked", () => {
  const season = handSeason(), plan = handPlan();
  season.bookings.brews[0]!.on = "2027-01-26";
  plan.cannotKeep.push({ kind: "brew", id: "b1", why: "The tank is not free." });
  of(plan.brews, "b1").standing = "not booked";
  expect(auditPlan(season, plan)).toEqual([]);
});

test("malt on order at as-of may be brewed once it has come, whether or not the plan repeats the order", () => {
  const season = handSeason(), plan = handPlan();
  season.records.orders.push({
    id: "o0",
    offerId: "offer-crystal",
    orderedOn: "2027-01-12",
    arrivesOn: "2027-04-14",
    packs: 4,
    batchId: "crystal-0",
  });
  season.maltStore.places = 99;
  of(plan.brews, "b5").grist[2]!.from = { kind: "batch", batchId: "crystal-0" };
  expect(auditPlan(season, plan)).toEqual([]);
  plan.orders.push({
    ...season.records.orders[0]!,
    standing: "under way",
    massG: 100_000,
    bestBefore: "2028-02-08",
    costCents: 1,
  });
  expect(auditPlan(season, plan)).toEqual([]);
  season.records.orders[0]!.arrivesOn = "2027-04-15";
  expect(auditPlan(season, plan).map((breach) => breach.rule)).toEqual(["malt-not-ready"]);
});
