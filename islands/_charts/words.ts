import { isoDate } from "../../core/calendar.ts";
import { formatDay } from "../../core/day-names.ts";
import type { Crop } from "../../core/season/quantity.ts";
import { percentWords } from "../../core/year/sentence.ts";
import { maltWeightWords, tonneWords } from "../../core/year/words.ts";
import {
  acresFromM2,
  formatArea,
  formatMass,
  formatVolume,
  LB_PER_BUSHEL,
  lbFromG,
  type ReaderUnits,
} from "../../core/units.ts";

/** Day and month of a day number, fractions dropped: "12 Feb". */
export function shortDay(day: number): string {
  return formatDay(isoDate(Math.floor(day)));
}

/** "12 Feb to 1 Mar", or one day when both are the same. */
export function fromTo(from: number, to: number): string {
  return Math.floor(from) === Math.floor(to) ? shortDay(from) : `${shortDay(from)} to ${shortDay(to)}`;
}

/** A grain's weight in tonnes, as the bins are drawn, with a US reader's bushels beside it: "22.5 t (1,034 bu)". */
export function grain(massG: number, units: ReaderUnits, crop: Crop): string {
  const metric = tonneWords(massG);
  return units === "us" ? `${metric} (${formatMass(massG, "us", crop)})` : metric;
}

/** Malt or mixed grain: "1,830 lb (830 kg)", or the metric weight alone; short, only in the reader's unit. */
export function malt(massG: number, units: ReaderUnits, length: "both" | "short" = "both"): string {
  if (length === "short") return maltWeightWords(massG, units);
  const metric = formatMass(massG, "metric");
  return units === "us" ? `${formatMass(massG, "us")} (${metric})` : metric;
}

/** Beer or wort: "14.0 bbl (16.4 hl)", or hectolitres alone. */
export function beer(volumeL: number, units: ReaderUnits): string {
  const metric = formatVolume(volumeL, "metric");
  return units === "us" ? `${formatVolume(volumeL, "us")} (${metric})` : metric;
}

/** Land: "18.5 ac (7.49 ha)", or hectares alone. */
export function land(areaM2: number, units: ReaderUnits): string {
  const metric = formatArea(areaM2, "metric");
  return units === "us" ? `${formatArea(areaM2, "us")} (${metric})` : metric;
}

/** Tonnes to a tenth, as every page says them. */
export { tonneWords as tonnes };

/** A whole number with its thousands marked. */
export function count(value: number): string {
  return Math.round(value).toLocaleString("en-US");
}

/** Bushels of a weight, without the unit: "1,034". */
export function bushels(massG: number, crop: Crop): string {
  return count(lbFromG(massG) / LB_PER_BUSHEL[crop]);
}

/** Acres to the nearest quarter, as a farm writes them: "18½". Hectares to a tenth. */
export function areaFigure(areaM2: number, units: ReaderUnits): string {
  if (units !== "us") return (areaM2 / 1e4).toFixed(1);
  const quarters = Math.round(acresFromM2(areaM2) * 4);
  const whole = Math.floor(quarters / 4);
  const part = ["", "¼", "½", "¾"][quarters % 4] ?? "";
  return whole === 0 && part !== "" ? part : `${count(whole)}${part}`;
}

/** A share in whole per cent: "93 %", which no line breaks in two. */
export function percent(share: number): string {
  return `${Math.round(share * 100)}\u00a0%`;
}

/** A home-grown share in whole per cent: never all of it, nor none, unless it is. */
export function homePercent(share: number): string {
  return `${percentWords(share)}\u00a0%`;
}

/** Money of whole cents without its parts: "USD 1,240". */
export function money(cents: number, currency: string): string {
  const sign = cents < 0 ? "−" : "";
  return `${sign}${currency} ${count(Math.abs(cents) / 100)}`;
}

/** First letter in capitals. */
export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
