import { merge } from "../core/form/merge.ts";
import { keyFields, keyOf, type Place, spotAt } from "../core/form/place.ts";
import { bookValuesAfter } from "../core/season/book-values.ts";
import { valueAt } from "../core/season/check/finding.ts";
import { checkSeason, type Finding } from "../core/season/check.ts";
import type { Season } from "../core/season/season.ts";
import { asOfNow } from "./_as-of.ts";
import type { Parts } from "./_parts.ts";
import { seasonEntry } from "./_season-file.ts";
import { readStored, standingOf } from "./_standing.ts";
import { replaceSeason } from "./_store/seasons.ts";

/** One change that somebody makes. */
export interface Edit {
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

/** A field that somebody else has changed in the meantime. */
export interface Conflict {
  readonly place: Place;
  readonly seen: unknown;
  readonly now: unknown;
  readonly author: string;
  /** ISO 8601 in UTC. */
  readonly at: string;
}

/** What became of an edit. */
export type Saved =
  | { readonly kind: "saved"; readonly revision: number }
  | { readonly kind: "findings"; readonly findings: readonly Finding[] }
  | { readonly kind: "conflict"; readonly conflicts: readonly Conflict[] };

/** Puts a change into the season as it now stands, unless its check or somebody else's change speaks against it. */
export async function saveValue(parts: Parts, seasonId: string, edit: Edit): Promise<Saved> {
  const { row } = standingOf(parts, seasonId);
  const { stored } = readStored(row);
  const now = spotAt(stored, edit.place)?.value;
  const merged = merge(edit.seen, edit.value, now);
  if (merged.both.length > 0) {
    const at = row.updated;
    const conflicts = merged.both.map((name) => {
      const steps = name.split("/").slice(1);
      const place = edit.place + placeIn(merged.value, steps);
      return { place, seen: valueAt(edit.seen, steps), now: valueAt(now, steps), author: "somebody", at };
    });
    return { kind: "conflict", conflicts };
  }
  const value = merged.out.length === 0 ? merged.value : edit.value;
  const after = withValue(stored, edit.place, value);
  const checked = checkSeason({ ...after, bookValues: bookValuesAfter(stored, after) }, {
    asOf: asOfNow(after, parts.now()).asOf,
  });
  if (checked.season === null) {
    return { kind: "findings", findings: checked.findings.filter(({ level }) => level === "error") };
  }
  const revision = replaceSeason(parts.store, await seasonEntry(checked.season, parts.now()), row.revision);
  return revision === null ? await saveValue(parts, seasonId, edit) : { kind: "saved", revision };
}

function placeIn(value: unknown, steps: readonly string[]): Place {
  let at = value;
  return steps.map((step) => {
    const key = Array.isArray(at) ? keyOf(at[Number(step)], ["id"]) : null;
    at = valueAt(at, [step]);
    return key === null ? `/${step}` : `/=${key}`;
  }).join("");
}

function withValue(season: Season, place: Place, value: unknown): Season {
  if (place === "") return value as Season;
  const after = structuredClone(season);
  const steps = place.split("/").slice(1);
  const names = steps.filter((step) => !step.startsWith("="));
  const last = steps.at(-1)!;
  const holder = valueAt(after, last.startsWith("=") ? names : names.slice(0, -1));
  if (Array.isArray(holder)) {
    const index = holder.findIndex((row) => `=${keyOf(row, keyFields(names))}` === last);
    holder.splice(
      index === -1 ? holder.length : index,
      index === -1 ? 0 : 1,
      ...(value === undefined ? [] : [value]),
    );
  } else (holder as Record<string, unknown>)[last] = value;
  return after;
}
