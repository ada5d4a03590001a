import type { Change } from "./change.ts";
import { isObject, type Json, type JsonObject, sameJson } from "./json.ts";
import { keyOf, type Place, placeOf, stepsOf, valueAt } from "./place.ts";

/** A change that does not find what it was made for. */
export interface Clash {
  readonly at: Place;
  /** What the author saw there. */
  readonly seen: Json | undefined;
  /** What stands there now. */
  readonly now: Json | undefined;
  /** What the author wants there. */
  readonly wanted: Json | undefined;
}

/** A document after some changes, and those of them that clashed and were not made. */
export interface Applied {
  readonly document: JsonObject;
  readonly clashes: readonly Clash[];
}

/**
 * Makes changes one after the other. A change is made where its `from` stands; where its `to` stands already there is
 * nothing to do; anything else is a clash. `document` holds places as marks and stays as it is.
 */
export function applyChanges(document: JsonObject, changes: readonly Change[]): Applied {
  const clashes: Clash[] = [];
  let after = document;
  for (const change of inOrder(changes)) {
    const now = valueAt(after, change.at);
    if (sameJson(now, change.to)) continue;
    const next = sameJson(now, change.from) ? withValue(after, change) : null;
    if (next === null) {
      const { at, from: seen, to: wanted } = change;
      clashes.push({ at, seen, now, wanted });
    } else after = next;
  }
  return { document: after, clashes };
}

/** Rows go before rows come, and come in the order of their numbers, so that each finds its place. */
function inOrder(changes: readonly Change[]): Change[] {
  const comes = (one: Change) => one.index !== undefined && one.from === undefined;
  return [
    ...changes.filter((one) => !comes(one)),
    ...changes.filter(comes).sort((a, b) => a.index! - b.index!),
  ];
}

/** The document with the change made, or null when the place stands in nothing. */
function withValue(document: JsonObject, change: Change): JsonObject | null {
  const steps = stepsOf(change.at);
  if (steps.length === 0) return isObject(change.to) ? change.to : null;
  const after = set(document, steps, 0, change);
  return isObject(after) ? after : null;
}

function set(value: Json | undefined, steps: readonly string[], depth: number, change: Change): Json | null {
  const step = steps[depth]!;
  const last = depth === steps.length - 1;
  // The first row of a list that may be left out begins the list.
  if (value === undefined && last && step.startsWith("=")) return withRow([], null, change);
  if (Array.isArray(value)) {
    const index = rowNumber(value, steps, depth);
    if (last) return withRow(value, index, change);
    if (index === null) return null;
    const inner = set(value[index], steps, depth + 1, change);
    return inner === null ? null : value.with(index, inner);
  }
  if (!isObject(value)) return null;
  if (last) {
    if (change.to !== undefined) return { ...value, [step]: change.to };
    const { [step]: _, ...rest } = value;
    return rest;
  }
  const inner = set(Object.hasOwn(value, step) ? value[step] : undefined, steps, depth + 1, change);
  return inner === null ? null : { ...value, [step]: inner };
}

function rowNumber(list: readonly Json[], steps: readonly string[], depth: number): number | null {
  const step = steps[depth]!;
  if (!step.startsWith("=")) return Number(step) < list.length ? Number(step) : null;
  const place = placeOf(steps.slice(0, depth));
  const index = list.findIndex((row) => keyOf(row, place) === step.slice(1));
  return index < 0 ? null : index;
}

function withRow(list: readonly Json[], index: number | null, { to, index: wanted }: Change): Json | null {
  if (to === undefined) return index === null ? null : list.toSpliced(index, 1);
  return index === null ? list.toSpliced(wanted ?? list.length, 0, to) : list.with(index, to);
}
