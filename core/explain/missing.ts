import type { Plan } from "../plan/plan.ts";
import type { Season } from "../season/season.ts";
import type { Shortfall } from "../year/shortfalls.ts";
import { boughtUses } from "./worth.ts";

/** How much of one shortfall a plan still has, in the shortfall's own measure: brews, grams, or contracts. */
export function missingOf(season: Season, plan: Plan, shortfall: Shortfall): number {
  const ids = new Set(shortfall.brewIds);
  const unmade = plan.unbrewed.filter((one) => ids.has(one.id));
  switch (shortfall.kind) {
    case "unbrewed":
      return unmade.length;
    case "home malt": {
      const bought = boughtUses(season, plan).filter((one) =>
        ids.has(one.brewId) && one.maltId === shortfall.maltId
      ).reduce((sum, one) => sum + one.massG, 0);
      // Of a brew that is not made all its malt is missing: a mean share of the shortfall.
      return bought + unmade.length * (shortfall.massG / Math.max(1, ids.size));
    }
    case "unsold":
      return plan.unsold.some((one) => one.contractId === shortfall.contractId) ? 1 : 0;
    case "tanks":
      return unmade.length;
    case "no room":
      return plan.leftOut.reduce((sum, one) => sum + one.massG, 0);
  }
}
