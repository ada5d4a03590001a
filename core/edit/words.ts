import { z } from "zod";
import { formatDay } from "../day-names.ts";
import { choiceWords, labelOf, MONTHS, WEEKDAYS } from "../form/names.ts";
import { numberText } from "../form/number-text.ts";
import { readerUnit } from "../form/reader-unit.ts";
import { isIsoDate, isLocalTime } from "../calendar.ts";
import { type Path } from "../season/check/finding.ts";
import { partWord, rowWord } from "../season/check/thing.ts";
import { schemaAt } from "../season/check/walk.ts";
import { dictionary } from "../season/quantity.ts";
import { type Season, seasonSchema } from "../season/season.ts";
import type { Change } from "./change.ts";
import { isObject, type Json, type JsonObject } from "./json.ts";
import { BOOK_VALUES, isWithin, keyOf, type Place, placeOf, stepsOf } from "./place.ts";

/** One change as a person reads it. */
export interface ChangeWords {
  /** What it is about: "lot Lower barley". */
  readonly thing: string;
  /** Which of its values: "moisture"; empty for the thing as a whole. */
  readonly field: string;
  /** What stood there and what stands there now, in the reader's units; empty for a thing as a whole. */
  readonly from: string;
  readonly to: string;
  /** The whole in one line: "lot Lower barley, moisture: 13.2 % → 12.8 %"; of a row that came or went its name alone. */
  readonly line: string;
}

/** The changes that somebody made, without what they brought with them. */
export function toldChanges(changes: readonly Change[]): Change[] {
  const told = changes.filter(({ at }) => at !== "/asOf" && !isWithin(at, `/${BOOK_VALUES}`));
  return told.length > 0 ? told : [...changes];
}

/** What a change is called. `season` names the rows; one that is gone is named by the change. */
export function changeWords(season: Season, change: Change): ChangeWords {
  const whole = change.from === undefined ? change.to : change.from;
  const isRow = change.index !== undefined;
  const steps = stepsOf(change.at);
  const last = steps.findLastIndex((step) => step.startsWith("="));
  const part = last < 0 ? partWord(steps[0] ?? "") : null;
  const thing = part ?? thingWords(season, steps.slice(0, last + 1), isRow ? whole : undefined);
  if (isRow) {
    return { thing, field: "", from: "", to: "", line: thing };
  }
  const field = fieldWords(steps, part === null ? last : 0);
  const [from, to] = [valueWords(season, change.at, change.from), valueWords(season, change.at, change.to)];
  const line = from === to ? `${thing}, ${field}: changed` : `${thing}, ${field}: ${from} → ${to}`;
  return { thing, field, from, to, line };
}

/** "lot Lower barley, analysis a1" for the steps down to a row; a part of the season where there is none. */
function thingWords(season: Season, steps: readonly string[], gone?: Json): string {
  if (steps.length === 0) return "the season";
  const names: string[] = [];
  const words: string[] = [];
  let value: Json | undefined = season as unknown as JsonObject;
  let place: Place = "";
  for (const [depth, step] of steps.entries()) {
    if (Array.isArray(value) || step.startsWith("=")) {
      const key = step.slice(1);
      const row: Json | undefined = Array.isArray(value)
        ? value.find((one) => keyOf(one, place) === key)
        : undefined;
      value = row ?? (depth === steps.length - 1 ? gone : undefined);
      const word = rowWord(names.slice(-1)), title = rowTitle(season, names, value, key);
      words.push(title.toLowerCase().startsWith(word) ? title : `${word} ${title}`);
    } else {
      names.push(step);
      value = isObject(value) ? value[step] : undefined;
    }
    place += placeOf([step]);
  }
  return words.join(", ");
}

/** Marks that turn the direction of writing would turn the sentence around the name as well. */
const TURNS = /[\u202A-\u202E\u2066-\u2069]/g;

/** A row's name, or what it stands for where it has none: a brew is its beer and its day. */
function rowTitle(season: Season, names: readonly string[], row: Json | undefined, key: string): string {
  if (!isObject(row)) return key;
  if (typeof row.name === "string" && row.name.trim() !== "") return row.name.replace(TURNS, "");
  const brew = names.at(-1) === "brews" ? season.brews.find((one) => one.id === key) : undefined;
  const beerId = brew?.beerId ?? row.beerId;
  const beer = season.beers.find((one) => one.id === beerId);
  const on = brew?.on ?? row.on;
  const day = typeof on === "string" && isIsoDate(on) ? ` of ${formatDay(on)}` : "";
  if (beer !== undefined) return `${beer.name}${day}`;
  const lot = season.lots.find((one) => one.id === row.lotId);
  const about = lot === undefined ? key : lot.name;
  return `${about}${day}`;
}

function fieldWords(steps: readonly string[], last: number): string {
  const fields = steps.slice(last + 1);
  const parents = [steps.slice(0, last).findLast((step) => !step.startsWith("=")) ?? "", ...fields];
  const words = fields.map((field, index) =>
    /^\d+$/.test(field) ? `${Number(field) + 1}` : labelOf(field, parents[index]!) ?? field
  );
  return words.map((word) => word.charAt(0).toLowerCase() + word.slice(1)).join(", ") || "all of it";
}

/** A value as it is read on the farm. */
function valueWords(season: Season, at: Place, value: Json | undefined): string {
  if (value === undefined || value === null) return "nothing";
  if (typeof value === "boolean") return value ? "yes" : "no";
  if (typeof value === "number") return numberWords(season, at, value);
  const steps = stepsOf(at);
  if (typeof value === "string") return textWords(season, steps, value);
  if (Array.isArray(value)) return listWords(season, at, value);
  return "as set";
}

function textWords(season: Season, steps: readonly string[], value: string): string {
  if (isIsoDate(value)) return formatDay(value, "en-US", "withYear");
  if (isLocalTime(value)) return `${formatDay(value.slice(0, 10), "en-US", "withYear")}, ${value.slice(11)}`;
  const field = steps.at(-1) ?? "";
  const parent = steps.at(-2) ?? "";
  const named = /Id$/.test(field) ? nameOf(season, value) : null;
  return named ?? (value === "" ? "nothing" : choiceWords(value, field, parent));
}

/** The name of the row that an id stands for. */
function nameOf(season: Season, id: string): string | null {
  for (const list of Object.values(season as unknown as JsonObject)) {
    const row: Json | undefined = Array.isArray(list)
      ? list.find((one) => isObject(one) && one.id === id)
      : undefined;
    if (isObject(row) && typeof row.name === "string") return row.name;
  }
  return null;
}

const MOST_LISTED = 7;

function listWords(season: Season, at: Place, list: readonly Json[]): string {
  if (list.length === 0) return "none";
  const plain = list.every((one) => typeof one === "string" || typeof one === "number");
  if (!plain || (list.length > MOST_LISTED && list.length !== MONTHS.length)) {
    return `a list of ${list.length}`;
  }
  const days = /weekdays$/i.test(at);
  return list.map((one) =>
    days && typeof one === "number" ? WEEKDAYS[one - 1]?.slice(0, 3) ?? one : valueWords(season, at, one)
  ).join(", ");
}

function numberWords(season: Season, at: Place, value: number): string {
  const { path, crop } = pathOf(season, at);
  const schema = schemaAt(seasonSchema, season, path);
  const element = schema !== undefined && "element" in schema ? schema.element as typeof schema : schema;
  const inFile = element === undefined
    ? ""
    : dictionary.get(element)?.unit ?? String(z.globalRegistry.get(element)?.unit ?? "");
  const names = path.filter((step) => typeof step === "string");
  const reader = readerUnit(inFile, {
    units: season.readerUnits,
    currency: season.currency,
    crop: crop as never,
    path: names,
  });
  const text = numberText(reader.toReader(value), { ...reader, grouped: inFile !== "" });
  return reader.unit === "" ? text : `${text} ${reader.unit}`;
}

/** Field names and row numbers down to a place, with the crop of the thing around it. */
function pathOf(season: Season, at: Place): { path: Path; crop: unknown } {
  const path: (string | number)[] = [];
  let value: Json | undefined = season as unknown as JsonObject;
  let place: Place = "";
  let crop: unknown;
  for (const step of stepsOf(at)) {
    const list: Json | undefined = value;
    const next: string | number = Array.isArray(list)
      ? step.startsWith("=") ? list.findIndex((row) => keyOf(row, place) === step.slice(1)) : Number(step)
      : step;
    path.push(next);
    value = Array.isArray(list) ? list[next as number] : isObject(list) ? list[next] : undefined;
    if (isObject(value) && value.crop !== undefined) crop = value.crop;
    place += placeOf([step]);
  }
  return { path, crop };
}
