import { changesAt } from "../../core/edit/change.ts";
import type { Json } from "../../core/edit/json.ts";
import type { Place } from "../../core/edit/place.ts";
import type { Finding } from "../../core/season/check.ts";
import { type Conflict, isEditId, makeEdit } from "../_edits.ts";
import type { Parts } from "../_parts.ts";

/** One value that somebody sets, as a form sends it. */
export interface ValueEdit {
  readonly place: Place;
  /** What the person saw there; undefined for something new. */
  readonly seen: unknown;
  /** What it is to be; undefined takes it out. */
  readonly value: unknown;
  readonly author: string;
  readonly reason: string;
  /** The same for the same form, so that one sent twice is saved once. */
  readonly editId: string;
}

/** What became of it. */
export type Saved =
  | { readonly kind: "saved" }
  | { readonly kind: "no reason" }
  | { readonly kind: "findings"; readonly findings: readonly Finding[] }
  | { readonly kind: "conflict"; readonly conflicts: readonly Conflict[] };

/** Makes an edit of those fields that differ from what was seen, so that two people meet only in the same field. */
export function saveValue(parts: Parts, seasonId: string, edit: ValueEdit): Saved {
  const { place, seen, value, author, reason, editId } = edit;
  // A form without its name could be sent twice, but it is no reason to lose what was typed.
  const id = isEditId(editId) ? editId : crypto.randomUUID();
  const changes = changesAt(place, seen as Json | undefined, value as Json | undefined);
  const answer = makeEdit(parts, seasonId, { id, author, reason, seen: [], changes });
  return answer.kind === "nothing" ? { kind: "saved" } : answer;
}
