import { microSeason } from "../../../core/generate/micro.ts";
import { loadHighs } from "../../_support/highs.ts";
import { planOf, worse } from "../../unit/acceptance/_micro-plans.ts";
import { MORE } from "../../unit/acceptance/_more.ts";

/**
 * Plans micro seasons as they are and with more of something, and prints where more made the plan worse:
 * `deno run -A tests/_campaigns/planner/more.ts 1 60`, some minutes.
 */
const [first = 1, last = 60] = Deno.args.map(Number);
const highs = await loadHighs();
const counts = new Map(Object.keys(MORE).map((name) => [name, { tried: 0, worse: 0 }]));
for (let seed = first; seed <= last; seed++) {
  const season = microSeason(seed);
  const base = await planOf(highs, season);
  for (const [name, more] of Object.entries(MORE)) {
    const relaxed = more(season);
    if (relaxed === null) continue;
    const count = counts.get(name)!;
    count.tried++;
    const by = worse(await planOf(highs, relaxed), base);
    if (by === "") continue;
    count.worse++;
    console.log(`seed ${seed}, ${name}: ${by}`);
  }
}
for (const [name, { tried, worse }] of counts) console.log(`${name}: worse in ${worse} of ${tried}`);
