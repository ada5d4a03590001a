import { seasonHash } from "../core/season/canonical.ts";
import { seasonSchema } from "../core/season/season.ts";
import type { Season } from "../core/season/season.ts";
import type { Plan } from "../core/plan/plan.ts";
export type { Plan, Season };
export type Finding = {
  level: "error" | "warning";
  code: string;
  thing: string;
  field: string;
  value: string;
  limit: string;
  message: string;
  wayOut: string;
};
import type { Breach } from "../core/audit/breach.ts";
export type { Breach };
export type PlanProgress = { stage: string; done: number; of: number; best?: Plan | undefined };
export type PlanOutcome = { kind: "planned"; plan: Plan; breaches: [] } | {
  kind: "breached";
  breaches: Breach[];
} | { kind: "cannot"; findings: Finding[] };
export type PlanOptions = {
  seed: number;
  iterations: number;
  highs: unknown;
  onProgress?: (p: PlanProgress) => void;
  cancelled?: () => boolean;
};
export async function makePlan(season: Season, options: PlanOptions): Promise<PlanOutcome> {
  for (let i = 1; i <= 20; i++) {
    if (options.cancelled?.()) break;
    await new Promise((r) => setTimeout(r, 150));
    options.onProgress?.({
      stage: "searching",
      done: i,
      of: 20,
      ...(i % 5 === 0 ? { best: { seasonHash: await seasonHash(season), n: i } as unknown as Plan } : {}),
    });
  }
  return {
    kind: "planned",
    plan: { seasonHash: await seasonHash(season), n: 99 } as unknown as Plan,
    breaches: [],
  };
}
export function auditPlan(_s: Season, p: Plan): Breach[] {
  return p.goals?.moneyCents === 1
    ? [{ rule: "money", message: "money", thing: "x", on: null } as unknown as Breach]
    : [];
}
export function checkSeason(input: unknown): { season: Season | null; findings: Finding[] } {
  const parsed = seasonSchema.safeParse(input);
  if (parsed.success) return { season: parsed.data, findings: [] };
  return {
    season: null,
    findings: parsed.error.issues.map((i) => ({
      level: "error" as const,
      code: "shape",
      thing: "season",
      field: i.path.join("/"),
      value: "",
      limit: "",
      message: i.message,
      wayOut: "Mend it.",
    })),
  };
}
export function summarise(_s: Season, p: Plan): string {
  return "A plan " + JSON.stringify(p);
}
