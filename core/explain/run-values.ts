import { dayNumber, weekday } from "../calendar.ts";
import type { Plan } from "../plan/plan.ts";
import type { Season } from "../season/season.ts";
import { withLine, withRunInWeek } from "./ease.ts";
import type { RemedyOptions } from "./remedies.ts";
import { type Resolve, Trials } from "./resolve.ts";
import { isNoise, usualBrewG, type Worth } from "./worth.ts";

/** What one run more, started in the week that begins on this day, would bring. */
export interface WeekValue {
  readonly day: number;
  readonly gain: Worth;
  readonly isNoise: boolean;
}

const NOTHING: Worth = { brews: 0, promises: 0, homeMaltG: 0, roomG: 0, moneyCents: 0 };

/**
 * What one more run would bring if it were started in each week. Each week is a season of its own, planned anew. Where not even a
 * line of vessels more, open all year, brings anything, one run brings nothing in any week, and none is planned.
 */
export async function* runValues(
  season: Season,
  plan: Plan,
  resolve: Resolve,
  weeks: readonly number[],
  options: RemedyOptions = {},
): AsyncGenerator<WeekValue> {
  if (weeks.length === 0 || season.vessels.length === 0) return;
  const trials = await Trials.open(season, plan, resolve, options.cancelled);
  const usualG = usualBrewG(season, trials.reference);
  const value = (day: number, gain: Worth): WeekValue => ({
    day,
    gain,
    isNoise: isNoise(gain, trials.reference, usualG),
  });
  options.onTry?.("one run more in every week", 0, weeks.length);
  const line = await trials.of(withLine(season));
  if (isNoise(line.gain, trials.reference, usualG)) {
    yield* weeks.map((day) => value(day, NOTHING));
    return;
  }
  for (const [at, day] of spreadOut(weeks).entries()) {
    options.onTry?.("one run more, week by week", at, weeks.length);
    yield value(day, (await trials.of(withRunInWeek(season, day))).gain);
  }
}

/** Every fourth week first, then those between: the strip is soon told roughly, and then filled. */
function spreadOut(weeks: readonly number[]): number[] {
  return [0, 2, 1, 3].flatMap((first) => weeks.filter((_, at) => at % 4 === first));
}

/** First days of the farm's weeks, from the first that begins after the held days to the last that begins inside the horizon. */
export function weeksAhead(season: Season): number[] {
  const first = dayNumber((season.fixedAsOf ?? season.asOf).slice(0, 10)) + season.roster.heldDays;
  const start = first + (season.weekStartsOn - weekday(first) + 7) % 7;
  const count = Math.max(0, Math.floor((dayNumber(season.horizonEnd) - start) / 7) + 1);
  return Array.from({ length: count }, (_, at) => start + 7 * at);
}
