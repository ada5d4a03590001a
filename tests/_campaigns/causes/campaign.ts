import { parseArgs } from "node:util";
import { makeSeason } from "../../../core/generate/make-season.ts";
import { LIMITS, type PlantedLimit, type SeasonSize } from "../../../core/generate/sizes.ts";
import { loadHighs } from "../../_support/highs.ts";
import { seasonCauses } from "./season-causes.ts";

/** One made season and what was found to limit it. */
interface Row {
  planted: PlantedLimit;
  seed: number;
  named: string;
  right: boolean;
}

/**
 * Plants one limit after the other in made seasons, finds what limits each by planning it anew without, as the server does, and prints a
 * table: `deno task causes-campaign [--count N] [--none N] [--size SIZE] [--from SEED]`. Ends with 1 when more than
 * one in fifteen planted limits is not the one that is named, or when anything binds where nothing was planted.
 */
async function campaign(size: SeasonSize, seeds: readonly [PlantedLimit, number][]) {
  const highs = await loadHighs();
  const rows: Row[] = [];
  for (const [planted, seed] of seeds) {
    const found = await seasonCauses(highs, makeSeason(size, seed, planted));
    if (found === null) throw new Error(`${size} ${seed} ${planted} has no plan`);
    const { tightest, tried } = found.causes;
    const named = tightest === null ? "none" : tightest.limits.join(" + ");
    const row = { planted, seed, named, right: named === planted };
    rows.push(row);
    const { goals } = found.plan;
    const gains = tried.filter(({ gain }) => gain.brews > 0 || gain.promises > 0)
      .map(({ limit, gain }) => `${limit} ${gain.brews}/${gain.promises}`).join(", ");
    console.log(
      `${row.right ? "right" : "WRONG"}  ${size} ${String(seed).padStart(3)}  planted ${planted.padEnd(6)}` +
        ` named ${named.padEnd(12)} made ${goals.made.join("/")} of ${goals.asked.join("/")},` +
        ` promises ${goals.promisesHeld}; brews/promises gained: ${gains || "none"}`,
    );
  }
  return rows;
}

if (import.meta.main) {
  const { values } = parseArgs({
    args: Deno.args,
    options: {
      count: { type: "string", default: "30" },
      none: { type: "string", default: "10" },
      size: { type: "string", default: "small" },
      from: { type: "string", default: "1" },
    },
  });
  const from = Number(values.from);
  const planted = Array.from({ length: Number(values.count) }, (_, i): [PlantedLimit, number] => [
    LIMITS[i % LIMITS.length]!,
    from + i,
  ]);
  const unplanted = Array.from({ length: Number(values.none) }, (_, i): [PlantedLimit, number] => [
    "none",
    from + i,
  ]);
  const rows = await campaign(values.size as SeasonSize, [...planted, ...unplanted]);
  const right = (which: readonly Row[]) => which.filter((row) => row.right).length;
  const limited = rows.filter((row) => row.planted !== "none");
  const free = rows.filter((row) => row.planted === "none");
  console.log(`planted limit named in ${right(limited)} of ${limited.length}`);
  console.log(`nothing binding in ${right(free)} of ${free.length} without one`);
  Deno.exit(right(limited) * 15 >= limited.length * 14 && right(free) === free.length ? 0 : 1);
}
