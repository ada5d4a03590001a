import { type Change, changesBetween } from "./change.ts";
import { isObject, type Json, type JsonObject } from "./json.ts";
import { BOOK_VALUES, isWithin, keyOf, type Place, valueAt } from "./place.ts";

/**
 * What an edit brings with it: a value that somebody gives is no book value any more, what is recorded is no longer
 * booked, and a new record or booking carries the name of who wrote it. Both documents hold places as marks.
 */
export function tidied(before: JsonObject, after: JsonObject, author: string): JsonObject {
  const changes = changesBetween(before, after);
  return signed(unbooked(unmarked(after, changes), changes), changes, author);
}

function unmarked(document: JsonObject, changes: readonly Change[]): JsonObject {
  const marks = document[BOOK_VALUES];
  if (!Array.isArray(marks)) return document;
  const given = changes.filter(({ at, from }) => from !== undefined && !isWithin(at, `/${BOOK_VALUES}`));
  const kept = marks.filter((mark) =>
    typeof mark !== "string" || !given.some(({ at }) => isWithin(mark, at) || isWithin(at, mark))
  );
  return { ...document, [BOOK_VALUES]: kept };
}

/** The lists of the bookings, which the records repeat under the same names. */
const BOOKED = ["runs", "brews", "orders", "feedLoads", "moves"] as const;

function unbooked(document: JsonObject, changes: readonly Change[]): JsonObject {
  return BOOKED.reduce((whole, list) => {
    const from: Place = `/bookings/${list}`;
    const booked = valueAt(whole, from);
    const done = new Set(
      changes.filter(({ at, to }) => at.startsWith(`/records/${list}/=`) && to !== undefined)
        .map(({ at }) => at.split("/=")[1]),
    );
    const { bookings } = whole;
    if (!Array.isArray(booked) || !isObject(bookings) || done.size === 0) return whole;
    const left = booked.filter((row) => !done.has(keyOf(row, from) ?? undefined));
    return { ...whole, bookings: { ...bookings, [list]: left } };
  }, document);
}

/** Rows that carry the name of who wrote them. */
const SIGNED = /^\/(records|bookings)\/(\w+)\/=([^/]+)$/;

function signed(document: JsonObject, changes: readonly Change[], author: string): JsonObject {
  return changes.reduce((whole, { at, from, to }) => {
    const [, part, list, key] = SIGNED.exec(at) ?? [];
    if (
      part === undefined || list === undefined || from !== undefined || !isObject(to) || to.by !== undefined
    ) {
      return whole;
    }
    const group = whole[part] as JsonObject;
    const rows = group[list] as readonly Json[];
    const place = `/${part}/${list}`;
    const signedRows = rows.map((row) =>
      keyOf(row, place) === key ? { ...row as JsonObject, by: author } : row
    );
    return { ...whole, [part]: { ...group, [list]: signedRows } };
  }, document);
}
