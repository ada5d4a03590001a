import { type Plan, planSchema } from "../../core/plan/plan.ts";
import { EXIT, Stop } from "./exit.ts";
import { readJson } from "./files.ts";

/** Reads a plan file. Stops with what is wrong in it when it is none. */
export async function readPlanFile(path: string): Promise<Plan> {
  const parsed = planSchema.safeParse(await readJson(path));
  if (parsed.success) return parsed.data;
  const issues = parsed.error.issues.map((issue) => `${issue.path.join("/")}: ${issue.message}`);
  throw new Stop(EXIT.wrongUse, `${path} is not a plan file:\n${issues.join("\n")}`);
}
