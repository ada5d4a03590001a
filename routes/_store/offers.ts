import { type Plan, planSchema } from "../../core/plan/plan.ts";
import type { Store } from "./open.ts";
import { inTransaction } from "./transaction.ts";

/** One offered plan as it is stored. `document` is the plan file as JSON; instants are ISO 8601 in UTC. */
export interface OfferRow {
  readonly id: number;
  readonly season_id: string;
  readonly season_hash: string;
  /** The row of the plan it was compared with. */
  readonly plan_id: number;
  /** The farm's minute that it was made for, local. */
  readonly as_of: string;
  readonly state: "open" | "taken" | "left";
  readonly document: string;
  readonly found: string;
  readonly decided: string | null;
  readonly decided_by: string | null;
}

/** Stores an open offer in the place of the season's last open one. */
export function putOffer(
  store: Store,
  offer: Pick<OfferRow, "season_id" | "season_hash" | "plan_id" | "as_of" | "document">,
  at: string,
): void {
  inTransaction(store, () => {
    store.prepare("DELETE FROM offer WHERE season_id = ? AND state = 'open'").run(offer.season_id);
    store.prepare(
      "INSERT INTO offer (season_id, season_hash, plan_id, as_of, document, found) VALUES (?, ?, ?, ?, ?, ?)",
    ).run(offer.season_id, offer.season_hash, offer.plan_id, offer.as_of, offer.document, at);
  });
}

/** A season's open offer, or null. Whether it still stands depends on the season and its plan. */
export function openOffer(store: Store, seasonId: string): OfferRow | null {
  const row = store.prepare("SELECT * FROM offer WHERE season_id = ? AND state = 'open'").get(seasonId);
  return row === undefined ? null : { ...row } as unknown as OfferRow;
}

/** Notes what somebody decided about an offer. */
export function decideOffer(
  store: Store,
  id: number,
  state: "taken" | "left",
  who: string,
  at: string,
): void {
  store.prepare("UPDATE offer SET state = ?, decided = ?, decided_by = ? WHERE id = ?").run(
    state,
    at,
    who,
    id,
  );
}

/** The plans that were offered for a season as it is (`hash`) and left, with its open offer. */
export function offeredBefore(store: Store, seasonId: string, hash: string): Plan[] {
  const sql = "SELECT document FROM offer WHERE season_id = ? AND season_hash = ? AND state <> 'taken'";
  return store.prepare(sql).all(seasonId, hash).flatMap(({ document }) =>
    readOffered(String(document)) ?? []
  );
}

/** An offered plan, or null when it was written in a form that this version does not know. */
export function readOffered(document: string): Plan | null {
  const parsed = planSchema.safeParse(JSON.parse(document));
  return parsed.success ? parsed.data : null;
}
