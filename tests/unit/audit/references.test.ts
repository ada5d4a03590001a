/** Every name in a plan is looked up. */
import { expect, test } from "vitest";
import { auditPlan } from "../../../core/audit/audit.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import { handPlan } from "./_hand-plan.ts";
import { handSeason } from "./_hand-season.ts";
import { of } from "./_variant.ts";

const brew = (plan: Plan, place: number) => of(plan.brews, "b3").grist[place]!;

test.each<[string, (plan: Plan) => void]>([
  ["lot of a run", (plan) => of(plan.runs, "r3").draws[0]!.lotId = "nobody"],
  ["store of a run", (plan) => of(plan.runs, "r3").draws[0]!.storeId = "nobody"],
  ["malt of a run", (plan) => of(plan.runs, "r3").maltId = "nobody"],
  ["profile of a run", (plan) => of(plan.runs, "r3").profileId = "nobody"],
  ["vessel of a run", (plan) => of(plan.runs, "r3").vesselIds.bed = "nobody"],
  ["malt that comes out of a run", (plan) => of(plan.runs, "r3").outputs[0]!.maltId = "nobody"],
  ["malt of a drum load", (plan) => plan.drums[0]!.maltId = "nobody"],
  ["batch of a drum load", (plan) => plan.drums[0]!.from[0]!.batchId = "nobody"],
  ["beer", (plan) => of(plan.brews, "b3").beerId = "nobody"],
  ["tank", (plan) => of(plan.brews, "b3").tanks[0]!.tankId = "nobody"],
  ["line of a grist", (plan) => brew(plan, 0).lineId = "nobody"],
  ["batch of a brew", (plan) => brew(plan, 0).from = { kind: "batch", batchId: "nobody" }],
  ["lot of a brew", (plan) => brew(plan, 1).from = { kind: "lot", lotId: "nobody", storeId: "bags" }],
  ["store of a brew", (plan) => brew(plan, 1).from = { kind: "lot", lotId: "w", storeId: "nobody" }],
  ["contract of a malt delivery", (plan) => plan.maltDeliveries[0]!.contractId = "sell-b"],
  ["batch of a malt delivery", (plan) => plan.maltDeliveries[0]!.from[0]!.batchId = "nobody"],
  ["contract of a grain delivery", (plan) => plan.grainDeliveries[0]!.contractId = "sell-pale"],
  ["store of a grain delivery", (plan) => plan.grainDeliveries[0]!.storeId = "nobody"],
  ["unsold contract", (plan) => plan.unsold.push({ contractId: "buy-g", cause: "no grain", why: "None." })],
  ["offer", (plan) => plan.orders[0]!.offerId = "nobody"],
  ["lot of a fill", (plan) => plan.fills[0]!.lotId = "nobody"],
  ["store of a fill", (plan) => plan.fills[0]!.storeId = "nobody"],
  ["lot left out", (plan) => plan.leftOut[0]!.lotId = "nobody"],
  ["lot of a move", (plan) => plan.moves[0]!.lotId = "nobody"],
  ["store a move leaves", (plan) => plan.moves[0]!.fromStoreId = "nobody"],
  ["store a move reaches", (plan) => plan.moves[0]!.toStoreId = "nobody"],
  ["pick-up", (plan) => plan.feedLoads[0]!.pickupId = "nobody"],
  ["lot of a feed load", (plan) => plan.feedLoads[0]!.items[0]!.lotId = "nobody"],
  ["seed reserve", (plan) => plan.seedTaken[0]!.reserveId = "nobody"],
  ["store of seed", (plan) => plan.seedTaken[0]!.storeId = "nobody"],
  ["booking", (plan) => plan.cannotKeep.push({ kind: "order", id: "b1", why: "No brew." })],
])("%s", (_, change) => {
  const plan = handPlan();
  change(plan);
  const found = auditPlan(handSeason(), plan).filter(({ rule }) => rule === "unknown-id");
  expect(found.length).toBeGreaterThanOrEqual(1);
  for (const { message } of found) {
    expect(message).toMatch(/nobody|sell-b|sell-pale|buy-g|b1|r3|toasted-1|crystal-1/);
  }
});

test("an unsold contract of either kind is known", () => {
  for (const contractId of ["sell-b", "sell-pale"]) {
    const plan = handPlan();
    plan.unsold.push({ contractId, cause: "no grain", why: "None." });
    expect(auditPlan(handSeason(), plan).map(({ rule }) => rule)).toEqual(["contract-twice"]);
  }
});
