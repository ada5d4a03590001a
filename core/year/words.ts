import { formatDay, isoDate, yearOf } from "../calendar.ts";
import {
  formatMass,
  type GrainCrop,
  GRAMS_PER_LB,
  KG_PER_SHORT_TON,
  lbFromG,
  type ReaderUnits,
} from "../units.ts";

/** Digits kept of a planned weight: a plan's third digit is already doubtful (practice: kg to 10, t to 0.1). */
const PLANNED_DIGITS = 3;
const LONG_MONTHS = [
  "January",
  "February",
  "March",
  "April",
  "May",
  "June",
  "July",
  "August",
  "September",
  "October",
  "November",
  "December",
] as const;

/** "18 Jan". The day may carry a fraction. */
export function dayWords(day: number): string {
  return formatDay(isoDate(Math.floor(day)));
}

/** "about 18 Jan" for a day that rests on a forecast. */
export function doubtfulDay(day: number, forecast: boolean): string {
  return forecast ? `about ${dayWords(day)}` : dayWords(day);
}

/** "early July", "mid July", "late July": thirds of a month, for stretches whose ends nobody needs to the day. */
export function partOfMonth(day: number): string {
  const [, month, dayOfMonth] = isoDate(Math.floor(day)).split("-").map(Number);
  const part = dayOfMonth! <= 10 ? "early" : dayOfMonth! <= 20 ? "mid" : "late";
  return `${part} ${LONG_MONTHS[month! - 1]}`;
}

/** "11 Jan to 9 Jul", or one day. */
export function stretchWords(from: number, to: number): string {
  if (from === to) return dayWords(from);
  // "31 Aug to 8 Dec" would read as one autumn when the years differ.
  const words = yearOf(from) === yearOf(to) ? dayWords : (day: number) => `${dayWords(day)} ${yearOf(day)}`;
  return `${words(from)} to ${words(to)}`;
}

function keepDigits(value: number): number {
  return Number(value.toPrecision(PLANNED_DIGITS));
}

/** A planned weight, rounded, in the reader's unit: tonnes or kilograms; bushels of a crop or pounds. */
export function weightWords(massG: number, units: ReaderUnits, crop?: GrainCrop): string {
  if (units === "metric") {
    const step = Math.abs(massG) < 999_500 ? 10_000 : 1;
    return formatMass(Math.abs(massG) < 20_000 ? massG : Math.round(massG / step) * step, units);
  }
  const rounded = crop === undefined ? keepDigits(lbFromG(massG)) * GRAMS_PER_LB : massG;
  return formatMass(rounded, units, crop);
}

/** Malt and other weights that are spoken of in kilograms even above a tonne: "1,690 kg", "3,730 lb". */
export function maltWeightWords(massG: number, units: ReaderUnits): string {
  if (units === "us") return weightWords(massG, units);
  const massKg = massG / 1000;
  return `${(massKg < 20 ? Math.round(massKg) : Math.round(massKg / 10) * 10).toLocaleString("en-US")} kg`;
}

/** A weight of grain of several crops: "10.2 t", or "11.2 short tons (10.2 t)" for a US reader. */
export function grainTotalWords(massG: number, units: ReaderUnits): string {
  const metric = weightWords(massG, "metric");
  if (units === "metric") return metric;
  const massKg = massG / 1000;
  if (massKg < KG_PER_SHORT_TON) return `${weightWords(massG, "us")} (${metric})`;
  return `${(massKg / KG_PER_SHORT_TON).toFixed(1)} short tons (${metric})`;
}

/** "1 brew", "3 brews". */
export function countWords(count: number, one: string, many = `${one}s`): string {
  return `${count.toLocaleString("en-US")} ${count === 1 ? one : many}`;
}

const SMALL = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"] as const;

/** "two bins": small counts in words, as prose has them. */
export function spokenCount(count: number, one: string, many = `${one}s`): string {
  return `${SMALL[count] ?? count} ${count === 1 ? one : many}`;
}

/** "A, B and C". */
export function listWords(items: readonly string[]): string {
  if (items.length < 2) return items.join("");
  return `${items.slice(0, -1).join(", ")} and ${items.at(-1)}`;
}

/** "pale malt" of "Pale" or "Pale malt": as it stands inside a sentence. */
export function maltWords(name: string): string {
  const low = lowerFirst(name);
  return /malt$/i.test(low) ? low : `${low} malt`;
}

/** "pale" of "Pale malt": for "830 kg of pale". */
export function shortMaltWords(name: string): string {
  return lowerFirst(name).replace(/ malt$/i, "");
}

/** "the germination bed" of "Germination bed"; names with a number or of their own stay as they are. */
export function vesselWords(name: string): string {
  return /\d|^the /i.test(name) ? lowerFirst(name) : `the ${lowerFirst(name)}`;
}

/** A name as it stands inside a sentence: "Pale" -> "pale"; "Munich" and the like keep their capital. */
export function lowerFirst(name: string): string {
  return /^(Munich|Vienna)/.test(name) ? name : name.charAt(0).toLowerCase() + name.slice(1);
}

/** A name inside a sentence: only its article is lowered, for it may be a proper name. */
export function nameWords(name: string): string {
  return name.replace(/^(A|An|The) /, (article) => article.toLowerCase());
}

/** A sentence's first letter in capitals. */
export function upperFirst(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** "3 weeks", or "9 days" when that is less than two weeks. */
export function lengthWords(days: number): string {
  return days < 14 ? countWords(Math.max(1, days), "day") : countWords(Math.round(days / 7), "week");
}
