import { dayNumber, isoDate } from "../calendar.ts";
import { gristNeed } from "../season/need.ts";
import type { Batch } from "../season/records.ts";
import type { Season } from "../season/season.ts";
import { type MadeFrame, rawGrains } from "./made-frame.ts";
import type { LotPlan } from "./lot-plans.ts";
import { leastLeadDays } from "./tight-need.ts";

/** Malt is weighed in whole kilograms when it is bagged. */
const STEP_G = 1000;
/** Malt that can only be bought is there for so many days; then an order has come. */
const BOUGHT_DAYS = 70;
const LITTLE_BOUGHT_DAYS = 30;

/**
 * First day number whose brews are not brewed from opening malt any more. `nth` counts the malts made here: they do not all
 * run out together, or the first days would ask for a run of each.
 */
function coveredUntil(frame: MadeFrame, heldDays: number, leadDays: number, nth: number): number {
  const { size, limit, luck, today } = frame;
  // Where bins are to be too small for the harvest, what is left of the old one must not need large bins.
  const more = limit !== "bins" ? 0 : size === "micro" ? 6 : 35;
  const slack = size === "micro"
    ? (limit === "none" ? 6 : 3) + 8 * nth
    : luck("cover").int(16, 26) + (limit === "store" ? 0 : Math.min(60, 10 * nth));
  return today + heldDays + leadDays + more + slack;
}

/**
 * Malt there is at as-of, in a batch or two of each kind: enough for the brews before the first runs can be ready. The season
 * must have its brews, beers and malts.
 */
export function openingMalt(frame: MadeFrame, season: Season, plans: readonly LotPlan[]): Batch[] {
  const { luck, opened, today } = frame;
  const malts = season.maltTypes.flatMap((malt, index): Batch[] => {
    const { made } = malt;
    const home = made.from === "grain";
    const until = home
      ? coveredUntil(frame, season.roster.heldDays, leastLeadDays({ malt, made }), index)
      : today + boughtDays(frame);
    const neededG = season.brews.filter((brew) => dayNumber(brew.on) >= today && dayNumber(brew.on) < until)
      .flatMap((brew) => gristNeed(season, brew))
      .filter((line) => line.ingredient.kind === "malt" && line.ingredient.maltId === malt.id)
      .reduce((sum, line) => sum + line.bookMassG, 0);
    if (neededG === 0) return [];
    const massG = Math.ceil(neededG * (home ? 1 : 1.05) / STEP_G) * STEP_G + STEP_G;
    const crop = home ? made.crops[0] : undefined;
    const lot = plans.find((plan) =>
      plan.crop === crop && plan.kind === "malting" && plan.state === "in store"
    );
    const chances = luck(`opening ${malt.id}`);
    const batch = (id: string, grams: number, old: number): Batch => {
      const madeOn = opened - malt.restDays - old;
      return {
        id,
        ingredient: { kind: "malt", maltId: malt.id },
        massG: grams,
        home,
        lotIds: lot === undefined || !home ? [] : [lot.id],
        madeOn: isoDate(madeOn),
        readyOn: isoDate(madeOn + malt.restDays),
        bestBefore: isoDate(madeOn + Math.min(malt.shelfLifeDays, 365)),
        extractAsIs: Math.round(1000 * malt.extractCoarseDb * (1 - malt.maltMoistureWb)) / 1000,
      };
    };
    const firstG = chances.oneIn(2) && frame.limit !== "store"
      ? Math.round(massG * 0.6 / STEP_G) * STEP_G
      : 0;
    return firstG === 0
      ? [batch(`old-${malt.id}`, massG, 12)]
      : [batch(`old-${malt.id}`, firstG, 20), batch(`old-${malt.id}-2`, massG - firstG, 6)];
  });
  return [...malts, ...openingRaw(frame, season, plans)];
}

function boughtDays({ limit }: MadeFrame): number {
  return limit === "store" ? LITTLE_BOUGHT_DAYS : BOUGHT_DAYS;
}

/** Bought grain in sacks, where beers want it raw and no lot of the farm's own is kept for that. */
function openingRaw(frame: MadeFrame, season: Season, plans: readonly LotPlan[]): Batch[] {
  const massG = Math.ceil(rawNeedG(season, frame.today, frame.today + boughtDays(frame)) / STEP_G) * STEP_G;
  if (massG === 0 || plans.some((plan) => plan.kind === "raw")) return [];
  const { raw } = rawGrains(frame);
  const madeOn = frame.opened - 9;
  return [{
    id: "old-raw",
    ingredient: { kind: "grain", crop: raw.crop },
    massG,
    home: false,
    lotIds: [],
    madeOn: isoDate(madeOn),
    readyOn: isoDate(madeOn),
    bestBefore: isoDate(madeOn + 300),
    extractAsIs: raw.extractAsIs,
  }];
}

/** Grams of unmalted grain that the brews from one day number to before another ask for. */
export function rawNeedG(season: Season, from: number, to: number): number {
  return season.brews.filter((brew) => dayNumber(brew.on) >= from && dayNumber(brew.on) < to)
    .flatMap((brew) => gristNeed(season, brew))
    .reduce((sum, line) => line.ingredient.kind === "grain" ? sum + line.bookMassG : sum, 0);
}
