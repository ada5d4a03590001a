import { makeNaivePlan } from "../../core/plan/make.ts";
import type { Plan } from "../../core/plan/plan.ts";
import { hashOf, seasonEntry } from "../../routes/_season-file.ts";
import { openStore } from "../../routes/_store/open.ts";
import { endPlan, startPlan } from "../../routes/_store/plans.ts";
import { insertSeason } from "../../routes/_store/seasons.ts";
import { demoSeason } from "./demo.ts";

const AT = "2027-01-18T07:00:00.000Z";

/**
 * Makes a store in `folder` with the demo farm, as it comes, and its plan without a search. A server on it has nothing to plan until
 * something is changed, so a test of other things waits for no planner.
 */
export async function storePlannedDemo(folder: string): Promise<Plan> {
  const season = demoSeason();
  const plan = await makeNaivePlan(season, { seed: 1, iterations: 0, highs: null });
  const store = openStore(`${folder}/rickyard.sqlite`);
  insertSeason(store, seasonEntry(season, new Date(AT)), { author: "Rickyard", reason: "The demo farm." });
  const row = startPlan(store, { id: season.id, revision: 1, hash: hashOf(season) }, AT);
  endPlan(store, row, JSON.stringify(plan), "", AT);
  store.close();
  return plan;
}
