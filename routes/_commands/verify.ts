import { parseArgs } from "node:util";
import { auditPlan } from "../../core/audit/audit.ts";
import { boundFaults } from "../../core/bound/stored.ts";
import type { Plan } from "../../core/plan/plan.ts";
import { PROGRAM } from "../../core/plan/program.ts";
import { problemOf } from "../../core/search/problem.ts";
import { seasonHash } from "../../core/season/canonical.ts";
import type { Season } from "../../core/season/season.ts";
import { provenWords } from "../../core/year/proven-words.ts";
import { breachLine } from "./breach-line.ts";
import { EXIT, runCommand, Stop } from "./exit.ts";
import { readPlanFile } from "./plan-file.ts";
import { misused, readSeasonFile } from "./season.ts";

const USAGE = "deno task verify SEASON.json PLAN.json";

/** Audits a plan file against its season and names each rule that it breaks. */
async function verifyCommand(args: string[]): Promise<number> {
  const [seasonFile, planFile] = readArguments(args);
  const season = await readSeasonFile(seasonFile, EXIT.wrongUse);
  const plan = await readPlanFile(planFile);
  if (!(await isOf(plan, season))) {
    throw new Stop(EXIT.wrongUse, `${planFile} is not a plan of this season as it stands in ${seasonFile}.`);
  }
  const breaches = auditPlan(season, plan);
  for (const breach of breaches) console.log(breachLine(breach));
  const faults = plan.bound ? boundFaults(problemOf(season, plan.asOf), plan) : [];
  // A proof names rows by number, and another version may number them differently.
  const isOthers = faults.length > 0 && plan.program !== PROGRAM;
  if (!isOthers) { for (const fault of faults) console.log(fault); }
  console.log(
    breaches.length === 0
      ? "The plan holds: the auditor found no breach."
      : `The plan does not hold: ${breaches.length} ${breaches.length === 1 ? "breach" : "breaches"}.`,
  );
  console.log(boundWords(season, plan, faults));
  if (isOthers && breaches.length === 0) return EXIT.unchecked;
  return breaches.length + faults.length === 0 ? EXIT.clean : EXIT.breaches;
}

/** What the plan claims about any better one, once that was recomputed. */
function boundWords(season: Season, plan: Plan, faults: readonly string[]): string {
  if (faults.length > 0 && plan.program !== PROGRAM) {
    return `What it claims about better plans was proven by version ${plan.program} and cannot be recomputed by this one, ` +
      `${PROGRAM}. A plan made anew can.`;
  }
  if (faults.length > 0) return "What it claims about better plans does not hold.";
  return provenWords(season, plan) || "It claims nothing about better plans.";
}

function readArguments(args: string[]): [string, string] {
  try {
    const { positionals: [season, plan, ...more] } = parseArgs({ args, options: {}, allowPositionals: true });
    if (season !== undefined && plan !== undefined && more.length === 0) return [season, plan];
  } catch (error) {
    misused(USAGE, (error as Error).message);
  }
  misused(USAGE, "Name one season file and one plan file.");
}

/** A live season's now moves on after a plan was made, so the season is taken as of the plan's own minute. */
async function isOf(plan: Plan, season: Season): Promise<boolean> {
  return plan.seasonId === season.id && plan.seasonHash === await seasonHash({ ...season, asOf: plan.asOf });
}

if (import.meta.main) await runCommand(verifyCommand);
