import type { Highs } from "highs";
import { auditPlan } from "../../../core/audit/audit.ts";
import { planSchema } from "../../../core/plan/plan.ts";
import { summarise } from "../../../core/plan/summary.ts";
import { checkSeason, type Finding } from "../../../core/season/check.ts";
import type { Season } from "../../../core/season/season.ts";
import { checkText } from "../../_support/season-text.ts";
import { planQuickly, planRoughly } from "./effort.ts";

/** How a file ended: what the season check said, or a plan. `fault` says what should never be. */
export interface Verdict {
  readonly word: "not JSON" | "errors" | "fit to be planned" | "planned" | "planned with warnings";
  readonly fault: string | null;
}

/** Longest words a finding may put before a person, whatever somebody wrote into the file. */
const MOST_WORDS = 2000;

/** How a file that passes the check is planned; null leaves it at the check. */
export interface Planning {
  readonly highs: Highs;
  /** A large season takes too long to be searched: its rough plan shows that the planner comes to an end, and may break rules. */
  readonly small: boolean;
}

/** Reads, checks, plans, audits and sums up a file, as the commands do. Throws nothing. */
export async function judge(text: string, planning: Planning | null): Promise<Verdict> {
  let word: Verdict["word"] = "errors";
  try {
    const checked = checkText(text);
    if (checked === null) return { word: "not JSON", fault: null };
    const { season, findings } = checked;
    const errors = findings.some((one) => one.level === "error");
    const fault = findings.map(faultOfFinding).find((one) => one !== null) ??
      (errors === (season !== null) ? "errors and a season, or neither" : null);
    if (fault !== null || season === null) return { word, fault };
    word = planning === null
      ? "fit to be planned"
      : findings.length > 0
      ? "planned with warnings"
      : "planned";
    const copied = faultOfCopy(season, findings);
    return { word, fault: copied ?? (planning === null ? null : await faultOfPlan(season, planning)) };
  } catch (error) {
    return { word, fault: `thrown: ${thrown(error)}` };
  }
}

function thrown(error: unknown): string {
  if (!(error instanceof Error)) return String(error);
  const at =
    error.stack?.split("\n").slice(1, 4).map((line) =>
      line.replace(/^.*\/(core|routes|node_modules)\//, "$1/")
    ) ?? [];
  return `${error.name}: ${error.message} ${at.join(" < ")}`;
}

function faultOfFinding(one: Finding): string | null {
  const words = [one.thing, one.value, one.limit, one.message, one.wayOut];
  const blank = words.findIndex((text) => !/\S/.test(text));
  if (blank >= 0) {
    return `finding ${one.code} leaves out its ${["thing", "value", "limit", "message", "way out"][blank]}`;
  }
  if (words.some((text) => text.length > MOST_WORDS)) return `finding ${one.code} is endless`;
  if (/\bundefined\b|\[object/.test(`${one.message}${one.limit}${one.wayOut}`)) {
    return `finding ${one.code} says undefined`;
  }
  return null;
}

/** A season that was read can be written and read again, and is the same. */
function faultOfCopy(season: Season, findings: readonly Finding[]): string | null {
  const text = JSON.stringify(season);
  const again = checkSeason(JSON.parse(text));
  return JSON.stringify(again.season) === text && again.findings.length === findings.length
    ? null
    : "written and read again, the season is another";
}

async function faultOfPlan(season: Season, { highs, small }: Planning): Promise<string | null> {
  const outcome = small ? await planQuickly(season, highs) : await planRoughly(season);
  if (outcome.kind === "cannot") return `refused by the planner: ${outcome.findings[0]?.code}`;
  const breaches = auditPlan(season, outcome.plan);
  if (breaches.length > 0 && small) {
    const rules = [...new Set(breaches.map((one) => one.rule))].sort().join(", ");
    return `audit: ${rules}: ${breaches[0]!.message}`;
  }
  const parsed = planSchema.safeParse(outcome.plan);
  if (!parsed.success) {
    const [issue] = parsed.error.issues;
    return `plan file: ${
      issue?.path.filter((step) => typeof step === "string").join("/")
    }: ${issue?.message}`;
  }
  return summarise(season, outcome.plan).trim() === "" ? "the summary is blank" : null;
}
