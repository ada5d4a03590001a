import { dateOf, dayNumber, isoDate, weekday } from "../calendar.ts";
import { HAND_OVERS } from "../season/malthouse.ts";
import type { Season } from "../season/season.ts";
import { countWords, dayWords, listWords } from "../year/words.ts";
import { withExtraDays } from "./ease.ts";
import { type Remedy, remedy, SIZES, type Steps } from "./remedy.ts";

/** Days that are named one by one. */
const MOST_NAMED = 4;

/** Days from the first free one on to the last shown on which not every hand-over is staffed, Sundays and Saturdays alone. */
export function weekendsAhead(season: Season): string[] {
  const asOf = dayNumber(dateOf(season.fixedAsOf ?? season.asOf));
  const days = [6, 7].filter((day) => !isStaffed(season, day));
  const dates: string[] = [];
  for (let day = asOf + season.roster.heldDays; day <= dayNumber(season.horizonEnd); day++) {
    if (days.includes(weekday(day))) dates.push(isoDate(day));
  }
  return dates;
}

/** What one extra day costs: the mean of what the season's own extra days cost; null where it has none with a price. */
export function extraDayCents(season: Season): number | null {
  const prices = season.roster.extra.map((one) => one.costCents).filter((one) => one > 0);
  return prices.length === 0 ? null : Math.round(prices.reduce((sum, one) => sum + one, 0) / prices.length);
}

/** Of the weekend days that a plan with all of them open uses, the first one, two and four: see `usedDays` in remedies.ts. */
export function weekendDays(season: Season): Steps {
  const dates = weekendsAhead(season);
  return dates.length === 0 ? [] : SIZES.map((size) => workDays(season, dates.slice(0, size)));
}

/** Some days worked besides. */
export function workDays(season: Season, dates: readonly string[]): Remedy {
  const price = extraDayCents(season);
  const first = dates.slice(0, MOST_NAMED).map((on) => dayWords(dayNumber(on)));
  const named = dates.length > MOST_NAMED ? [...first, `${dates.length - MOST_NAMED} more`] : first;
  return remedy({
    id: `work-days-${dates.length}`,
    limits: ["hands"],
    words: `Work ${countWords(dates.length, "weekend day")}: ${listWords(named)}`,
    season: withExtraDays(season, dates, price ?? 0),
    costCents: price === null ? null : 0,
    costWords: price === null ? "" : "counted in the money, at what the roster's extra days cost",
    hazards: ["look-in", "kiln night"],
  });
}

const WEEKDAYS = ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday"] as const;

/** Somebody there for every hand-over on one more working day of each week: the first that is missing, from the middle of the week. */
export function weekdays(season: Season): Steps {
  const missing = [3, 4, 2, 5, 1].find((day) => !isStaffed(season, day));
  if (missing === undefined) return [];
  const { weekly } = season.roster;
  const window = { weekdays: [missing], from: "07:00", to: "16:00", handOvers: [...HAND_OVERS] };
  return [remedy({
    id: `every-${WEEKDAYS[missing - 1]!.toLowerCase()}`,
    limits: ["hands"],
    words: `Somebody there for every hand-over on ${WEEKDAYS[missing - 1]}s as well`,
    season: { ...season, roster: { ...season.roster, weekly: [...weekly, window] } },
    hazards: ["look-in"],
  })];
}

/** Whether each kind of hand-over may fall on a weekday. */
function isStaffed({ roster }: Season, day: number): boolean {
  return HAND_OVERS.every((handOver) =>
    roster.weekly.some((one) => one.weekdays.includes(day) && one.handOvers.includes(handOver))
  );
}
