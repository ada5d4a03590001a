import { addDays, dateOf, dayNumber } from "../calendar.ts";
import type { Season } from "../season/season.ts";
import { countWords, dayWords, tonneWords } from "../year/words.ts";
import { landUnit, plantingsAhead } from "./acre.ts";
import { withArea, withBoughtGrain } from "./ease.ts";
import { vesselsOf } from "./relax.ts";
import { remedy, SIZES, type Steps } from "./remedy.ts";

const BUY_LOADS = [2, 4] as const;

/** Bought grain comes this many days after as-of at the soonest: common practice, no source. */
const BUY_DAYS = 14;

/** Grain bought for some loads of a bed. */
export function boughtGrain(season: Season): Steps {
  const asOf = dateOf(season.fixedAsOf ?? season.asOf);
  const on = addDays(asOf, BUY_DAYS);
  const loadG = Math.max(
    0,
    ...vesselsOf(season, "bed").flatMap((one) => one.loadLimits.map((each) => each.greatestG)),
  );
  const price = season.contracts.find((one) => one.kind === "buy-grain" && one.perTonneCents > 0);
  const [crop] = season.maltTypes.flatMap((malt) => malt.made.from === "grain" ? malt.made.crops : []);
  if (crop === undefined || loadG === 0) return [];
  return BUY_LOADS.flatMap((loads) => {
    const massG = loads * loadG, eased = withBoughtGrain(season, crop, massG, on);
    return eased === null ? [] : [remedy({
      id: `buy-grain-${loads}`,
      limits: ["grain"],
      words: `Buy ${tonneWords(massG)} of ${crop}, there by ${dayWords(dayNumber(on))}`,
      season: eased,
      costCents: price?.kind === "buy-grain" ? Math.round(price.perTonneCents * massG / 1e6) : null,
      costWords: price === undefined ? "" : "at the price of the season's own contract",
      hazards: ["bin fill"],
    })];
  });
}

/** More of each planting that is still to be drilled, in the reader's unit of land. */
export function acres(season: Season): Steps[] {
  const unit = landUnit(season);
  return plantingsAhead(season).map((planting) =>
    SIZES.map((size) =>
      remedy({
        id: `area-${planting.id}-${size}`,
        limits: ["land"],
        words: `${countWords(size, `more ${unit.name}`)} of ${planting.sowingSeason} ${planting.crop}`,
        season: withArea(season, planting.id, size * unit.areaM2),
        hazards: ["harvest"],
      })
    )
  );
}
