import type { Highs } from "highs";
import { beforeAll, describe, expect, test } from "vitest";
import { auditPlan } from "../../../core/audit/audit.ts";
import { makePlan } from "../../../core/plan/make.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import { type Season, seasonSchema } from "../../../core/season/season.ts";
import { loadHighs } from "../../_support/highs.ts";
import { handSeason } from "../audit/_hand-season.ts";

let highs: Highs;
beforeAll(async () => {
  highs = await loadHighs();
});

/** The hand-written season's plan after a change; it has to be one that the auditor passes. */
async function planAfter(change: (season: Season) => void): Promise<Plan> {
  const season = handSeason();
  // A whole season asks for ids that are given once.
  season.beers[1]!.grist[0]!.id = "half-base";
  change(season);
  const outcome = await makePlan(seasonSchema.parse(season), { seed: 1, iterations: 0, highs });
  if (outcome.kind === "cannot") throw new Error(JSON.stringify(outcome.findings));
  expect(auditPlan(season, outcome.plan)).toEqual([]);
  return outcome.plan;
}

const grainSale = (season: Season) => {
  const contract = season.contracts[1]!;
  if (contract.kind !== "sell-grain") throw new Error("not the grain contract");
  return contract;
};
const soldG = (plan: Plan) => plan.grainDeliveries.reduce((sum, one) => sum + one.massG, 0);
const feed = (season: Season) => {
  Object.assign(season.feedPickups[0]!, { from: "2027-01-01", leastG: 100_000 });
  return season.feedPickups[0]!;
};

describe("acceptance: grain under contract", () => {
  test("is delivered whole in its window", async () => {
    const plan = await planAfter(() => {});
    expect([soldG(plan), plan.unsold.map((one) => one.contractId)]).toEqual([1_000_000, []]);
  });

  test("is delivered on its last day too", async () => {
    const plan = await planAfter((season) => {
      Object.assign(grainSale(season), { from: "2027-01-10", to: "2027-01-18" });
    });
    expect(plan.grainDeliveries.map((one) => one.on)).toEqual(["2027-01-18"]);
  });

  test("comes out of two bins when neither holds it all", async () => {
    const plan = await planAfter((season) => {
      season.opening.grain[2]!.massG = 600_000;
      season.opening.grain[0]!.massG = 2_000_000;
      season.opening.grain.push({ lotId: "b", storeId: "bags", massG: 700_000 });
      season.opening.grain = season.opening.grain.filter((one) => one.lotId !== "x");
      season.seedReserves = [];
    });
    expect([soldG(plan), new Set(plan.grainDeliveries.map((one) => one.storeId)).size]).toEqual([
      1_000_000,
      2,
    ]);
  });

  test("that the lot has not left is named as unsold, and why", async () => {
    const plan = await planAfter((season) => grainSale(season).massG = 4_900_000);
    expect(plan.grainDeliveries).toEqual([]);
    expect(plan.unsold.map((one) => [one.contractId, one.cause])).toEqual([["sell-b", "no grain"]]);
  });

  test("waits for its harvest inside the window", async () => {
    const sold = (season: Season) =>
      Object.assign(grainSale(season), { lotId: "g", massG: 300_000, from: "2027-02-01", to: "2027-06-30" });
    const roomy = await planAfter((season) => {
      sold(season);
      season.opening.grain = season.opening.grain.filter((one) => one.storeId !== "bags");
    });
    expect(roomy.grainDeliveries.map((one) => [one.on, one.massG])).toEqual([["2027-05-03", 300_000]]);
    const full = await planAfter(sold);
    expect(full.leftOut.map((one) => one.lotId)).toContain("g");
    expect(full.unsold.map((one) => one.contractId)).toEqual(["sell-b"]);
  });
});

describe("acceptance: malt made of a customer's lot", () => {
  const tolled = (massG: number) => (season: Season) => {
    Object.assign(season.lots[1]!, { owner: "A small brewery", wakesOn: undefined });
    season.lots[1]!.analyses[0]!.germinativeEnergy = 0.98;
    season.seedReserves = [];
    season.contracts = season.contracts.filter((one) => one.kind !== "sell-grain");
    const contract = season.contracts.find((one) => one.kind === "sell-malt")!;
    Object.assign(contract, { lotIds: ["b"], massG });
  };

  test("goes to the customer alone, and the farm's beers are made of the farm's", async () => {
    const season = handSeason();
    const plan = await planAfter(tolled(600_000));
    const of = new Map(
      plan.runs.flatMap((run) => run.outputs.map((out) => [out.batchId, run.draws[0]!.lotId])),
    );
    const sold = plan.maltDeliveries.flatMap((one) => one.from.map((part) => of.get(part.batchId)));
    expect(new Set(sold)).toEqual(new Set(["b"]));
    const brewed = plan.brews.flatMap((brew) =>
      brew.grist.flatMap((use) => use.from.kind === "batch" ? of.get(use.from.batchId) ?? [] : [])
    );
    expect(brewed).not.toContain("b");
    expect(plan.brews.length).toBeGreaterThan(0);
    expect(season.brews.length).toBeGreaterThan(plan.unbrewed.length);
  });

  test("is not made up from the farm's grain when the lot is too small", async () => {
    const plan = await planAfter((season) => {
      tolled(900_000)(season);
      season.opening.grain.find((one) => one.lotId === "b")!.massG = 700_000;
    });
    expect([plan.maltDeliveries, plan.unsold.map((one) => one.contractId)]).toEqual([[], ["sell-pale"]]);
  });
});

describe("acceptance: contracts and bookings at the edge", () => {
  test("malt sold from after the horizon is the next plan's", async () => {
    const plan = await planAfter((season) => {
      Object.assign(season.contracts[2]!, { from: "2027-05-03", to: "2027-05-31" });
    });
    expect([plan.maltDeliveries, plan.unsold]).toEqual([[], []]);
  });

  test("a run booked for this morning that nobody has recorded cannot be kept", async () => {
    const plan = await planAfter((season) => {
      Object.assign(season.bookings.runs[0]!, {
        steepInAt: "2027-01-18T08:00",
        castAt: "2027-01-20T08:00",
        kilnAt: "2027-01-24T08:00",
        stripAt: "2027-01-25T08:00",
      });
    });
    expect(plan.cannotKeep.map((one) => [one.id, one.why])).toContainEqual([
      "r2",
      "its start is past and nobody wrote that it was made",
    ]);
  });

  test("a tonne booked as feed is not steeped as well", async () => {
    const plan = await planAfter((season) => {
      const { id } = feed(season);
      const items = [{ lotId: "a", storeId: "bin-1", massG: 1_500_000 }];
      season.bookings.feedLoads = [{ id: "fed", pickupId: id, on: "2027-01-25", items }];
    });
    expect(plan.cannotKeep.map((one) => one.id)).toContain("r2");
    expect(plan.feedLoads.map((one) => one.id)).toContain("fed");
  });

  test("a run may be booked from the bin that a booked move fills before it", async () => {
    const booked = (moved: string) => (season: Season) => {
      season.opening.grain = season.opening.grain.filter((one) => one.lotId !== "c");
      season.bookings.moves = [{
        id: "moved",
        on: moved,
        lotId: "a",
        fromStoreId: "bin-1",
        toStoreId: "bin-2",
        massG: 1_200_000,
        lossG: 0,
      }];
      season.costs.moveLoss = 0;
      season.bookings.runs[0]!.draws[0]!.storeId = "bin-2";
    };
    const before = await planAfter(booked("2027-01-19"));
    expect(before.runs.filter((run) => run.id === "r2").map((run) => run.draws[0]!.storeId)).toEqual([
      "bin-2",
    ]);
    const after = await planAfter(booked("2027-01-20"));
    expect(after.cannotKeep.map((one) => one.id)).toContain("r2");
  });

  test("ids that bookings and records have are not given again", async () => {
    const first = await planAfter((season) => {
      feed(season);
      season.lots[0]!.useBy = { on: "2027-01-20", reason: "sprouted" };
    });
    const load = first.feedLoads[0]!;
    const { standing: _, revenueCents: __, ...kept } = load;
    const again = await planAfter((season) => {
      feed(season).mostLoads = 3;
      season.lots[0]!.useBy = { on: "2027-01-20", reason: "sprouted" };
      season.bookings.feedLoads = [{ ...kept, items: [{ ...kept.items[0]!, massG: 200_000 }] }];
    });
    const ids = again.feedLoads.map((one) => one.id);
    expect(ids).toContain(kept.id);
    expect(new Set(ids).size).toBe(ids.length);
  });
});
