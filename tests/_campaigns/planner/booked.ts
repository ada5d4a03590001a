import { microSeason } from "../../../core/generate/micro.ts";
import { loadHighs } from "../../_support/highs.ts";
import { planOf, worse } from "../../unit/acceptance/_micro-plans.ts";

/**
 * Books every run of a micro season's plan as it was proposed, plans again, and prints where that made the plan worse:
 * `deno run -A tests/_campaigns/planner/booked.ts 1 60`, some minutes.
 */
const [first = 1, last = 60] = Deno.args.map(Number);
const highs = await loadHighs();
let tried = 0, lost = 0;
for (let seed = first; seed <= last; seed++) {
  const season = microSeason(seed);
  // A run of a lot that awaits a result may be proposed, but not booked.
  if (season.lots.some((lot) => lot.analyses.some((one) => one.resultOn === undefined))) continue;
  const plan = await planOf(highs, season);
  if (plan.runs.length === 0) continue;
  tried++;
  season.bookings.runs = plan.runs.map((run) => {
    const { id, draws, maltId, profileId, vesselIds, steepInAt, castAt, kilnAt, stripAt } = run;
    return { id, draws, maltId, profileId, vesselIds, steepInAt, castAt, kilnAt, stripAt };
  });
  const again = await planOf(highs, season);
  const by = [worse(again, plan), ...again.cannotKeep.map((one) => `${one.id} cannot be kept: ${one.why}`)]
    .filter((one) => one !== "");
  if (by.length === 0) continue;
  lost++;
  console.log(`seed ${seed}: ${by.join("; ")}`);
}
console.log(`worse: ${lost} of ${tried}`);
