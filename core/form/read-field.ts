import { z } from "zod";
import type { FieldNode, SetNode } from "./node.ts";
import { plainDigits } from "./number-text.ts";

/** What was wrong with what was typed into a field, and what to do about it. */
export interface Trouble {
  /** Name of the field. */
  readonly name: string;
  readonly label: string;
  readonly message: string;
  readonly wayOut: string;
}

/** A value that was read, or what was wrong with it. */
export type Reading = { readonly value: unknown } | { readonly trouble: Trouble };

/** Reads one field. A text that nobody touched gives the very value that stood there. */
export function readField(field: FieldNode): Reading {
  if (field.control === "fixed") return { value: field.seen };
  const text = field.text.trim();
  if (field.text === field.shown && !(field.seen === undefined && text === "")) return { value: field.seen };
  if (field.control === "text" || field.control === "long text") return readText(field, text);
  if (text === "") return readEmpty(field);
  const { control } = field;
  if (control === "choice") return readChoice(field, text);
  if (control === "number") return readNumber(field, text);
  return control === "id" ? readId(field, text) : readTime(field, control, text);
}

function trouble({ name, label }: FieldNode | SetNode, message: string, wayOut: string): Reading {
  return { trouble: { name, label, message, wayOut } };
}

function readEmpty(field: FieldNode): Reading {
  if (field.control === "id") return { value: undefined };
  if (field.optional) return { value: field.fallback };
  const how = field.choices.length > 0 ? "Choose one." : "Fill it in.";
  return trouble(field, "This must not be empty.", how);
}

function readText(field: FieldNode, text: string): Reading {
  if (text === "" && field.optional) return { value: field.fallback };
  const parsed = z.safeParse(field.schema, text);
  if (parsed.success) return { value: parsed.data };
  const [issue] = parsed.error.issues;
  if (issue?.code === "too_big") {
    return trouble(field, `This text is too long: ${text.length} letters.`, `Use at most ${issue.maximum}.`);
  }
  return text === ""
    ? trouble(field, "This must not be empty.", `Write ${issue?.message}.`)
    : trouble(field, `"${text}" is not written as it must be.`, `Write ${issue?.message}.`);
}

function readChoice(field: FieldNode, text: string): Reading {
  const chosen = field.choices.find((one) => one.text === text);
  return chosen === undefined
    ? trouble(field, `"${text}" is none of the choices.`, "Choose one from the list.")
    : { value: chosen.is };
}

function readNumber(field: FieldNode, text: string): Reading {
  const digits = plainDigits(text);
  if (digits === null) {
    return trouble(field, `"${text}" is not a number.`, "Write digits only, such as 1234.5 or 1,234.5.");
  }
  const value = field.toFile!(digits);
  const parsed = z.safeParse(field.schema, value);
  if (parsed.success) return { value };
  const { unit = "" } = field.facts ?? {};
  const [issue] = parsed.error.issues;
  if (issue?.code === "invalid_type") {
    return trouble(field, `${text} is not a whole number.`, "Write a whole number.");
  }
  const most = issue?.code === "too_big";
  const limit = issue?.code === "too_big"
    ? issue.maximum
    : issue?.code === "too_small"
    ? issue.minimum
    : undefined;
  const bound = limit === undefined ? "" : `${field.toText!(Number(limit))} ${unit}`.trim();
  return trouble(
    field,
    `${text} is too ${most ? "much" : "little"}.`,
    `Write ${bound} or ${most ? "less" : "more"}.`,
  );
}

function readId(field: FieldNode, text: string): Reading {
  return z.safeParse(field.schema, text).success ? { value: text } : trouble(
    field,
    `"${text}" cannot be a key.`,
    "Use small letters a to z, digits and hyphens, at most 40, or leave it empty.",
  );
}

const WRITTEN = {
  day: ["a day", "2027-01-18"],
  minute: ["a day and a time", "2027-01-18T07:30"],
  time: ["a time of day", "07:30"],
} as const;

function readTime(field: FieldNode, control: keyof typeof WRITTEN, text: string): Reading {
  // A time of one digit is meant as it is spoken; some browsers put a blank, or seconds, into a minute.
  const written = control === "time" && /^\d:\d\d$/.test(text)
    ? `0${text}`
    : control === "minute"
    ? text.replace(" ", "T").replace(/(T\d\d:\d\d):00(\.0+)?$/, "$1")
    : text;
  if (z.safeParse(field.schema, written).success) return { value: written };
  const [what, example] = WRITTEN[control];
  return trouble(field, `"${text}" is not ${what}.`, `Write it as ${example}.`);
}

/** Reads the ticks of a set. What was ticked before keeps its order; what is new comes after it. */
export function readSet(set: SetNode): Reading {
  const before = set.seen ?? [];
  const stays = (is: unknown) => set.picked.includes(set.choices.find((one) => one.is === is)!.text);
  const added = set.choices.filter(({ text, is }) => set.picked.includes(text) && !before.includes(is));
  if (added.length === 0 && before.every(stays)) {
    return checkSet(set, set.seen ?? (set.optional ? set.fallback : []));
  }
  const value = [...before.filter(stays), ...added.map(({ is }) => is)];
  return checkSet(set, value.length === 0 && set.optional && set.fallback === undefined ? undefined : value);
}

function checkSet(set: SetNode, value: unknown): Reading {
  const empty = Array.isArray(value) && value.length === 0;
  return empty && set.least > 0 && value !== set.seen
    ? trouble(set, "Nothing is ticked.", "Tick at least one.")
    : { value };
}
