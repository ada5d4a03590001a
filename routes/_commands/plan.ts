import { parseArgs } from "node:util";
import { auditPlan, type Breach } from "../../core/audit/audit.ts";
import type { Plan } from "../../core/plan/plan.ts";
import { summarise } from "../../core/plan/summary.ts";
import type { Season } from "../../core/season/season.ts";
import { ORDER } from "../_solver/order.ts";
import { openThread } from "../_solver/thread.ts";
import { breachLine } from "./breach-line.ts";
import { EXIT, runCommand, Stop } from "./exit.ts";
import { writeWhole } from "./files.ts";
import { readPlanFile } from "./plan-file.ts";
import { findingLine, misused, readSeasonFile } from "./season.ts";

const USAGE = "deno task plan SEASON.json [--seed N] [--from PLAN.json] [--json | --out PLAN.json]";

/** Plans a season file: prints the summary, or the plan as JSON, or writes the plan to a file. */
async function planCommand(args: string[]): Promise<number> {
  const { file, seed, from, json, out } = readArguments(args);
  const season = await readSeasonFile(file, EXIT.seasonErrors);
  const plan = await makePlan(season, seed, from === undefined ? {} : { from: await readPlanFile(from) });
  const text = JSON.stringify(plan, null, 2) + "\n";
  if (out !== undefined) await writeWhole(out, text);
  await Deno.stdout.write(new TextEncoder().encode(json ? text : summarise(season, plan) + "\n"));
  return EXIT.clean;
}

function readArguments(
  args: string[],
): { file: string; seed: number; from: string | undefined; json: boolean; out: string | undefined } {
  const { values, positionals } = parse(args);
  const seed = Number(values.seed ?? ORDER.seed);
  if (positionals.length !== 1) misused(USAGE, "Name one season file.");
  if (!Number.isSafeInteger(seed) || seed < 0) misused(USAGE, "The seed is a whole number, 0 or more.");
  if (values.json && values.out !== undefined) misused(USAGE, "Choose --json or --out, not both.");
  const { from, out } = values;
  return { file: positionals[0]!, seed, from, json: values.json ?? false, out };
}

function parse(args: string[]) {
  const text = { type: "string" } as const;
  const options = { seed: text, from: text, json: { type: "boolean" }, out: text } as const;
  try {
    return parseArgs({ args, options, allowPositionals: true });
  } catch (error) {
    misused(USAGE, (error as Error).message);
  }
}

/** Makes the plan in the planning thread, so that this one stays free to hear that it should stop. */
async function makePlan(season: Season, seed: number, start: { from?: Plan }): Promise<Plan> {
  const thread = openThread();
  let said = "";
  const asOf = season.fixedAsOf ?? season.asOf;
  const ending = await thread.run(
    { kind: "plan", ...ORDER, ...start, season, asOf, revision: 0, seed },
    ({ stage, done, of }) => {
      const line = of > 0 ? `${stage}: ${Math.floor((100 * done) / of)} %` : stage;
      if (line !== said) console.error(said = line);
    },
  );
  switch (ending.kind) {
    case "planned": {
      // The audit is repeated at the door through which the plan leaves, whatever happened on the way.
      const breaches = auditPlan(season, ending.plan);
      if (breaches.length > 0) refuse(breaches);
      return ending.plan;
    }
    case "breached":
      return refuse(ending.breaches);
    case "cannot":
      throw new Stop(EXIT.seasonErrors, ending.findings.map(findingLine).join("\n"));
    case "broken":
      throw new Error(ending.message);
  }
}

function refuse(breaches: readonly Breach[]): never {
  const lines = breaches.map(breachLine).join("\n");
  throw new Stop(EXIT.refused, `${lines}\nThe auditor refused the plan. None was written.`);
}

if (import.meta.main) await runCommand(planCommand);
