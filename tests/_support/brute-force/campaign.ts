import { microSeason } from "../../../core/generate/micro.ts";
import { loadHighs } from "../highs.ts";
import { judge } from "./judge.ts";

/**
 * Prints one line for each seed from the first argument to the second, and the count of each word. The third argument says how many
 * sets of runs are tried one by one; of a season that has more HiGHS chooses the set:
 * `deno run -A tests/_support/brute-force/campaign.ts 1 100 700`, some five minutes.
 */
if (import.meta.main) {
  const [first = 1, last = 100, mostSets = 700] = Deno.args.map(Number);
  const highs = await loadHighs();
  const counts = new Map<string, number>();
  for (let seed = first; seed <= last; seed++) {
    const { word, line, breaches } = await judge(highs, microSeason(seed), mostSets);
    counts.set(word, (counts.get(word) ?? 0) + 1);
    console.log([seed, line, ...breaches.map((one) => `BREACH ${one}`)].join(" "));
  }
  console.log([...counts].map(([word, count]) => `${word}: ${count}`).join(", "));
}
