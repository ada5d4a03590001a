import type { Change } from "../../core/edit/change.ts";
import { isObject, type Json, type JsonObject } from "../../core/edit/json.ts";
import { below, type Place, rowBelow, rowsByKey } from "../../core/edit/place.ts";
import type { Season } from "../../core/season/season.ts";

/** Chooses a number from 0 to `below` - 1. */
export type Pick = (below: number) => number;

/** Changes such as a person might make of this season; not all of them would pass its check. */
export function someEdit(season: Season, pick: Pick, id: string): Change[] {
  const document = season as unknown as JsonObject;
  const kinds = [tweak, tweak, tweak, rename, takeOut, addBrew, addPerson, adjust];
  return kinds[pick(kinds.length)]!(document, pick, id);
}

/** Rows that a list is let grow to, so that thousands of edits do not make another farm of it. */
const MOST = { brews: 180, people: 12, adjustments: 40 };

interface Leaf {
  readonly at: Place;
  readonly value: Json;
}

/** Every plain value of a season with its place; rows by key, lists of other things by number are left out. */
export function leavesOf(value: Json | undefined, at: Place = ""): Leaf[] {
  if (Array.isArray(value)) {
    const rows = rowsByKey(value, at);
    return rows === null ? [] : [...rows].flatMap(([key, row]) => leavesOf(row, rowBelow(at, key)));
  }
  if (isObject(value)) return Object.entries(value).flatMap(([key, one]) => leavesOf(one, below(at, key)));
  return value === undefined ? [] : [{ at, value }];
}

function tweak(document: JsonObject, pick: Pick): Change[] {
  const leaves = leavesOf(document).filter(({ at, value }) => typeof value === "number" && at !== "/version");
  // Half of the edits meet at a few places, or people would hardly ever be in each other's way.
  const near = pick(2) === 0 ? Math.min(8, leaves.length) : leaves.length;
  const { at, value } = leaves[pick(near)]!;
  const from = value as number;
  const to = Number.isInteger(from) ? from + pick(7) - 3 : from * (0.99 + pick(3) / 100);
  return [{ at, from, to }];
}

function rename(document: JsonObject, pick: Pick): Change[] {
  const leaves = leavesOf(document).filter(({ at, value }) =>
    /\/name$/.test(at) && typeof value === "string"
  );
  const { at, value } = leaves[pick(leaves.length)]!;
  return [{ at, from: value, to: `Plot ${pick(1000)}` }];
}

function takeOut(document: JsonObject, pick: Pick): Change[] {
  const lists = ["brews", "feedPickups", "people", "contracts", "plantings", "lots", "supplyOffers"];
  const list = lists[pick(lists.length)]!;
  const rows = document[list] as readonly JsonObject[];
  if (rows.length === 0) return rename(document, pick);
  const index = pick(rows.length);
  return [{ at: `/${list}/=${rows[index]!.id}`, from: rows[index], index }];
}

function addBrew(document: JsonObject, pick: Pick, id: string): Change[] {
  const brews = document.brews as readonly JsonObject[];
  if (brews.length === 0) return addPerson(document, pick, id);
  if (brews.length > MOST.brews) return takeOut(document, pick);
  const to = { ...brews[pick(brews.length)]!, id };
  return [{ at: `/brews/=${id}`, to, index: brews.length }];
}

function addPerson(document: JsonObject, pick: Pick, id: string): Change[] {
  if ((document.people as readonly Json[]).length > MOST.people) return tweak(document, pick);
  const to = { id, name: `Hand ${pick(100)}`, roles: ["maltster"], away: [] };
  return [{ at: `/people/=${id}`, to, index: (document.people as readonly Json[]).length }];
}

function adjust(document: JsonObject, pick: Pick, id: string): Change[] {
  const { grain } = document.opening as { grain: readonly JsonObject[] };
  const { adjustments } = document.records as { adjustments: readonly Json[] };
  if (grain.length === 0 || adjustments.length > MOST.adjustments) return addPerson(document, pick, id);
  const { lotId, storeId } = grain[pick(grain.length)]!;
  const records = (document.records as { adjustments: readonly Json[] }).adjustments;
  const on = String(document.asOf).slice(0, 10);
  const to = { id, on, lotId: lotId!, storeId: storeId!, deltaG: pick(2000) - 1000, reason: "counted" };
  return [{ at: `/records/adjustments/=${id}`, to, index: records.length }];
}
