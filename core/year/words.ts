import { isoDate, yearOf } from "../calendar.ts";
import { formatDay } from "../day-names.ts";
import { formatMass, type GrainCrop, GRAMS_PER_LB, lbFromG, type ReaderUnits } from "../units.ts";

/** Digits kept of a planned weight: a plan's third digit is already doubtful (practice: kg to 10, t to 0.1). */
const PLANNED_DIGITS = 3;
/** "18 Jan". The day may carry a fraction. */
export function dayWords(day: number): string {
  return formatDay(isoDate(Math.floor(day)));
}

/** "about 18 Jan" for a day that rests on a forecast. */
export function doubtfulDay(day: number, forecast: boolean): string {
  return forecast ? `about ${dayWords(day)}` : dayWords(day);
}

/** "11 Jan to 9 Jul", or one day. */
export function stretchWords(from: number, to: number): string {
  if (from === to) return dayWords(from);
  // "31 Aug to 8 Dec" would read as one autumn when the years differ.
  const words = yearOf(from) === yearOf(to) ? dayWords : (day: number) => `${dayWords(day)} ${yearOf(day)}`;
  return `${words(from)} to ${words(to)}`;
}

/** Small weights are whole already: three digits of 68.46 and then whole pounds would make 69 of it. */
function keepDigits(value: number): number {
  return Math.abs(value) < 1000 ? Math.round(value) : Number(value.toPrecision(PLANNED_DIGITS));
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

/** A part of a malt's weight beside the whole: "480 of 1,200 kg", or "all 390 kg" when the part is all of it. */
export function partOfWeightWords(partG: number, wholeG: number, units: ReaderUnits): string {
  const part = maltWeightWords(partG, units), whole = maltWeightWords(wholeG, units);
  return part === whole ? `all ${whole}` : `${part.slice(0, part.lastIndexOf(" "))} of ${whole}`;
}

/** Grain in tonnes to a tenth for every reader, as the bins are drawn: "0.5 t". What would be none at all stays in kilograms. */
export function tonneWords(massG: number): string {
  if (massG > 0 && massG < 50_000) return `${Math.max(1, Math.round(massG / 1000))} kg`;
  return `${(massG / 1e6).toFixed(1)} t`;
}

/** "on 18 Jan", or "about 18 Jan" for a day that rests on a forecast. */
export function onDayWords(day: number, forecast: boolean): string {
  return forecast ? doubtfulDay(day, true) : `on ${dayWords(day)}`;
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

/**
 * A store's name inside a sentence: "bin 2" of "Bin 2", "bulk bags" of "Bulk bags". One with a further capital, such as
 * "North Silo", is a proper name and keeps its own.
 */
export function storeWords(name: string): string {
  return /^\p{Lu}\P{Lu}*$/u.test(name) ? lowerFirst(name) : nameWords(name);
}

/** A sentence's first letter in capitals. */
export function upperFirst(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
