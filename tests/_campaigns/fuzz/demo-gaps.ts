import { auditPlan } from "../../../core/audit/audit.ts";
import { DEFAULT_ITERATIONS, makePlan } from "../../../core/plan/make.ts";
import { checkSeason } from "../../../core/season/check.ts";
import { demoSeason } from "../../_support/demo.ts";
import { loadHighs } from "../../_support/highs.ts";
import { GAPS } from "./gaps.ts";

/**
 * Plans the demo with each gap, with all the effort that the commands take, and prints a line for each:
 * `deno run -A tests/_campaigns/fuzz/demo-gaps.ts [CODE …]`, some minutes.
 */
if (import.meta.main) {
  const highs = await loadHighs();
  for (const [code, change] of Object.entries(GAPS)) {
    if (Deno.args.length > 0 && !Deno.args.includes(code)) continue;
    const file = demoSeason();
    change(file);
    const { season } = checkSeason(file);
    const began = performance.now();
    const outcome = season === null
      ? null
      : await makePlan(season, { seed: 1, iterations: DEFAULT_ITERATIONS, highs });
    const seconds = Math.round((performance.now() - began) / 1000);
    const broken = outcome === null || outcome.kind === "cannot" ? [] : auditPlan(season!, outcome.plan);
    const rules = [...new Set(broken.map((one) => one.rule))].join(", ");
    console.log(`${code}: ${outcome?.kind ?? "errors"}, ${seconds} s ${rules}`);
  }
}
