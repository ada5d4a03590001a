import type { Contract } from "./brewing.ts";
import type { MaltDelivery } from "./records.ts";
import type { Season } from "./season.ts";

/** Malt that records say was delivered under contracts; files of before have no such list. */
export function maltDeliveries({ records }: Season): readonly MaltDelivery[] {
  return records.maltDeliveries ?? [];
}

/** Grams of malt still due under a contract: its weight less all that was delivered under it, whatever batch it was; 0 at least. */
export function maltDueG(season: Season, contract: Extract<Contract, { kind: "sell-malt" }>): number {
  const dueG = maltDeliveries(season).filter((one) => one.contractId === contract.id)
    .reduce((leftG, one) => leftG - one.massG, contract.massG);
  return Math.max(0, dueG);
}
