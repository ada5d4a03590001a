/** An overfull malt store is a breach where the plan itself brought malt in, and nowhere else. */
import { expect, test } from "vitest";
import { auditPlan } from "../../../core/audit/audit.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import type { Season } from "../../../core/season/season.ts";
import { handPlan, run } from "./_hand-plan.ts";
import { handSeason } from "./_hand-season.ts";
import { of } from "./_variant.ts";

type Change = (season: Season, plan: Plan) => void;

/** 59 of 60 places are taken: 310 kg left of the opening pale, 400 kg held, 57 bags of a gram. */
function crowded(): { season: Season; plan: Plan } {
  const season = handSeason(), plan = handPlan();
  season.maltStore.places = 60;
  for (let bag = 0; bag < 57; bag++) {
    season.opening.malt.push({ ...structuredClone(season.opening.malt[0]!), id: `old-${bag}`, massG: 1 });
  }
  // The run under way is stripped on 21 January and needs two places; the booked one of 26 January is left out.
  plan.runs = plan.runs.slice(0, 1);
  plan.orders =
    plan.drums =
    plan.brews =
    plan.maltDeliveries =
      [];
  return { season, plan };
}

function crowds(change: Change): string[] {
  const { season, plan } = crowded();
  change(season, plan);
  return auditPlan(season, plan).filter(({ rule }) => rule === "malt-places").map(({ on, found }) =>
    `${on} ${found}`
  );
}

/** Four packs of crystal, one place. */
function order(arrivesOn: string, standing: "booked" | "not booked"): Change {
  return (_, plan) => {
    plan.orders = [{ ...handPlan().orders[0]!, standing, arrivesOn }];
  };
}

/** Takes the order's malt to a buyer. */
const sold = (on: string): Change => (_, plan) => {
  plan.maltDeliveries = [{ contractId: "sell-pale", on, from: [{ batchId: "crystal-1", massG: 100_000 }] }];
};

/** Two places are cleared by a count. */
const cleared = (on: string): Change => (season) => {
  for (const bag of [0, 1]) {
    season.records.adjustments.push({
      id: `gone-${bag}`,
      on,
      batchId: `old-${bag}`,
      deltaG: -1,
      reason: "thrown away",
    });
  }
};

const all = (...changes: Change[]): Change => (season, plan) =>
  changes.forEach((change) => change(season, plan));

const free = (standing: "booked" | "not booked"): Change => (_, plan) => {
  plan.runs.push({ ...of(handPlan().runs, "r2"), standing });
};

test.each<[string, Change, string[]]>([
  ["a run under way is stripped into a store with one place", () => {}, []],
  ["a booked run is stripped beside it", free("booked"), []],
  ["an order on its way arrives beside it", (season) => {
    const { standing: _s, massG: _m, bestBefore: _b, costCents: _c, ...recorded } = handPlan().orders[0]!;
    season.records.orders.push({ ...recorded, orderedOn: "2027-01-12", arrivesOn: "2027-01-22" });
  }, []],
  ["a booked order arrives beside it", order("2027-01-22", "booked"), []],
  ["an order of the plan arrives beside it", order("2027-01-22", "not booked"), ["2027-01-22 62 places"]],
  ["the plan's own run is stripped beside it", free("not booked"), ["2027-01-26 63 places"]],
  ["a drum load comes off beside it", (_, plan) => {
    const drum = { ...handPlan().drums[0]!, on: "2027-01-22" };
    plan.drums = [drum];
  }, ["2027-01-22 62 places"]],
  // On the 20th the order takes the last place; it is the run under way that overfills the store, with the order in it.
  ["an order of the held days lies there when it is stripped", order("2027-01-20", "not booked"), [
    "2027-01-21 62 places",
  ]],
  ["an order of the held days finds no place", (season, plan) => {
    season.maltStore.places = 59;
    order("2027-01-20", "not booked")(season, plan);
  }, ["2027-01-20 60 places"]],
  [
    "an order that has left the store by then",
    all(order("2027-01-20", "not booked"), sold("2027-01-21")),
    [],
  ],
  [
    "an order that comes in once there is room again",
    all(cleared("2027-01-25"), order("2027-01-26", "not booked")),
    [],
  ],
  [
    "an order that comes in on the day before",
    all(cleared("2027-01-25"), order("2027-01-24", "not booked")),
    [
      "2027-01-24 62 places",
    ],
  ],
  // What lies there at as-of is no licence for what the plan has delivered on that very day.
  ["an order of the day itself", (season, plan) => {
    season.maltStore.places = 59;
    order("2027-01-18", "not booked")(season, plan);
  }, ["2027-01-18 60 places"]],
  ["the store was fuller when the plan was made", (season, plan) => {
    season.maltStore.places = 10;
    all(cleared("2027-01-19"), cleared("2027-01-19"))(season, plan);
    plan.runs = [];
    order("2027-01-22", "not booked")(season, plan);
  }, []],
])("%s", (_, change, expected) => {
  expect(crowds(change)).toEqual(expected);
});

test("each stretch of a crowd is told once, and a run of the plan is named by its places", () => {
  const { season, plan } = crowded();
  plan.runs.push(
    run("2027-03-01", { id: "r9", draws: [{ lotId: "b", storeId: "bin-3", massG: 1_000_000 }] }),
  );
  const found = auditPlan(season, plan).filter(({ rule }) => rule === "malt-places");
  expect(found.map(({ message }) => message)).toEqual([
    "The malt store needs 63 places on 8 Mar 2027, 2 of them for malt that the plan brings in; it has 60.",
  ]);
});
