/** Malt that records say was delivered under a contract: what it takes from its batch, and what it leaves due. */
import { describe, expect, test } from "vitest";
import { auditPlan } from "../../../core/audit/audit.ts";
import { context } from "../../../core/audit/context.ts";
import { batchG } from "../../../core/audit/malt-book.ts";
import { dayNumber } from "../../../core/calendar.ts";
import { type Plan, planSchema } from "../../../core/plan/plan.ts";
import type { MaltDelivery } from "../../../core/season/records.ts";
import { type Season, seasonSchema } from "../../../core/season/season.ts";
import { handPlan } from "./_hand-plan.ts";
import { handSeason } from "./_hand-season.ts";
import { of, pay } from "./_variant.ts";

type Change = (season: Season, plan: Plan) => void;
type Delivered = Partial<MaltDelivery> & { massG: number };

/** Records deliveries; what is not said is the opening malt to a buyer of before, whose window was over before Christmas. */
const delivered = (...parts: Delivered[]): Change => (season) => {
  // Malt that is not sold again stays in the store.
  season.maltStore.places = 99;
  season.contracts.push(
    {
      ...of(season.contracts, "sell-pale"),
      id: "sell-old",
      from: "2026-12-01",
      to: "2026-12-20",
    } as Season["contracts"][number],
  );
  season.records.maltDeliveries = parts.map((part, place) => ({
    id: `gone-${place}`,
    contractId: "sell-old",
    on: "2027-01-11",
    batchId: "open-pale",
    ...part,
  }));
};

/** The plan delivers this under the contract of 300 kg, at 15 cents a hundred grams, from its usual batch. */
const delivers = (massG: number): Change => (_, plan) => {
  plan.maltDeliveries[0]!.from[0]!.massG = massG;
  pay(plan, "salesCents", -20_000 - Math.round(massG * 0.15));
};

/** The plan does not deliver, and does not count the contract. */
const silent: Change = (_, plan) => {
  plan.maltDeliveries = [];
  Object.assign(plan.goals, { made: [2, 2, 0], asked: [2, 2, 1] });
  pay(plan, "salesCents", -20_000);
};

function breaches(...changes: Change[]) {
  const season = handSeason(), plan = handPlan();
  changes.forEach((change) => change(season, plan));
  return auditPlan(seasonSchema.parse(season), planSchema.parse(plan));
}

const rules = (...changes: Change[]) => breaches(...changes).map(({ rule }) => rule);

/** What the recorded brew and the plan's own leave of the opening malt. */
const LEFT_G = 500_000 - 190_000 - of(handPlan().brews, "b1").grist[0]!.massG;
const SALE = "sell-pale";

describe("a delivery takes its weight from its batch", () => {
  test("so that what is left may be used, and no gram more", () => {
    expect(rules(delivered({ massG: LEFT_G }))).toEqual([]);
    expect(rules(delivered({ massG: LEFT_G + 1 }))).toEqual(["batch-overdrawn"]);
    expect(rules(delivered({ massG: LEFT_G }, { massG: 1 }))).toEqual(["batch-overdrawn"]);
    expect(rules(delivered({ massG: LEFT_G }, { massG: 1, batchId: "held-pale" }))).toEqual([]);
  });

  test("from the day of the opening position on; what is older is in the stocks", () => {
    expect(rules(delivered({ massG: LEFT_G + 1, on: "2027-01-04" }))).toEqual(["batch-overdrawn"]);
    expect(rules(delivered({ massG: 500_000, on: "2027-01-03" }))).toEqual([]);
  });

  test("on its day", () => {
    const season = handSeason(), plan = handPlan();
    delivered({ massG: 1000 })(season, plan);
    const batch = context(season, plan).malt.batches.get("open-pale")!;
    expect(batchG(batch, dayNumber("2027-01-10"))).toBe(500_000);
    expect(batchG(batch, dayNumber("2027-01-11"))).toBe(499_000);
    expect(batchG(batch, dayNumber("2027-01-12"))).toBe(309_000);
  });

  test("and what it overdraws is missing nowhere", () => {
    // A debt of Munich malt would be short against its reserve.
    const munich: Change = (season) => {
      const ingredient = { kind: "malt" as const, maltId: "munich" };
      season.opening.malt.push({ ...season.opening.malt[0]!, id: "old", ingredient, massG: 1000 });
    };
    expect(rules(munich, delivered({ massG: 600_000, batchId: "old" }))).toEqual([]);
  });
});

describe("what is due", () => {
  test("is what no record has delivered", () => {
    const part = delivered({ massG: 120_000, contractId: SALE, batchId: "held-pale" });
    expect(rules(part, delivers(180_000))).toEqual([]);
    expect(rules(part, delivers(179_999))).toEqual(["malt-contract"]);
    expect(rules(part, delivers(180_001))).toEqual(["malt-contract"]);
    expect(rules(part, delivers(300_000))).toEqual(["malt-contract"]);
  });

  test("whatever batch and day", () => {
    const parts = delivered(
      { massG: 100_000, contractId: SALE, on: "2027-01-03", batchId: "held-pale" },
      { massG: 20_000, contractId: SALE, on: "2027-01-18" },
      { massG: 10_000, contractId: SALE, batchId: "gone", on: "2026-10-01" },
    );
    expect(rules(parts, delivers(170_000))).toEqual([]);
  });

  test("but not under another contract", () => {
    expect(rules(delivered({ massG: 50_000 }))).toEqual([]);
    expect(rules(delivered({ massG: 50_000 }), delivers(250_000))).toEqual(["malt-contract"]);
  });

  test("is never less than nothing", () => {
    const found = breaches(
      delivered({ massG: 400_000, contractId: SALE, batchId: "held-pale" }),
      silent,
      (_, plan) => {
        plan.maltDeliveries = handPlan().maltDeliveries;
        pay(plan, "salesCents", -65_000);
      },
    );
    expect(found.map(({ rule, limit }) => `${rule}: ${limit}`)).toEqual(["malt-contract: 0 kg"]);
  });
});

describe("a contract is asked while something is due", () => {
  const whole = delivered({ massG: 300_000, contractId: SALE, batchId: "held-pale" });

  test("and with nothing due needs no answer and counts nowhere", () => {
    expect(rules(whole, silent)).toEqual([]);
    const counted = (counts: Partial<Plan["goals"]>): Change => (_, plan) =>
      Object.assign(plan.goals, counts);
    expect(rules(whole, silent, counted({ asked: [3, 2, 1] }))).toEqual(["goal-counts"]);
    expect(rules(whole, silent, counted({ made: [3, 2, 0] }))).toEqual(["goal-counts"]);
  });

  test("to the last gram", () => {
    const almost = delivered({ massG: 299_999, contractId: SALE, batchId: "held-pale" });
    expect(rules(almost, silent)).toEqual(["contract-missing", "goal-counts"]);
    expect(rules(almost, delivers(1))).toEqual([]);
  });

  test("and its window is not over", () => {
    const over: Change = (season) => {
      Object.assign(of(season.contracts, SALE), { from: "2027-01-01", to: "2027-01-17" });
    };
    expect(rules(delivered({ massG: 1, contractId: SALE }), over, silent)).toEqual([]);
  });

  test("and no delivery stands where nothing is, be it of no weight", () => {
    for (const massG of [300_000, 1, 0]) {
      const stands: Change = (_, plan) => {
        plan.maltDeliveries = handPlan().maltDeliveries;
        delivers(massG)(handSeason(), plan);
      };
      const found = breaches(whole, silent, stands);
      expect(found.map(({ rule }) => rule)).toEqual(["malt-contract"]);
      expect(found[0]!.message).toBe(
        "The delivery to A small brewery under sell-pale stands in the plan, but nothing is due.",
      );
    }
  });
});

test("only what the plan delivers brings money", () => {
  const part = delivered({ massG: 100_000, contractId: SALE, batchId: "held-pale" });
  expect(rules(part, delivers(200_000))).toEqual([]);
  const paid: Change = (_, plan) => pay(plan, "salesCents", -65_000);
  expect(rules(part, delivers(200_000), paid)).toEqual(["money-part"]);
});

test.each<[string, Delivered, Change?]>([
  ["of another malt", { massG: 1000, contractId: SALE, batchId: "crystal-0" }, delivers(299_000)],
  ["of malt that is held", { massG: 1000, batchId: "held-pale" }],
  ["of malt that was not ready", { massG: 1000 }, (season) => {
    season.opening.malt[0]!.readyOn = "2027-01-20";
  }],
  ["of malt of a lot that has failed", { massG: 1000, batchId: "crystal-0" }, (season) => {
    const old = season.opening.malt.at(-1)!;
    Object.assign(old, { ingredient: { kind: "malt", maltId: "pale" }, lotIds: ["c"] });
  }],
  ["of malt past its last day", { massG: 1000, batchId: "crystal-0" }, (season) => {
    season.opening.malt.at(-1)!.bestBefore = "2027-01-10";
  }],
  ["of another owner's malt", { massG: 1000, batchId: "crystal-0" }, (season) => {
    season.opening.malt.at(-1)!.lotIds = ["g"];
    of(season.lots, "g").owner = "A neighbour";
  }],
  ["of other lots than the customer's", { massG: 1000, contractId: "sell-old" }, (season) => {
    Object.assign(of(season.contracts, "sell-old"), { lotIds: ["b"] });
  }],
  ["outside its window", { massG: 1000, contractId: SALE }, delivers(299_000)],
  ["of more than was sold", { massG: 350_000, contractId: SALE, batchId: "held-pale" }, silent],
  ["under a contract to sell grain", { massG: 1000, contractId: "sell-b" }],
  ["under a contract nobody knows", { massG: 1000, contractId: "gone" }],
  ["from a batch nobody knows", { massG: 1000, batchId: "gone" }],
  ["from a batch that the plan has yet to make", { massG: 100_000, batchId: "r1-pale" }],
  ["from a drum load that is still to come", { massG: 60_000, batchId: "toasted-1" }],
])("a recorded delivery %s is a fact", (_, part, change = () => {}) => {
  const crystal: Change = (season) => {
    const ingredient = { kind: "malt" as const, maltId: "crystal" };
    season.opening.malt.push({ ...season.opening.malt[0]!, id: "crystal-0", ingredient, massG: 1000 });
  };
  expect(breaches(crystal, delivered(part), change)).toEqual([]);
});
