import { dateOf } from "../../calendar.ts";
import { plantingsToCome } from "../forecast.ts";
import type { Checking } from "./checking.ts";
import { ledger } from "./ledger.ts";
import { shareOfStore } from "./stock.ts";

/** From this share of its volume on a bin counts as full: nobody fills one to the last corn. */
const FULL = 0.99;

/**
 * No bin is free: each one holds a lot while more grain is to come, or each one is full, so that nothing can even be moved. The plan
 * looks for a way out by itself, and a person should know that it had to.
 */
export function checkBins(checking: Checking): void {
  const { season, tell } = checking;
  const bins = season.stores.filter((store) => store.kind === "bin");
  if (bins.length === 0) return;
  const lots = new Map(season.lots.map((lot) => [lot.id, lot]));
  const stored = [...ledger(checking).grain.values()].filter((account) => account.balanceG > 0);
  const shares = bins.map((bin) =>
    stored.filter((account) => account.storeId === bin.id).reduce((sum, { lotId, balanceG }) => {
      const lot = lots.get(lotId);
      return lot === undefined ? sum : sum + shareOfStore(bin, lot, balanceG);
    }, 0)
  );
  const toCome = isGrainToCome(checking);
  if (!shares.every((share) => toCome ? share > 0 : share >= FULL)) return;
  tell("all-bins-full", ["stores"], {
    value: `${bins.length} of ${bins.length} bins ${toCome ? "hold a lot" : "are full"}`,
    limit: toCome ? "a bin for the grain that is to come" : "room to move grain",
    message: toCome
      ? "Every bin holds a lot, and more grain is to come."
      : "Every bin is full, so no grain can be moved.",
    wayOut: "The plan looks for a way: a lot used up, moved or sold as feed in time. Check what it proposes.",
  });
}

function isGrainToCome({ season, asOf }: Checking): boolean {
  return season.lots.some((lot) => plantingsToCome(season, lot.id).length > 0) ||
    season.contracts.some((one) => one.kind === "buy-grain" && one.on > dateOf(asOf));
}
