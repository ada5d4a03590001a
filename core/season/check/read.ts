import { type CheckOptions, checkSeason, type SeasonCheck } from "../check.ts";
import { finding, shown } from "./finding.ts";

/** Letters of a text that is no season that are shown. */
const MOST_SHOWN = 40;

/** Reads the text of a season file and checks it. Never throws, whatever the text is. */
export function readSeasonText(text: string, options: CheckOptions = {}): SeasonCheck {
  let input: unknown;
  try {
    input = JSON.parse(text);
  } catch (error) {
    const words = {
      value: shown(text.slice(0, MOST_SHOWN)),
      limit: "JSON text",
      message: `This is not JSON text: ${error instanceof Error ? error.message : "it cannot be read"}.`,
      wayOut: "Choose a season file, or mend the text at the place that is named.",
    };
    return { season: null, findings: [finding(null, "not-json", [], words)] };
  }
  return checkSeason(input, options);
}
