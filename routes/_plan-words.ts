import { bestWords } from "../core/year/best-words.ts";
import type { Looking } from "./_solver/looking.ts";
import type { Making } from "./_solver/solver.ts";

/** The goals of the best plan of those in the making; empty before there is one. */
export function bestSoFar(making: Making | null): string {
  return making?.best == null ? "" : bestWords(making.request.season, making.best);
}

/** How far the looking for a better plan has come; empty while nothing is looked for. */
export function lookingWords(looking: Looking | null): string {
  if (looking === null) return "";
  return `Still looking for a better plan (round ${looking.round} of ${looking.of}).`;
}
