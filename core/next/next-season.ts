import { addDays, dateOf } from "../calendar.ts";
import type { Plan } from "../plan/plan.ts";
import { bookValuesAfter } from "../season/book-values.ts";
import { LONGEST_DAYS } from "../season/check/dates.ts";
import { newIds } from "../season/check/ids.ts";
import type { Season } from "../season/season.ts";
import { type Stopped, stoppedAt, stoppedByBook } from "../year/stopped.ts";
import { landAt, mixesToKeep } from "../year/stopped-lots.ts";
import { openingAt, ordersOnTheWay, runsUnderWay } from "../year/stopped-position.ts";
import { bookingsLeft, contractsLeft } from "../year/stopped-trade.ts";
import { nextBrews } from "./brews.ts";
import { CopyIds } from "./copy-ids.ts";
import { withoutDaysOver } from "./days-over.ts";
import { nextLand } from "./land.ts";
import { type NextNote, notesOf } from "./notes.ts";
import { nextOffers, nextPickups } from "./offers.ts";
import type { Span } from "./repeats.ts";

/** Fifty-two whole weeks, so that the season goes on to end on the same weekday. */
const YEAR_OF_WEEKS_DAYS = 364;

export interface NextSeasonOptions {
  /** Id of the new season; no row of the old one has it. */
  readonly id: string;
  readonly name: string;
  /** Last day of the new season, from the old one's last day to three years after `date`; left out, 52 weeks after the old one's. */
  readonly horizonEnd?: string;
}

/** The new season, and what a person has to know and to do about it. */
export interface NextSeason {
  readonly season: Season;
  readonly notes: readonly NextNote[];
}

/**
 * The season that follows, begun on the morning of `date`: everything lies where it lies at 00:00 when the plan is carried out until
 * then; what is under way, booked or agreed stays; the last 52 weeks of calendar, offers and pick-ups stand again a year of
 * weeks later. Without a plan it begins at as-of with what the records say, and `date` is the day of as-of. A RangeError, in
 * words for people, when `date` or `horizonEnd` cannot be.
 */
export function nextSeason(
  season: Season,
  plan: Plan | null,
  date: string,
  { id, name, horizonEnd }: NextSeasonOptions,
): NextSeason {
  const stopped = plan === null ? stoppedToday(season, date) : stoppedAt(season, plan, date);
  const span = { oldEnd: season.horizonEnd, newEnd: newEndOf(season, date, horizonEnd) };
  const { fixedAsOf: _, ...rest } = season;
  const { at } = stopped;
  const bookings = bookingsLeft(stopped), orders = ordersOnTheWay(stopped);
  const standing = {
    ...rest,
    id,
    name,
    positionAt: at,
    asOf: at,
    horizonEnd: span.newEnd,
    ...landAt(stopped),
    ...withoutDaysOver(stopped),
    seedReserves: season.seedReserves.filter((one) => one.on >= date),
    contracts: contractsLeft(stopped),
    opening: openingAt(stopped),
    records: {
      runs: runsUnderWay(stopped),
      brews: [],
      orders,
      feedLoads: [],
      moves: [],
      mixes: mixesToKeep(stopped),
      fills: [],
      deliveries: [],
      adjustments: [],
    },
    bookings,
  };
  const ids = new CopyIds([...newIds(season), ...newIds(plan), ...newIds(standing)].map((one) => one.id));
  const brews = nextBrews(stopped, span, ids);
  const offers = nextOffers(stopped, [...orders, ...bookings.orders], span, ids);
  const pickups = nextPickups(stopped, bookings.feedLoads, span, ids);
  const { goneLots, ...land } = nextLand(standing, lotsInUse(standing));
  const lots = new Set(land.lots.map((one) => one.id));
  const after: Season = {
    ...standing,
    ...land,
    brews: [...brews.brews],
    supplyOffers: [...offers.supplyOffers],
    feedPickups: [...pickups.feedPickups],
    records: { ...standing.records, mixes: standing.records.mixes.filter((one) => lots.has(one.intoLotId)) },
  };
  const next = { ...after, bookValues: bookValuesAfter(season, after, ids.copies) };
  return {
    season: next,
    notes: notesOf({ stopped, next, brews, offers, pickups, goneLots }),
  };
}

function stoppedToday(season: Season, date: string): Stopped {
  const today = dateOf(season.asOf);
  if (date !== today) {
    throw new RangeError(
      `Without a plan the next season can begin only on the day up to which the records reach, ${today}, not on ${date}.`,
    );
  }
  return stoppedByBook(season);
}

function newEndOf(season: Season, date: string, asked: string | undefined): Span["newEnd"] {
  const last = addDays(date, LONGEST_DAYS), yearOn = addDays(season.horizonEnd, YEAR_OF_WEEKS_DAYS);
  const first = season.horizonEnd > date ? season.horizonEnd : date;
  if (asked === undefined) return yearOn < last ? yearOn : last;
  if (asked >= first && asked <= last) return asked;
  throw new RangeError(`The next season has to end on a day from ${first} to ${last}, not on ${asked}.`);
}

/** Ids of the lots that something else of the season than another lot or a planting refers to. */
function lotsInUse(
  season: Pick<Season, "opening" | "records" | "bookings" | "contracts" | "seedReserves" | "beers">,
): string[] {
  const { opening, records, bookings, contracts, seedReserves, beers } = season;
  const ofContract = (one: Season["contracts"][number]) =>
    one.kind === "sell-malt" ? one.lotIds ?? [] : [one.lotId];
  return [
    ...opening.grain.map((one) => one.lotId),
    ...opening.malt.flatMap((one) => one.lotIds),
    ...[...records.runs, ...bookings.runs].flatMap((run) => run.draws.map((draw) => draw.lotId)),
    ...bookings.feedLoads.flatMap((load) => load.items.map((item) => item.lotId)),
    ...bookings.moves.map((move) => move.lotId),
    ...contracts.flatMap(ofContract),
    ...seedReserves.map((one) => one.lotId),
    ...beers.flatMap((beer) => beer.requires.flatMap((rule) => rule.kind === "lot" ? rule.ids : [])),
  ];
}
