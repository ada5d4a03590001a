/** What every rule family looks things up in: the season by id, the days that matter, and the books replayed day by day. */
import { dateOf, dayNumber } from "../calendar.ts";
import type { Plan } from "../plan/plan.ts";
import type { Beer, Contract, FeedPickup, SupplyOffer, Tank } from "../season/brewing.ts";
import type { Lot, Store } from "../season/grain.ts";
import type { MaltType, Vessel } from "../season/malthouse.ts";
import type { RecordedRun } from "../season/records.ts";
import type { Season } from "../season/season.ts";
import { instant } from "../zone.ts";
import { type Arrival, arrivals } from "./arrivals.ts";
import { type AskedBrew, askedBrews } from "./calendar-brews.ts";
import { type GrainBook, grainBook } from "./grain-book.ts";
import { type MaltBook, maltBook } from "./malt-book.ts";
import { type RosterBook, rosterBook } from "./roster.ts";
import { type RunView, viewRun } from "./run-view.ts";
import { stuckRuns } from "./stuck.ts";

/** Days of planning after the horizon: twelve weeks. */
const TAIL_DAYS = 84;

/** Season and plan, looked up: all that can be said before any grain or malt is counted. */
export interface Ground {
  readonly season: Season;
  readonly plan: Plan;
  readonly zone: string;
  /** As-of as an epoch minute. */
  readonly asOf: number;
  readonly positionAt: number;
  readonly asOfDay: number;
  readonly firstFreeDay: number;
  readonly horizonEnd: number;
  readonly planEnd: number;
  readonly lots: ReadonlyMap<string, Lot>;
  readonly stores: ReadonlyMap<string, Store>;
  readonly vessels: ReadonlyMap<string, Vessel>;
  readonly malts: ReadonlyMap<string, MaltType>;
  readonly beers: ReadonlyMap<string, Beer>;
  readonly tanks: ReadonlyMap<string, Tank>;
  readonly offers: ReadonlyMap<string, SupplyOffer>;
  readonly contracts: ReadonlyMap<string, Contract>;
  readonly pickups: ReadonlyMap<string, FeedPickup>;
  /** Recorded runs begun and neither stripped nor given up at as-of. */
  readonly underWay: ReadonlyMap<string, RecordedRun>;
  /** Ids of recorded orders; their malt comes from the record, whether or not the plan repeats them. */
  readonly recordedOrders: ReadonlySet<string>;
  readonly runs: readonly RunView[];
  readonly asked: ReadonlyMap<string, AskedBrew>;
  readonly arrivals: readonly Arrival[];
  readonly roster: RosterBook;
}

/** Ground and books. */
export interface Context extends Ground {
  readonly grain: GrainBook;
  readonly malt: MaltBook;
  /** Ids of the runs under way that no timing could finish within the rules; see `stuckRuns`. */
  readonly stuck: ReadonlySet<string>;
}

function byId<T extends { readonly id: string }>(things: readonly T[]): Map<string, T> {
  return new Map(things.map((thing) => [thing.id, thing]));
}

/** Runs that have begun and not ended: a strip or an end written for a later minute than as-of has not happened. */
function runsUnderWay(season: Season, asOf: number): Map<string, RecordedRun> {
  const over = (at: string | undefined) => at !== undefined && instant(season.zone, at) <= asOf;
  return byId(season.records.runs.filter((run) => !over(run.stripAt) && !over(run.endedAt)));
}

/** Reads season and plan once. The plan's own as-of is the one it is judged by. */
export function context(season: Season, plan: Plan): Context {
  const zone = season.zone;
  const asOf = instant(zone, plan.asOf), asOfDay = dayNumber(dateOf(plan.asOf));
  const horizonEnd = dayNumber(season.horizonEnd), planEnd = horizonEnd + TAIL_DAYS;
  const lots = byId(season.lots), malts = byId(season.maltTypes);
  const underWay = runsUnderWay(season, asOf);
  const ground: Ground = {
    season,
    plan,
    zone,
    asOf,
    positionAt: instant(zone, season.positionAt),
    asOfDay,
    firstFreeDay: asOfDay + season.roster.heldDays,
    horizonEnd,
    planEnd,
    lots,
    stores: byId(season.stores),
    vessels: byId(season.vessels),
    malts,
    beers: byId(season.beers),
    tanks: byId(season.tanks),
    offers: byId(season.supplyOffers),
    contracts: byId(season.contracts),
    pickups: byId(season.feedPickups),
    underWay,
    recordedOrders: new Set(season.records.orders.map((order) => order.id)),
    runs: plan.runs.map((run) => viewRun(run, zone, lots, malts, underWay.get(run.id))),
    asked: askedBrews(season, asOfDay, horizonEnd, planEnd),
    arrivals: arrivals(season, asOfDay, planEnd),
    roster: rosterBook(season),
  };
  return { ...ground, grain: grainBook(ground), malt: maltBook(ground), stuck: stuckRuns(ground) };
}
