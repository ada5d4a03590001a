import type { IsoDate } from "../calendar.ts";
import { isoDay } from "./words.ts";
import type { RULES } from "./rules.ts";

/** Name of a rule that every plan keeps; see `RULES`. */
export type RuleId = (typeof RULES)[number]["id"];

/** One place at which a plan does not keep a rule. */
export interface Breach {
  readonly rule: RuleId;
  /** Id of the run, lot, store, brew, order or whatever else is wrong. */
  readonly thing: string;
  /** The day it goes wrong, or null when the breach belongs to no day. */
  readonly on: IsoDate | null;
  /** What the plan says. */
  readonly found: string;
  /** What the rule allows. */
  readonly limit: string;
  /** A sentence for people: what, where, by how much. */
  readonly message: string;
}

/** Builds a breach; `day` is a day number of the calendar, or null. */
export function breach(
  rule: RuleId,
  thing: string,
  day: number | null,
  found: string,
  limit: string,
  message: string,
): Breach {
  return { rule, thing, on: day === null ? null : isoDay(day), found, limit, message };
}
