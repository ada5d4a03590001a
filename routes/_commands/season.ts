import { checkSeason, type Finding } from "../../core/season/check.ts";
import type { Season } from "../../core/season/season.ts";
import { EXIT, Stop } from "./exit.ts";
import { readJson } from "./files.ts";

/**
 * Reads a season file and prints its warnings. Stops with `exit` when it has errors, after naming each of them.
 */
export async function readSeasonFile(path: string, exit: number): Promise<Season> {
  const { season, findings } = checkSeason(await readJson(path));
  for (const finding of findings) console.error(findingLine(finding));
  const errors = findings.filter(({ level }) => level === "error").length;
  if (season === null) {
    throw new Stop(exit, `${path} has ${errors} ${errors === 1 ? "error" : "errors"}. No plan was made.`);
  }
  return season;
}

/** A finding as one line: what is wrong, where, what was found, the limit, and the way out. */
export function findingLine({ level, thing, field, value, limit, message, wayOut }: Finding): string {
  return `${level}: ${thing} ${field}: ${message} (found ${value}; limit: ${limit}) ${wayOut}`;
}

/** Says on standard error how a command is used, and stops. */
export function misused(usage: string, reason: string): never {
  throw new Stop(EXIT.wrongUse, `${reason}\nUse: ${usage}`);
}
