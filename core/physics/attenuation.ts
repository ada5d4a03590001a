/**
 * How far beer ferments. A hydrometer in beer floats in alcohol too and so shows less extract than there is:
 * apparent attenuation is what it reads, real attenuation what the yeast ate. Strengths are in °P.
 */
import { realExtract } from "./alcohol.ts";
import { MOST_PLATO } from "./extract.ts";
import { requireBetween } from "./limits.ts";

/** Part of the wort's extract that seems to be gone: (OE - AE) / OE. */
export function apparentAttenuation(originalPlato: number, apparentPlato: number): number {
  requireBetween("strength of the wort", originalPlato, 1, MOST_PLATO, "°P");
  requireBetween("apparent extract of the beer", apparentPlato, 0, originalPlato, "°P");
  return (originalPlato - apparentPlato) / originalPlato;
}

/** Part of the wort's extract that is really gone: (OE - RE) / OE, with Balling's real extract. */
export function realAttenuation(originalPlato: number, apparentPlato: number): number {
  requireBetween("strength of the wort", originalPlato, 1, MOST_PLATO, "°P");
  return (originalPlato - realExtract(originalPlato, apparentPlato)) / originalPlato;
}

/** Apparent extract at which a wort stops that ferments to this apparent attenuation (0.75 for 75 %). */
export function apparentExtractAt(originalPlato: number, attenuation: number): number {
  requireBetween("strength of the wort", originalPlato, 1, MOST_PLATO, "°P");
  requireBetween("apparent attenuation", attenuation, 0, 1, "(0.75 for 75 %)");
  return originalPlato * (1 - attenuation);
}
