import { dayNumber, isoDate } from "../calendar.ts";
import type { Plan } from "../plan/plan.ts";
import { bookValuesAfter } from "../season/book-values.ts";
import { OLDEST_BREW_DAYS } from "../season/check/dates.ts";
import type { RecordedBrew } from "../season/records.ts";
import type { Season } from "../season/season.ts";
import type { Journal } from "./journal.ts";
import { stoppedAt } from "./stopped.ts";
import { landAt, mixesToKeep } from "./stopped-lots.ts";
import { openingAt, ordersOnTheWay, runsUnderWay } from "./stopped-position.ts";
import { bookingsLeft, contractsLeft, pickupsLeft } from "./stopped-trade.ts";

/**
 * The season as it would be entered on a later day if everything went as planned: its opening position is the state at
 * 00:00 of `date`, and what has happened by then is in it. Runs under way and orders on the way are records; bookings
 * still to come stay; what nobody has booked is open again. The calendar keeps every brew, because the tail and the
 * reserve are reckoned from it: a brew that is made already, but might still be asked for, carries a bare record.
 * `date` lies after as-of and not after the plan's end; otherwise a RangeError.
 */
export function reopenAt(season: Season, plan: Plan | null, date: string): Season {
  const stopped = stoppedAt(season, plan, date);
  const { at } = stopped;
  const brews = madeButOpen(stopped.journal, stopped.day);
  const after: Season = {
    ...season,
    positionAt: at,
    asOf: at,
    ...(season.fixedAsOf === undefined ? {} : { fixedAsOf: at }),
    ...landAt(stopped),
    seedReserves: season.seedReserves.filter((one) => one.on >= date),
    contracts: contractsLeft(stopped),
    feedPickups: pickupsLeft(stopped),
    opening: openingAt(stopped, new Set(brews.map((one) => one.brewId))),
    records: {
      runs: runsUnderWay(stopped),
      brews,
      orders: ordersOnTheWay(stopped),
      feedLoads: [],
      moves: [],
      mixes: mixesToKeep(stopped),
      fills: [],
      deliveries: [],
      adjustments: [],
    },
    bookings: bookingsLeft(stopped),
  };
  return { ...after, bookValues: bookValuesAfter(season, after) };
}

/**
 * Brews made before the day that would otherwise be asked for again, because their window is still open, or be taken for
 * slips of the pen, because it was over too long ago.
 */
function madeButOpen(journal: Journal, day: number): RecordedBrew[] {
  return journal.brews
    .filter((fact) => {
      const latest = dayNumber(fact.brew.latest);
      return fact.made && !fact.tail && fact.day < day && (latest >= day || latest < day - OLDEST_BREW_DAYS);
    })
    .map((fact) => ({
      brewId: fact.brew.id,
      on: isoDate(fact.day),
      tanks: [...fact.tanks],
      // What went into it is out of the opening stocks already.
      grist: [],
      note: "made before the opening position",
    }));
}
