import { isWorthOffering } from "../core/plan/offer.ts";
import type { Plan } from "../core/plan/plan.ts";
import { type OfferWords, offerWords } from "../core/year/offer-words.ts";
import { asOfNow } from "./_as-of.ts";
import type { Parts } from "./_parts.ts";
import { Refusal } from "./_shell/errors.tsx";
import { refusedAtDoor } from "./_solver/ports.ts";
import { readStored, type Standing, standingOf } from "./_standing.ts";
import {
  decideOffer,
  offeredBefore,
  type OfferRow,
  openOffer,
  putOffer,
  readOffered,
} from "./_store/offers.ts";
import { endPlan, readPlan, startPlan } from "./_store/plans.ts";
import { inTransaction } from "./_store/transaction.ts";
import { nameOfWho } from "./_who.ts";

/** An offer as the page shows it. */
export interface OfferView extends OfferWords {
  readonly id: number;
}

type Desk = Omit<Parts, "looker">;

/** Offers a plan in place of the one the season has, if it is worth it beside all that was offered before. */
export function offerIfWorth(parts: Desk, seasonId: string, found: Plan): void {
  const standing = standingOf(parts, seasonId);
  const { row, latest, state } = standing;
  const present = latest === null ? null : readPlan(latest);
  if (state !== "planned" || latest === null || present === null || row.shelf !== "open") return;
  const { stored } = readStored(row);
  if (!isWorthOffering(stored, present, found, offeredBefore(parts.store, row.id, row.hash))) return;
  if (refusedAtDoor(stored, found) !== null) return;
  putOffer(parts.store, {
    ...{ season_id: row.id, season_hash: row.hash, plan_id: latest.id },
    ...{ as_of: found.asOf, document: JSON.stringify(found) },
  }, parts.now().toISOString());
}

/**
 * The offer that stands: made for the season as it is, against the very plan it has, on the farm's present day. While a plan is
 * in the making there is none.
 */
export function standingOffer(parts: Desk, { row, state, latest }: Standing): OfferRow | null {
  if (state !== "planned" || latest === null || row.shelf !== "open") return null;
  const offer = openOffer(parts.store, row.id);
  if (offer === null || offer.plan_id !== latest.id) return null;
  const { asOf } = asOfNow(readStored(row).stored, parts.now());
  return offer.as_of.slice(0, 10) === asOf.slice(0, 10) ? offer : null;
}

/** The offer that stands, in words, or null. */
export function offerView(parts: Desk, standing: Standing): OfferView | null {
  const offer = standingOffer(parts, standing);
  const [present, found] = [
    standing.latest && readPlan(standing.latest),
    offer && readOffered(offer.document),
  ];
  if (offer === null || present === null || found === null) return null;
  const season = asOfNow(readStored(standing.row).stored, parts.now());
  return { id: offer.id, ...offerWords(season, present, found, season.asOf) };
}

/**
 * Makes an offered plan the season's newest one, in one transaction, with who took it. Refuses with 409 an offer that no longer
 * stands, and a plan that the auditor does not pass.
 */
export function takeOffer(parts: Desk, seasonId: string, id: number, who: string): void {
  const { store } = parts;
  const at = parts.now().toISOString();
  inTransaction(store, () => {
    const { standing, offer } = needed(parts, seasonId, id);
    const { row } = standing;
    const { stored } = readStored(row);
    const plan = readOffered(offer.document);
    const refusal = plan === null ? "It was written by another version." : refusedAtDoor(stored, plan);
    if (refusal !== null) throw gone(seasonId, refusal);
    const planId = startPlan(store, row, at);
    const remark = `A better plan, taken by ${nameOfWho(stored, who)}.`;
    endPlan(store, planId, offer.document, remark, at);
    decideOffer(store, id, "taken", who, at);
  });
  parts.bell.ring(seasonId);
}

/** Leaves an offer: neither it nor one that is hardly better is made again. Refuses with 409 one that no longer stands. */
export function leaveOffer(parts: Desk, seasonId: string, id: number, who: string): void {
  needed(parts, seasonId, id);
  decideOffer(parts.store, id, "left", who, parts.now().toISOString());
  parts.bell.ring(seasonId);
}

function needed(parts: Desk, seasonId: string, id: number): { standing: Standing; offer: OfferRow } {
  const standing = standingOf(parts, seasonId);
  const offer = standingOffer(parts, standing);
  if (offer?.id === id) return { standing, offer };
  throw gone(seasonId, "The season, its plan or the offer has changed since the page was shown.");
}

function gone(where: string, why: string): Refusal {
  return new Refusal(409, {
    what: `This plan is no longer offered. ${why}`,
    where,
    whatToDo: "Go back to the year: it shows what is offered now. The plan stays as it was.",
  });
}
