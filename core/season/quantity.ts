import { z } from "zod";
import { isIsoDate, isLocalTime } from "../calendar.ts";

/**
 * What the data dictionary says about a number. `limits` are what the file format accepts at all; a value
 * outside `plausible` is accepted with a warning, because it is more often a slip of unit than a fact.
 */
export interface QuantityMeta {
  unit: string;
  /** Wet or dry, clean or as in bin, before or after a loss; empty when the unit leaves no doubt. */
  basis: string;
  limits: readonly [least: number, greatest: number];
  plausible: readonly [least: number, greatest: number];
  /** Where the book value comes from, or why there is none. */
  source: string;
}

/** The source of a number that no book has. */
export const OWN_FIGURE = "the farm's own figure";

/** Every quantity's entry in the data dictionary, read by the season check and by `schema`. */
export const dictionary = z.registry<QuantityMeta>();

/** How a text that stands for a day, a minute or a time of day is written; read by the forms. */
export const writings = z.registry<{ writing: "day" | "minute" | "time" }>();

interface Describe {
  basis?: string;
  plausible?: readonly [number, number];
  limits?: readonly [number, number];
  source?: string;
}

function describe(schema: z.ZodNumber, unit: string, meaning: string, about: Describe): z.ZodNumber {
  const limits = about.limits ?? [0, 1e12];
  const entry: QuantityMeta = {
    unit,
    basis: about.basis ?? "",
    limits,
    plausible: about.plausible ?? limits,
    source: about.source ?? OWN_FIGURE,
  };
  const bounded = schema.min(limits[0]).max(limits[1]);
  return bounded.register(dictionary, entry).meta({ description: meaning, ...entry });
}

/** A weight in whole grams. Limit: 20,000 t, more than a small farm brewery can hold by a factor of fifty. */
export function massG(meaning: string, about: Describe = {}): z.ZodNumber {
  return describe(z.number().int(), "g", meaning, { limits: [0, 2e10], plausible: [0, 2e9], ...about });
}

/** A volume in litres, to the millilitre. */
export function volumeL(meaning: string, about: Describe = {}): z.ZodNumber {
  return describe(z.number(), "L", meaning, { limits: [0, 1e8], ...about });
}

/** A fraction from 0 to 1. */
export function fraction(meaning: string, about: Describe = {}): z.ZodNumber {
  return describe(z.number(), "1", meaning, { limits: [0, 1], ...about });
}

/** Money in whole cents of the farm's currency, tax outside. */
export function cents(meaning: string, about: Describe = {}): z.ZodNumber {
  return describe(z.number().int(), "cent", meaning, { limits: [0, 1e10], ...about });
}

/** Elapsed hours. */
export function hours(meaning: string, about: Describe = {}): z.ZodNumber {
  return describe(z.number(), "h", meaning, { limits: [0, 2000], ...about });
}

/** Whole days. */
export function days(meaning: string, about: Describe = {}): z.ZodNumber {
  return describe(z.number().int(), "d", meaning, { limits: [0, 2000], ...about });
}

/** Any other number; the unit is named in the call. */
export function number(unit: string, meaning: string, about: Describe = {}): z.ZodNumber {
  return describe(z.number(), unit, meaning, about);
}

/** A whole number of things. */
export function count(meaning: string, about: Describe = {}): z.ZodNumber {
  return describe(z.number().int(), "count", meaning, { limits: [0, 10_000], ...about });
}

/** A key: lower case letters, digits and hyphens. Unique in the season, never reused, never shown alone. */
export const id = z.string().regex(/^[a-z0-9-]{1,40}$/, "1 to 40 of a-z, 0-9 and hyphen").meta({
  description: "key, unique in the season",
});

/** Free text a person reads; never a key. */
export function text(meaning: string, most = 120): z.ZodString {
  return z.string().max(most).meta({ description: meaning });
}

/** A local calendar day. */
export function date(meaning: string): z.ZodString {
  return z.string().refine(isIsoDate, "a real day written YYYY-MM-DD").meta({ description: meaning })
    .register(writings, { writing: "day" });
}

/** A wall-clock minute in the farm's zone. */
export function at(meaning: string): z.ZodString {
  return z.string().refine(isLocalTime, "a real local minute written YYYY-MM-DDTHH:MM").meta({
    description: meaning,
  }).register(writings, { writing: "minute" });
}

/** A time of day, `HH:MM`; `24:00` is the end of the day. */
export const timeOfDay = z.string().regex(/^(([01]\d|2[0-3]):[0-5]\d|24:00)$/, "a time written HH:MM").meta({
  description: "time of day on the farm's clock",
}).register(writings, { writing: "time" });

/** A time of day at which something is done: `24:00` would be of the next day. */
export const clockTime = timeOfDay.regex(/^(?!24)/, "a time from 00:00 to 23:59");

/** 1 = Monday to 7 = Sunday. */
export const weekday = z.int().min(1).max(7).meta({ description: "1 = Monday to 7 = Sunday" });

/** Twelve values, January first. */
export function monthTable(one: z.ZodNumber): z.ZodArray<z.ZodNumber> {
  return z.array(one).length(12).meta({ description: "twelve values, January first" });
}

/** An estimate with its doubt: three dates in order. */
export const dateSpread = z.strictObject({
  early: date("early: one year in ten is earlier (the farm's judgement)"),
  likely: date("likely"),
  late: date("late: two years in ten are later (the farm's judgement)"),
});

export const CROPS = ["barley", "wheat", "rye", "oats"] as const;
/** The four grains that the malthouse and the brewhouse know. */
export type Crop = (typeof CROPS)[number];
export const crop = z.enum(CROPS).meta({ description: "grain" });

/** Where grain was grown, as licence rules ask it. */
export const origin = z.enum(["own", "in-state", "elsewhere"]).meta({
  description: "own farm, same state, or elsewhere",
});
