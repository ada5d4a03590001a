import { describe, expect, test } from "vitest";
import type { Flow } from "../../../core/year/flow.ts";
import { drawnFlow } from "../../_support/drawn-year.ts";
import { flowResiduals } from "../../_support/flow-residuals.ts";
import { asked, brewed, farm, order, planWith, run } from "./hand-made.ts";

const season = farm({
  brews: [asked("b0", "2027-03-08"), asked("b1", "2027-03-15")],
  seedReserves: [{ id: "seed-1", lotId: "lot-a", massG: 700_000, on: "2027-10-01" }],
  records: {
    runs: [{
      id: "dumped",
      draws: [{ lotId: "lot-a", storeId: "bin-1", massG: 500_000 }],
      maltId: "pale",
      profileId: "week",
      vesselIds: { steep: "steep", bed: "bed", kiln: "kiln" },
      steepInAt: "2027-01-05T08:00",
      endedAt: "2027-01-06T08:00",
      outcome: "dumped",
    }],
    adjustments: [
      {
        id: "count-1",
        on: "2027-01-10",
        lotId: "lot-a",
        storeId: "bin-1",
        deltaG: -30_000,
        reason: "counted",
      },
    ],
  },
});
const plan = planWith({
  runs: [run("r1", "2027-01-25"), run("r2", "2027-12-27")],
  orders: [order("2027-01-25", 20)],
  brews: [
    brewed("b0", "2027-03-08", { "malt-r1": 400_000 }),
    brewed("b1", "2027-03-15", { "old-pale": 300_000, bought: 100_000 }),
  ],
  fills: [{ on: "2027-07-08", lotId: "lot-g", storeId: "bin-1", massG: 18_000_000 }],
  leftOut: [{ lotId: "lot-g", on: "2027-07-08", massG: 614_364 }],
  moves: [{
    id: "move-1",
    standing: "not booked",
    on: "2027-06-01",
    lotId: "lot-a",
    fromStoreId: "bin-1",
    toStoreId: "bin-2",
    massG: 2_000_000,
    lossG: 10_000,
  }],
  feedLoads: [{
    id: "load-1",
    standing: "not booked",
    pickupId: "cattle",
    on: "2027-05-20",
    items: [{ lotId: "lot-c", storeId: "bin-2", massG: 3_000_000 }],
    revenueCents: 1,
  }],
  seedTaken: [{ reserveId: "seed-1", on: "2027-10-01", lotId: "lot-a", storeId: "bin-1", massG: 700_000 }],
});

const dry = (flow: Flow, from: string, to: string) =>
  flow.links.find((one) => one.from === from && one.to === to)?.dryG ?? 0;

describe("the flow from field to glass", () => {
  const flow = drawnFlow(season, plan);

  test("closes to a thousandth at everything that passes dry matter on", () => {
    const residuals = flowResiduals(flow);
    expect(residuals.map((one) => one.id).sort()).toEqual([
      "grist:field-pale",
      "lot:lot-a",
      "lot:lot-c",
      "lot:lot-g",
      "malt:pale",
    ]);
    for (const { id, inG, residualG } of residuals) {
      expect([id, inG > 0, Math.abs(residualG) <= inG / 1000]).toEqual([id, true, true]);
    }
  });

  test("names every loss as its own branch, in dry matter", () => {
    // A tonne as in bin is 880 kg dry; 4 % screened; of the rest 1 + 5 % steeped away and breathed, 4 % rootlets.
    expect(dry(flow, "lot:lot-a", "screenings")).toBeCloseTo(2.5 * 880_000 * 0.04, 0);
    expect(dry(flow, "lot:lot-a", "steep-and-breath")).toBeCloseTo(2 * 844_800 * 0.06, 0);
    expect(dry(flow, "lot:lot-a", "rootlets")).toBeCloseTo(2 * 844_800 * 0.04, 0);
    expect(dry(flow, "lot:lot-a", "dumped")).toBeCloseTo(480_000 * 0.88, 0);
    expect(dry(flow, "lot:lot-a", "seed")).toBeCloseTo(700_000 * 0.88, 0);
    expect(dry(flow, "lot:lot-a", "moving")).toBeCloseTo(10_000 * 0.88, 0);
    expect(dry(flow, "lot:lot-a", "counted-less")).toBeCloseTo(30_000 * 0.88, 0);
    expect(dry(flow, "lot:lot-c", "feed")).toBeCloseTo(3_000_000 * 0.88, 0);
  });

  test("takes a harvest apart: handling, dirt, what has no room, and water beside the balance", () => {
    const cutDry = 20_000_000 * 0.84;
    expect(dry(flow, "planting:barley-2027", "handling")).toBeCloseTo(cutDry * 0.005, 0);
    expect(dry(flow, "planting:barley-2027", "intake-dirt")).toBeCloseTo(cutDry * 0.995 * 0.02, 0);
    const out = flow.links.filter((one) => one.from === "planting:barley-2027");
    expect(out.reduce((sum, one) => sum + one.dryG, 0) / cutDry).toBeCloseTo(1, 3);
    expect(dry(flow, "planting:barley-2027", "left-out")).toBeGreaterThan(0);
    // 19.9 t at 16 % become 18.995 t at 12 %.
    expect(flow.water[0]!.massG / 1000).toBeCloseTo(19_900 * (1 - 0.84 / 0.88), 0);
  });

  test("a run that is stripped after the last day is still in the vessels", () => {
    expect(dry(flow, "malt:pale", "left-vessels")).toBeCloseTo(800_337 * 0.95, 0);
  });

  test("follows volume from the fermenter on", () => {
    const [beer] = flow.volumes;
    expect(beer!.wortL).toBe(3200);
    expect(beer!.losses.map((one) => one.volumeL)).toEqual([3200 * 0.06, 3200 * 0.94 * 0.04]);
    expect(beer!.packagedL).toBeCloseTo(3200 * 0.94 * 0.96, 9);
  });

  test("sees a hole: malt that came of nowhere does not close", () => {
    const wrong = { ...plan, runs: plan.runs.map((one) => ({ ...one, screeningsG: one.screeningsG / 2 })) };
    const residual = flowResiduals(drawnFlow(season, wrong)).find((one) => one.id === "lot:lot-a")!;
    expect(Math.abs(residual.residualG)).toBeGreaterThan(residual.inG / 10_000);
    expect(Math.abs(flowResiduals(flow).find((one) => one.id === "lot:lot-a")!.residualG)).toBeLessThan(5);
  });

  test("a run that was in the vessels at the opening brings its malt out of them", () => {
    const early = {
      id: "early",
      draws: [{ lotId: "lot-a", storeId: "bin-1", massG: 1_000_000 }],
      maltId: "pale",
      profileId: "week",
      vesselIds: { steep: "steep", bed: "bed", kiln: "kiln" },
      steepInAt: "2026-12-30T08:00",
      castAt: "2027-01-01T08:00",
      kilnAt: "2027-01-06T08:00",
      stripAt: "2027-01-07T08:00",
      outputs: [{ batchId: "early-malt", maltId: "pale", massG: 800_000 }],
    };
    const begun = drawnFlow(farm({ records: { runs: [early] } }), null);
    expect(dry(begun, "opening-vessels", "malt:pale")).toBeCloseTo(800_000 * 0.95, 0);
    for (const { inG, residualG } of flowResiduals(begun)) {
      expect(Math.abs(residualG)).toBeLessThanOrEqual(inG / 1000);
    }
  });

  test("without a plan or anything else there is nothing to flow", () => {
    const bare = farm({ opening: {}, fields: [], plantings: [], weighTickets: [], beers: [], brews: [] });
    expect(drawnFlow(bare, null)).toMatchObject({ nodes: [], links: [], volumes: [], water: [] });
  });
});
