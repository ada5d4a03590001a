import type { Explanation } from "../../core/explain/explanation.ts";
import type { Store } from "./open.ts";

/** The explanation of a plan as far as it is known, or null: not begun, or written in a form that this version does not know. */
export function readExplanation(store: Store, planId: number): Explanation | null {
  const row = store.prepare("SELECT document FROM explanation WHERE plan_id = ?").get(planId);
  if (row === undefined) return null;
  const found = JSON.parse(String(row.document)) as Partial<Explanation>;
  return found.format === "rickyard-explanation" && found.version === 4 ? found as Explanation : null;
}

/** How often the explanation of a plan has grown; 0 when there is none. */
export function explanationGrown(store: Store, planId: number): number {
  const row = store.prepare("SELECT grown FROM explanation WHERE plan_id = ?").get(planId);
  return Number(row?.grown ?? 0);
}

/** Stores what is known by now. Nothing happens when the plan itself has gone. */
export function saveExplanation(store: Store, planId: number, explanation: Explanation, at: string): void {
  store.prepare(
    "INSERT INTO explanation (plan_id, document, updated) SELECT id, :document, :at FROM plan WHERE id = :planId " +
      "ON CONFLICT (plan_id) DO UPDATE SET document = :document, updated = :at, grown = grown + 1",
  ).run({ planId, document: JSON.stringify(explanation), at });
}
