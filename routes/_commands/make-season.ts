import { parseArgs } from "node:util";
import { makeSeason } from "../../core/generate/make-season.ts";
import { LIMITS, type PlantedLimit, SEASON_SIZES, type SeasonSize } from "../../core/generate/sizes.ts";
import { EXIT, runCommand } from "./exit.ts";
import { misused } from "./season.ts";

const CHOICES: readonly PlantedLimit[] = [...LIMITS, "none"];
const USAGE = `deno task make-season --size ${SEASON_SIZES.join("|")} --seed N [--limit ${
  CHOICES.join("|")
}]`;
/** Seeds are mixed as 32-bit numbers; two seeds further apart could give the same season. */
const MOST_SEED = 2 ** 31 - 1;

/** Prints a made season: the same size, seed and limit give the same bytes. */
async function makeSeasonCommand(args: string[]): Promise<number> {
  const { size, seed, limit } = readArguments(args);
  const text = JSON.stringify(makeSeason(size, seed, limit), null, 2) + "\n";
  await Deno.stdout.write(new TextEncoder().encode(text));
  return EXIT.clean;
}

function readArguments(args: string[]): { size: SeasonSize; seed: number; limit: PlantedLimit | undefined } {
  const { values } = parse(args);
  const size = SEASON_SIZES.find((one) => one === values.size);
  const limit = CHOICES.find((one) => one === values.limit);
  const seed = Number(values.seed);
  if (size === undefined) misused(USAGE, `The size is one of ${SEASON_SIZES.join(", ")}.`);
  if (!/^\d+$/.test(values.seed ?? "") || seed > MOST_SEED) {
    misused(USAGE, `The seed is a whole number from 0 to ${MOST_SEED}.`);
  }
  if (values.limit !== undefined && limit === undefined) {
    misused(USAGE, `The limit is one of ${CHOICES.join(", ")}.`);
  }
  return { size, seed, limit };
}

function parse(args: string[]) {
  const options = { size: { type: "string" }, seed: { type: "string" }, limit: { type: "string" } } as const;
  try {
    return parseArgs({ args, options });
  } catch (error) {
    misused(USAGE, (error as Error).message);
  }
}

if (import.meta.main) await runCommand(makeSeasonCommand);
