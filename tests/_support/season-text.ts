import { checkSeason, type SeasonCheck } from "../../core/season/check.ts";

/** Reads and checks the text of a season file as server and commands do; null when it is not JSON. */
export function checkText(text: string): SeasonCheck | null {
  let input: unknown;
  try {
    input = JSON.parse(text);
  } catch {
    return null;
  }
  return checkSeason(input);
}
