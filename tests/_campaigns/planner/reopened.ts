import { auditPlan } from "../../../core/audit/audit.ts";
import { addDays, dateOf } from "../../../core/calendar.ts";
import { microSeason } from "../../../core/generate/micro.ts";
import { makePlan } from "../../../core/plan/make.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import { demoSeason } from "../../_support/demo.ts";
import { loadHighs } from "../../_support/highs.ts";
import { worse } from "../../unit/acceptance/_micro-plans.ts";
import { restOf } from "../../unit/acceptance/_rest.ts";

/**
 * Stops plans on several days, enters each day's state as an opening position, plans anew, and prints the new plan beside the rest
 * of the old one: `deno run -A tests/_campaigns/planner/reopened.ts demo 16000 3`, with so many iterations and seeds, or
 * `… micro 1 40` for the micro seasons of these seeds. The demo takes about a minute a seed.
 */
const [what = "micro", first = "1", last = "20"] = Deno.args;
const highs = await loadHighs();

function told({ made, promisesHeld, tailMade, moneyCents }: Plan["goals"]): string {
  return `made ${made.join(" ")}, held ${promisesHeld}, tail ${tailMade}, ${moneyCents} cents`;
}

if (what === "demo") {
  const iterations = Number(first), season = demoSeason();
  for (let seed = 1; seed <= Number(last); seed++) {
    const whole = await makePlan(season, { seed, iterations, highs });
    if (whole.kind !== "planned") throw new Error(whole.kind);
    console.log(`seed ${seed}: ${told(whole.plan.goals)}`);
    for (const date of ["2027-02-01", "2027-03-10", "2027-05-05", "2027-08-20", "2027-11-10"]) {
      const rest = await restOf(season, whole.plan, date);
      const breaches = auditPlan(rest.season, rest.plan).map((one) => one.message);
      const anew = await makePlan(rest.season, { seed, iterations, highs, from: whole.plan });
      console.log(`  ${date} rest ${told(rest.plan.goals)} ${breaches.join(" ")}`);
      console.log(`  ${date} anew ${anew.kind === "cannot" ? anew.kind : told(anew.plan.goals)}`);
    }
  }
} else {
  let same = 0, all = 0;
  for (let seed = Number(first); seed <= Number(last); seed++) {
    const season = microSeason(seed);
    season.roster.heldDays = 0;
    const whole = await makePlan(season, { seed: 1, iterations: 300, highs });
    if (whole.kind !== "planned") continue;
    for (const after of [4, 9, 15, 22, 30]) {
      const rest = await restOf(season, whole.plan, addDays(dateOf(season.asOf), after));
      const anew = await makePlan(rest.season, { seed: 1, iterations: 300, highs });
      all++;
      const breaches = [
        ...auditPlan(rest.season, rest.plan),
        ...(anew.kind === "breached" ? anew.breaches : []),
      ].map((one) => one.message);
      const by = anew.kind === "cannot" ? anew.kind : worse(anew.plan, rest.plan);
      if (by === "" && breaches.length === 0) same++;
      else console.log(`seed ${seed}, day ${after}: ${by} ${breaches.join(" ")}`);
    }
  }
  console.log(`no worse: ${same} of ${all}`);
}
