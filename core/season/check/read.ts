import { type CheckOptions, checkSeason, type SeasonCheck } from "../check.ts";
import { finding } from "./finding.ts";

/** Reads the text of a season file and checks it. Never throws, whatever the text is. */
export function readSeasonText(text: string, options: CheckOptions = {}): SeasonCheck {
  let input: unknown;
  try {
    input = JSON.parse(text);
  } catch (error) {
    const words = {
      value: text.slice(0, 40),
      limit: "JSON text",
      message: `This is not JSON text: ${error instanceof Error ? error.message : "it cannot be read"}.`,
      wayOut: "Choose a season file, or mend the text at the place that is named.",
    };
    return { season: null, findings: [finding(null, "not-json", [], words)] };
  }
  return checkSeason(input, options);
}
