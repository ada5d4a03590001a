import { maltDeliveries } from "../malt-deliveries.ts";
import type { Season } from "../season.ts";
import type { Checking } from "./checking.ts";
import type { Path } from "./finding.ts";

/** What was delivered is what the contract is about. A fact stays a fact, but this one is more often a slip of the pen. */
export function checkDeliveries({ season, tell }: Checking): void {
  const contracts = new Map(season.contracts.map((one) => [one.id, one]));
  const other = (path: Path, value: string, limit: string) =>
    tell("delivery-of-other-kind", path, {
      value,
      limit,
      message: `This delivery is of ${value}, and the contract is about ${limit}.`,
      wayOut: "Name the right contract, or leave it if it is right.",
    });
  for (const [i, { contractId, lotId }] of season.records.deliveries.entries()) {
    const contract = contracts.get(contractId);
    if (contract === undefined || contract.kind === "sell-grain") continue;
    const limit = contract.kind === "buy-grain" ? "grain that is bought" : `malt ${contract.maltId}`;
    other(["records", "deliveries", i, "contractId"], `grain of lot ${lotId}`, limit);
  }
  for (const [i, { contractId, batchId }] of maltDeliveries(season).entries()) {
    const contract = contracts.get(contractId), maltId = maltOf(season, batchId);
    if (contract === undefined || maltId === undefined) continue;
    if (contract.kind === "sell-malt" && contract.maltId === maltId) continue;
    const limit = contract.kind === "sell-malt"
      ? `malt ${contract.maltId}`
      : `grain ${contract.kind === "buy-grain" ? "that is bought" : `of lot ${contract.lotId}`}`;
    const value = maltId === null ? "bagged grain" : `malt ${maltId}`;
    other(["records", "maltDeliveries", i, "contractId"], value, limit);
  }
}

/** The malt of a batch; null for bagged grain, undefined for a batch nobody knows. */
function maltOf({ opening, records, supplyOffers }: Season, batchId: string): string | null | undefined {
  const made = records.runs.flatMap((run) => run.outputs).find((one) => one.batchId === batchId);
  if (made !== undefined) return made.maltId;
  const order = records.orders.find((one) => one.batchId === batchId);
  const ingredient = opening.malt.find((one) => one.id === batchId)?.ingredient ??
    supplyOffers.find((one) => one.id === order?.offerId)?.ingredient;
  return ingredient?.kind === "grain" ? null : ingredient?.maltId;
}
