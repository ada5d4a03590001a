import type { FindingCode } from "./codes.ts";
import { FINDING_LEVELS } from "./codes.ts";
import { thingAt } from "./thing.ts";

/** Where something stands in a season: keys and row numbers from the top. */
export type Path = readonly (string | number)[];

/** One thing that is wrong or doubtful in a season, in words for the person who can mend it. */
export interface Finding {
  /** An error stops the plan; a warning stands beside it on the page. */
  readonly level: "error" | "warning";
  readonly code: FindingCode;
  /** What it is about, as the farm would say it: kind, name and id. */
  readonly thing: string;
  /** JSON Pointer (RFC 6901) of the value. */
  readonly field: string;
  readonly value: string;
  readonly limit: string;
  /** What is wrong, in a sentence. */
  readonly message: string;
  /** What to do about it, in a sentence. */
  readonly wayOut: string;
}

/** The words of a finding. `value` is shown as it is; left out, it is what stands at the path. */
export interface Words {
  readonly value?: unknown;
  readonly limit: string;
  readonly message: string;
  readonly wayOut: string;
}

/** Notes one finding about the season that is being checked. */
export type Tell = (code: FindingCode, path: Path, words: Words) => void;

/** A finding about the value at a path of a season, or of what was meant to be one. */
export function finding(root: unknown, code: FindingCode, path: Path, words: Words): Finding {
  const { limit, message, wayOut } = words;
  return {
    level: FINDING_LEVELS[code],
    code,
    thing: thingAt(root, path),
    field: pointer(path),
    value: shown("value" in words ? words.value : valueAt(root, path)),
    limit,
    message,
    wayOut,
  };
}

/** JSON Pointer of a path; the whole document is the empty text. */
export function pointer(path: Path): string {
  return path.map((step) => `/${String(step).replaceAll("~", "~0").replaceAll("/", "~1")}`).join("");
}

/** What stands at a path, or undefined. */
export function valueAt(root: unknown, path: Path): unknown {
  return path.reduce<unknown>((value, step) => {
    if (typeof value !== "object" || value === null) return undefined;
    return (value as Record<string | number, unknown>)[step];
  }, root);
}

const MOST_SHOWN = 80;

/** A value in a few words, whatever it is. */
export function shown(value: unknown): string {
  if (value === undefined) return "nothing";
  if (Array.isArray(value)) return value.length === 1 ? "a list of 1" : `a list of ${value.length}`;
  if (typeof value === "object" && value !== null) return "a group of fields";
  if (typeof value === "function") return "a function";
  const words = String(value);
  // Text of blanks is shown in quotes, or there would be nothing to see.
  if (!/\S/.test(words)) return JSON.stringify(words.slice(0, MOST_SHOWN));
  return words.length > MOST_SHOWN ? `${words.slice(0, MOST_SHOWN)}…` : words;
}
