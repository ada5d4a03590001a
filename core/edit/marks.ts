import { isObject, type Json, type JsonObject } from "./json.ts";
import { BOOK_VALUES, type Place, placeOf, rowsByKey, stepsOf } from "./place.ts";

/**
 * A season in which `bookValues` holds places instead of pointers, so that rows may come and go without a mark slipping
 * to its neighbour. A pointer to nothing stays as it is. `withPointers` is the way back.
 */
export function withPlaces(season: JsonObject): JsonObject {
  return mapped(season, placeFor);
}

/** The season file again, its `bookValues` being JSON pointers. */
export function withPointers(season: JsonObject): JsonObject {
  return mapped(season, pointerFor);
}

function mapped(season: JsonObject, turn: (season: JsonObject, text: string) => string): JsonObject {
  const marks = season[BOOK_VALUES];
  if (!Array.isArray(marks)) return season;
  return { ...season, [BOOK_VALUES]: marks.map((one) => typeof one === "string" ? turn(season, one) : one) };
}

/** The place that a pointer names in this season; the pointer itself when it names nothing. */
export function placeFor(season: JsonObject, pointer: string): Place {
  return translated(season, pointer, (list, at, step) => {
    const rows = rowsByKey(list, at);
    if (rows === null || !/^\d+$/.test(step)) return null;
    const key = [...rows.keys()][Number(step)];
    return key === undefined ? null : { step: `=${key}`, index: Number(step) };
  });
}

/** The pointer to a place of this season; the place itself when nothing stands there. */
export function pointerFor(season: JsonObject, place: Place): string {
  return translated(season, place, (list, at, step) => {
    const rows = rowsByKey(list, at);
    if (rows === null || !step.startsWith("=")) return null;
    const index = [...rows.keys()].indexOf(step.slice(1));
    return index < 0 ? null : { step: String(index), index };
  });
}

type Step = { readonly step: string; readonly index: number };
type TurnStep = (list: readonly Json[], at: Place, step: string) => Step | null;

/** Walks down, turning the step into each keyed list; other lists are entered by number in both writings. */
function translated(season: JsonObject, text: string, turn: TurnStep): string {
  const steps: string[] = [], keyed: string[] = [];
  let value: Json | undefined = season;
  for (const step of stepsOf(text)) {
    if (Array.isArray(value)) {
      const turned: Step | null = turn(value, placeOf(keyed), step) ?? plainStep(value, placeOf(keyed), step);
      if (turned === null) return text;
      steps.push(turned.step);
      keyed.push(turned.step.startsWith("=") ? turned.step : step);
      value = value[turned.index];
    } else if (isObject(value) && Object.hasOwn(value, step)) {
      steps.push(step);
      keyed.push(step);
      value = value[step];
    } else return text;
  }
  return value === undefined ? text : placeOf(steps);
}

function plainStep(list: readonly Json[], at: Place, step: string): Step | null {
  if (rowsByKey(list, at) !== null || !/^\d+$/.test(step)) return null;
  return Number(step) < list.length ? { step, index: Number(step) } : null;
}
