import { type Plan, planSchema } from "../../core/plan/plan.ts";
import type { Store } from "./open.ts";
import { inTransaction } from "./transaction.ts";

/** How many plans of one season are kept; older ones go when a new one is stored. */
const KEPT_PLANS = 20;

/** Why a plan that was being made when the server stopped is marked failed. */
export const INTERRUPTED = "The server stopped while this plan was being made.";

/** One plan as it is stored. `document` is the plan file as JSON, and null unless the state is "solved". */
export interface PlanRow {
  readonly id: number;
  readonly season_id: string;
  readonly season_revision: number;
  readonly season_hash: string;
  readonly state: "solving" | "solved" | "failed";
  readonly document: string | null;
  readonly reason: string;
  readonly started: string;
  readonly ended: string | null;
}

/** The latest plan of a season in any state, or null. */
export function latestPlan(store: Store, seasonId: string): PlanRow | null {
  return one(store, "SELECT * FROM plan WHERE season_id = ? ORDER BY id DESC LIMIT 1", seasonId);
}

/** The latest solved plan of a season, or null. */
export function latestSolved(store: Store, seasonId: string): PlanRow | null {
  const sql = "SELECT * FROM plan WHERE season_id = ? AND state = 'solved' ORDER BY id DESC LIMIT 1";
  return one(store, sql, seasonId);
}

/** The row id of the latest solved plan of a season, or null. */
export function latestSolvedId(store: Store, seasonId: string): number | null {
  const sql = "SELECT max(id) AS id FROM plan WHERE season_id = ? AND state = 'solved'";
  const id = store.prepare(sql).get(seasonId)?.id;
  return id === null || id === undefined ? null : Number(id);
}

/** The solved plan of a season that was made before the one with this row id, or null. */
export function solvedBefore(store: Store, seasonId: string, id: number): PlanRow | null {
  const sql =
    "SELECT * FROM plan WHERE season_id = ? AND state = 'solved' AND id < ? ORDER BY id DESC LIMIT 1";
  return one(store, sql, seasonId, id);
}

/** Notes that a plan for this season revision is being made. Returns its row id. */
export function startPlan(
  store: Store,
  season: { id: string; revision: number; hash: string },
  at: string,
): number {
  const sql = "INSERT INTO plan (season_id, season_revision, season_hash, state, started) " +
    "VALUES (?, ?, ?, 'solving', ?)";
  return Number(store.prepare(sql).run(season.id, season.revision, season.hash, at).lastInsertRowid);
}

/** Stores a finished plan and lets go of the season's oldest ones, in one transaction. */
export function endPlan(store: Store, id: number, document: string, reason: string, at: string): void {
  inTransaction(store, () => {
    store.prepare("UPDATE plan SET state = 'solved', document = ?, reason = ?, ended = ? WHERE id = ?")
      .run(document, reason, at, id);
    store.prepare(
      "DELETE FROM plan WHERE season_id = (SELECT season_id FROM plan WHERE id = :id) AND id NOT IN " +
        "(SELECT id FROM plan WHERE season_id = (SELECT season_id FROM plan WHERE id = :id) " +
        "ORDER BY id DESC LIMIT :kept)",
    ).run({ id, kept: KEPT_PLANS });
  });
}

/** Stores a finished plan again with something added to it. */
export function completePlan(store: Store, id: number, document: string): void {
  store.prepare("UPDATE plan SET document = ? WHERE id = ? AND state = 'solved'").run(document, id);
}

/** Marks a plan failed, with the reason in words that a person can act on. */
export function failPlan(store: Store, id: number, reason: string, at: string): void {
  store.prepare("UPDATE plan SET state = 'failed', reason = ?, ended = ? WHERE id = ?").run(reason, at, id);
}

/**
 * Marks plans that a stopped server left unfinished as failed, and returns the seasons they were of. Called once, before
 * the server answers.
 */
export function failUnfinishedPlans(store: Store, at: string): string[] {
  const sql =
    "UPDATE plan SET state = 'failed', reason = ?, ended = ? WHERE state = 'solving' RETURNING season_id";
  return [...new Set(store.prepare(sql).all(INTERRUPTED, at).map((row) => String(row.season_id)))];
}

/** The plan of a stored row, or null when it was written in a form that this version does not know. */
export function readPlan(row: PlanRow): Plan | null {
  const parsed = planSchema.safeParse(JSON.parse(row.document ?? "null"));
  return parsed.success ? parsed.data : null;
}

function one(store: Store, sql: string, ...values: (string | number)[]): PlanRow | null {
  const row = store.prepare(sql).get(...values);
  return row === undefined ? null : { ...row } as unknown as PlanRow;
}
