import { dateOf, dayNumber } from "../calendar.ts";
import type { Season } from "../season/season.ts";
import { planEndDay } from "../season/tail.ts";
import type { ExplainedRemedy } from "./explanation.ts";

const DAYS_A_YEAR = 365.25;

/** Something that could be added, with what it brings by the year. */
export interface Addition {
  readonly remedy: ExplainedRemedy;
  /** Money better in a year of plans like this one, cents; beer sold is not counted. */
  readonly yearlyCents: number;
  /** What it costs, cents; null where nobody has said. */
  readonly priceCents: number | null;
  /** Years until the price has come back; null without a price, Infinity where no money comes back. */
  readonly paybackYears: number | null;
}

/** What can be bought, built or worked: vessels, tanks, bins, places, and days at the vessels. */
const ADDED = /^(more|larger|bigger|malt-places|bag-places|work-days|every)-/;

/** Remedies that add something, in their own order; `prices` in cents by remedy stand before those of the season. */
export function additionsOf(
  season: Season,
  asOf: string,
  remedies: readonly ExplainedRemedy[],
  prices: ReadonlyMap<string, number>,
): Addition[] {
  const days = Math.max(1, planEndDay(season) - dayNumber(dateOf(asOf)));
  return remedies.filter((one) => ADDED.test(one.id)).map((remedy) => {
    const yearlyCents = Math.round(Math.max(0, remedy.moneyCents) * DAYS_A_YEAR / days);
    const priceCents = prices.get(remedy.id) ?? remedy.costCents;
    return { remedy, yearlyCents, priceCents, paybackYears: payback(priceCents, yearlyCents) };
  });
}

function payback(priceCents: number | null, yearlyCents: number): number | null {
  if (priceCents === null) return null;
  if (priceCents <= 0) return 0;
  return yearlyCents <= 0 ? Infinity : priceCents / yearlyCents;
}

/** "2.4 years", "at once" or why not; empty without a price. */
export function paybackWords(years: number | null): string {
  if (years === null) return "";
  if (years === Infinity) return "not in money";
  if (years === 0) return "at once";
  return years < 0.1 ? "within 5 weeks" : years > 99 ? "more than 99 years" : `${years.toFixed(1)} years`;
}
