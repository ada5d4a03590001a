import { z } from "zod";
import { unwrapped } from "../season/check/walk.ts";
import { weekday, writings } from "../season/quantity.ts";
import { choiceWords, WEEKDAYS } from "./names.ts";
import type { Choice, Control, FieldNode, SetNode } from "./node.ts";
import { numberParts } from "./number-parts.ts";
import { referenceChoices, referredKind } from "./references.ts";
import { named, type Spot } from "./spot.ts";

type Schema = z.core.$ZodType;

/** Longest text that goes into one line. */
const ONE_LINE = 120;

/** A member of a value that may be no object. */
export function memberOf(value: unknown, key: string | number): unknown {
  return typeof value === "object" && value !== null && Object.hasOwn(value, key)
    ? (value as Record<string | number, unknown>)[key]
    : undefined;
}

/** Text as a browser sends it back: it writes its own line ends. */
export function normalText(text: string): string {
  return text.replaceAll("\r\n", "\n").replaceAll("\r", "\n");
}

function step(spot: Spot, back: number): string {
  return spot.path.at(-back) ?? "";
}

/** Fewest and most entries that a list may have. */
export function bounds(schema: z.ZodArray): { least: number; most: number } {
  let least = 0, most = Infinity;
  for (const check of schema.def.checks ?? []) {
    const { minimum, maximum, length } = check._zod.def as {
      minimum?: number;
      maximum?: number;
      length?: number;
    };
    least = Math.max(least, minimum ?? length ?? 0);
    most = Math.min(most, maximum ?? length ?? Infinity);
  }
  return { least, most };
}

/** True when a list holds some of a few things, so that each can be ticked. */
export function isLeafList(spot: Spot, schema: z.ZodArray): boolean {
  const { element } = schema;
  return element instanceof z.ZodEnum || element === weekday ||
    referredKind(step(spot, 1), step(spot, 2)) !== null;
}

/** What can be chosen in a field, or the empty list when it is typed. What stands there already is always among it. */
export function leafChoices(spot: Spot, schema: Schema): readonly Choice[] {
  const name = step(spot, 1), parent = step(spot, 2);
  const worded = (is: string | number) => ({
    text: String(is),
    words: choiceWords(String(is), name, parent),
    is,
  });
  if (schema instanceof z.ZodEnum) return schema.options.map(worded);
  if (schema === weekday) {
    return WEEKDAYS.map((words, index) => ({ text: `${index + 1}`, words, is: index + 1 }));
  }
  if (schema instanceof z.ZodBoolean) {
    return [{ text: "yes", words: "yes", is: true }, { text: "no", words: "no", is: false }];
  }
  if (name === "class") return [1, 2, 3].map(worded);
  const kind = schema instanceof z.ZodString ? referredKind(name, parent) : null;
  return kind === null ? [] : referenceChoices(spot.source.season, kind, name, spot.source.seen);
}

/** Puts values that can no longer be chosen, but stand there, at the end of what can be. */
function withSeen(choices: readonly Choice[], seen: readonly unknown[]): Choice[] {
  const gone = seen.filter((one) => one !== undefined && !choices.some(({ is }) => is === one));
  return [
    ...choices,
    ...new Set(gone).values().map((is) => ({ text: String(is), words: `${is} (no longer there)`, is })),
  ];
}

/** A list of some of a few things. */
export function makeSet(spot: Spot, schema: z.ZodArray): SetNode {
  const seen = Array.isArray(spot.seen) ? spot.seen as unknown[] : undefined;
  const choices = withSeen(leafChoices(spot, schema.element), seen ?? []);
  const asked = spot.entries?.has(`${spot.name}:asked`);
  const textOf = (is: unknown) => choices.find((one) => one.is === is)!.text;
  const about = named(spot);
  return {
    kind: "set",
    ...about,
    choices,
    seen,
    fallback: unwrapped(spot.schema).fallback,
    least: bounds(schema).least,
    picked: asked ? spot.entries!.get(spot.name) ?? [] : (seen ?? []).map(textOf),
  };
}

/** A field with one value. */
export function makeField(spot: Spot, schema: Schema): FieldNode {
  const found = leafChoices(spot, schema);
  const choices = found.length === 0 && !isReference(spot, schema) ? [] : withSeen(found, [spot.seen]);
  const control = controlOf(spot, schema);
  const number = schema instanceof z.ZodNumber && control === "number"
    ? numberParts(spot, schema)
    : undefined;
  const shown = control === "choice"
    ? choices.find(({ is }) => is === spot.seen)?.text ?? ""
    : typeof spot.seen === "number" && number !== undefined
    ? number.toText(spot.seen)
    : spot.seen === undefined
    ? ""
    : normalText(String(spot.seen));
  const typed = control === "fixed" ? undefined : spot.entries?.get(spot.name)?.[0];
  const about = named(spot);
  const plain = control === "id" || control === "fixed" || isReference(spot, schema);
  return {
    kind: "field",
    ...about,
    meaning: plain ? "" : about.meaning,
    control,
    schema,
    seen: spot.seen,
    fallback: unwrapped(spot.schema).fallback,
    shown,
    text: typed === undefined ? shown : normalText(typed),
    choices,
    ...number,
  };
}

function isReference(spot: Spot, schema: Schema): boolean {
  return schema instanceof z.ZodString && referredKind(step(spot, 1), step(spot, 2)) !== null;
}

function controlOf(spot: Spot, schema: Schema): Control {
  const name = step(spot, 1);
  const newId = spot.key || (name === "batchId" && !isReference(spot, schema));
  if (newId && spot.seen !== undefined) return "fixed";
  if (isReference(spot, schema)) return "choice";
  if (newId) return "id";
  if (leafChoices(spot, schema).length > 0) return "choice";
  if (schema instanceof z.ZodNumber) return "number";
  const writing = writings.get(schema)?.writing;
  if (writing !== undefined) return writing;
  return schema instanceof z.ZodString && (schema.maxLength ?? 0) > ONE_LINE ? "long text" : "text";
}
