/** Malt that was delivered under a contract, in the year as it is told and in the season that follows. */
import { describe, expect, test } from "vitest";
import { nextSeason } from "../../../core/next/next-season.ts";
import type { Season } from "../../../core/season/season.ts";
import { reopenAt } from "../../../core/year/reopen.ts";
import { stateAt } from "../../../core/year/state-at.ts";
import { drawnFlow, drawnYear } from "../../_support/drawn-year.ts";
import { flowResiduals } from "../../_support/flow-residuals.ts";
import { farm, planWith } from "./hand-made.ts";

const contract = {
  kind: "sell-malt" as const,
  id: "sale",
  party: "A brewer down the road",
  maltId: "pale",
  massG: 600_000,
  from: "2027-01-10",
  to: "2027-12-01",
  perTonneCents: 100_000,
  class: 1,
};

/** A farm that has delivered so much on the day before as-of. */
function sold(massG: number, on = "2027-01-17"): Season {
  const maltDeliveries = [{ id: "delivery-1", contractId: "sale", on, batchId: "old-pale", massG }];
  return farm({ contracts: [contract], records: { maltDeliveries } });
}

/** A plan of before the delivery: it still holds the whole of it. */
const plan = planWith({
  maltDeliveries: [{ contractId: "sale", on: "2027-02-10", from: [{ batchId: "old-pale", massG: 600_000 }] }],
});
const inStoreG = (season: Season, at: string) =>
  stateAt(season, plan, at).batches.find((one) => one.batch.id === "old-pale")?.massG;

describe("malt that was delivered", () => {
  test("is out of the store from its day on, and of the plan's delivery the rest goes", () => {
    expect(
      ["2027-01-17T00:00", "2027-01-18T00:00", "2027-02-11T00:00"].map((at) => inStoreG(sold(200_000), at)),
    )
      .toEqual([1_000_000, 800_000, 400_000]);
    expect(inStoreG(sold(600_000), "2027-02-11T00:00")).toBe(400_000);
    expect(inStoreG(sold(700_000), "2027-02-11T00:00")).toBe(300_000);
  });

  test("before the opening position is in its stocks already, and met its part of the contract", () => {
    expect(inStoreG(sold(200_000, "2027-01-03"), "2027-02-11T00:00")).toBe(600_000);
    expect(reopenAt(sold(200_000, "2027-01-03"), planWith(), "2027-02-11").contracts[0]!.massG).toBe(400_000);
  });

  test("is one sale with what the plan delivers of the rest, and the flow closes", () => {
    const { graph } = drawnYear(sold(200_000), plan);
    expect(graph.nodes.filter(({ kind }) => kind === "sale").map(({ massG }) => massG)).toEqual([600_000]);
    const residuals = flowResiduals(drawnFlow(sold(200_000), plan));
    expect(residuals.filter((one) => Math.abs(one.residualG) > one.inG / 1000)).toEqual([]);
  });

  test("leaves the rest of its contract to the season that follows", () => {
    const left = (season: Season, other = plan, date = "2027-02-01") =>
      nextSeason(season, other, date, { id: "next", name: "Next" }).season.contracts.map((one) => one.massG);
    expect(left(sold(200_000))).toEqual([400_000]);
    expect(left(sold(600_000))).toEqual([]);
    expect(left(sold(200_000), plan, "2027-03-01")).toEqual([]);
    const today = nextSeason(sold(200_000), null, "2027-01-18", { id: "next", name: "Next" });
    expect(today.season.contracts.map((one) => one.massG)).toEqual([400_000]);
    expect(today.season.records.maltDeliveries).toBeUndefined();
    expect(today.notes.map((one) => one.text)).toContain(
      "The contract with A brewer down the road stays with the 400 kg still to be delivered.",
    );
  });
});
