import { z } from "zod";
import { dictionary } from "../quantity.ts";
import { seasonSchema } from "../season.ts";
import { type Path, shown, type Tell, valueAt, type Words } from "./finding.ts";
import type { FindingCode } from "./codes.ts";
import { nearest } from "./nearest.ts";
import { schemaAt } from "./walk.ts";
import { unitHint } from "./unit-hint.ts";

type Issue = z.core.$ZodIssue;

/** Turns what the schema says about a value into findings in people's words. */
export function tellShape(input: unknown, issues: readonly Issue[], tell: Tell): void {
  const told = new Set<string>();
  for (const issue of issues) {
    const path = issue.path as Path;
    // A number far out breaks two limits of the schema at once, its own and the safe integers'; one finding is enough.
    const key = JSON.stringify([path, issue.code]);
    if (issue.code !== "unrecognized_keys" && told.has(key)) continue;
    told.add(key);
    if (issue.code === "unrecognized_keys") unknownFields(input, path, issue.keys, tell);
    else tellOne(input, path, issue, tell);
  }
}

function unknownFields(input: unknown, path: Path, keys: readonly string[], tell: Tell): void {
  const schema = schemaAt(seasonSchema, input, path);
  const known = schema instanceof z.ZodObject ? Object.keys(schema.shape) : [];
  for (const key of keys) {
    const meant = nearest(key, known);
    tell("unknown-field", [...path, key], {
      limit: "a field of the season file",
      message: `There is no field "${shown(key)}" here.`,
      wayOut: meant === undefined
        ? `Take it out. Fields here are ${known.join(", ")}.`
        : `Did you mean "${meant}"? Otherwise take it out.`,
    });
  }
}

function tellOne(input: unknown, path: Path, issue: Issue, tell: Tell): void {
  const field = String(path.findLast((step) => typeof step === "string") ?? "the file");
  const value = valueAt(input, path);
  const say = (code: FindingCode, words: Words) => tell(code, path, words);
  switch (issue.code) {
    case "invalid_type":
      if (value === undefined) {
        return say("missing-field", {
          limit: kindOf(issue.expected),
          message: `"${field}" is missing.`,
          wayOut: `Add it as ${kindOf(issue.expected)}${meaning(input, path)}.`,
        });
      }
      return say("wrong-type", {
        limit: kindOf(issue.expected),
        message: `"${field}" must be ${kindOf(issue.expected)}.`,
        wayOut: `Write ${kindOf(issue.expected)}${meaning(input, path)}.`,
      });
    case "invalid_union":
      return tellChoice(field, value, "options" in issue ? issue.options as unknown[] : [], say);
    case "invalid_value":
      return tellChoice(field, value, issue.values, say);
    case "too_small":
    case "too_big":
      return issue.origin === "array" || issue.origin === "string"
        ? tellLength(field, issue, say)
        : tellNumber(input, path, value, issue, say);
    default:
      return say("wrong-writing", {
        limit: issue.message,
        message: `"${field}" is not written as it must be.`,
        wayOut: `It must be ${issue.message}.`,
      });
  }
}

function tellChoice(
  field: string,
  value: unknown,
  choices: readonly unknown[],
  say: (code: FindingCode, words: Words) => void,
): void {
  const words = choices.map(String);
  if (value === undefined) {
    return say("missing-field", {
      limit: words.join(", "),
      message: `"${field}" is missing.`,
      wayOut: `Add it as one of ${words.join(", ")}.`,
    });
  }
  const meant = typeof value === "string" ? nearest(value, words) : undefined;
  say("wrong-choice", {
    limit: words.join(", "),
    message: `"${field}" cannot be ${shown(value)}.`,
    wayOut: meant === undefined ? `Choose one of ${words.join(", ")}.` : `Did you mean "${meant}"?`,
  });
}

type Bounded = Extract<Issue, { code: "too_small" | "too_big" }>;

function tellLength(field: string, issue: Bounded, say: (code: FindingCode, words: Words) => void): void {
  const what = issue.origin === "array" ? "entries" : "letters";
  const bound = issue.code === "too_big" ? issue.maximum : issue.minimum;
  const how = issue.exact ? "exactly" : issue.code === "too_big" ? "at most" : "at least";
  say("wrong-length", {
    limit: `${how} ${bound} ${what}`,
    message: `"${field}" has the wrong length.`,
    wayOut: `Give it ${how} ${bound} ${what}.`,
  });
}

function tellNumber(
  input: unknown,
  path: Path,
  value: unknown,
  issue: Bounded,
  say: (code: FindingCode, words: Words) => void,
): void {
  const field = String(path.findLast((step) => typeof step === "string"));
  const schema = schemaAt(seasonSchema, input, path);
  const entry = schema === undefined ? undefined : dictionary.get(schema);
  const unit = entry === undefined || entry.unit === "1" ? "" : ` ${entry.unit}`;
  const limit = issue.code === "too_big"
    ? `at most ${issue.maximum}${unit}`
    : `at least ${issue.minimum}${unit}`;
  if (issue.code === "too_small" && issue.minimum === 0) {
    return say("below-zero", {
      limit,
      message: `"${field}" cannot be below zero.`,
      wayOut: "Correct the sign or the value.",
    });
  }
  const hint = entry === undefined ? "" : unitHint(Number(value), entry, valueAt(input, ["readerUnits"]));
  say("absurd-value", {
    limit,
    message: `"${field}" is ${shown(value)}${unit}, beyond anything the file can hold.`,
    wayOut: hint === "" ? `Correct it: ${limit}.` : hint,
  });
}

const KINDS: Readonly<Record<string, string>> = {
  string: "text in quotes",
  number: "a number",
  int: "a whole number",
  boolean: "true or false",
  array: "a list",
  object: "a group of fields in braces",
};

function kindOf(expected: string): string {
  return KINDS[expected] ?? expected;
}

function meaning(input: unknown, path: Path): string {
  const schema = schemaAt(seasonSchema, input, path);
  if (schema === undefined) return "";
  const described = z.globalRegistry.get(schema)?.description;
  const unit = dictionary.get(schema)?.unit;
  const words = [described, unit === undefined || unit === "1" ? undefined : `in ${unit}`].filter(Boolean);
  return words.length === 0 ? "" : ` (${words.join(", ")})`;
}
