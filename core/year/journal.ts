import { dateOf, dayNumber, minuteOf } from "../calendar.ts";
import type { Plan } from "../plan/plan.ts";
import type { Draw } from "../season/records.ts";
import type { Season } from "../season/season.ts";
import { maltDeliveries, maltDueG } from "../season/malt-deliveries.ts";
import { pastSeed } from "../season/seed.ts";
import { planEndDay } from "../season/tail.ts";
import { batchesOf, type BatchFact } from "./batches.ts";
import { type BrewFact, brewsOf } from "./journal-brews.ts";
import { type RunFact, runsOf } from "./journal-runs.ts";
import type { MarkStanding } from "./marks.ts";

/**
 * Everything that happened, is booked or is planned, in one list of each kind: records first, then the plan (or, without
 * one, the bookings). A record stands above a plan or booking of the same id. Days are day numbers.
 */
export interface Journal {
  readonly season: Season;
  readonly plan: Plan | null;
  readonly firstDay: number;
  readonly lastDay: number;
  readonly planEnd: number;
  readonly asOfDay: number;
  readonly runs: readonly RunFact[];
  readonly brews: readonly BrewFact[];
  readonly batches: ReadonlyMap<string, BatchFact>;
  readonly orders: readonly OrderFact[];
  readonly moves: readonly MoveFact[];
  readonly feedLoads: readonly LoadFact[];
  readonly fills: readonly GrainFact[];
  readonly seed: readonly GrainFact[];
  readonly grainSales: readonly GrainFact[];
  readonly maltSales: readonly MaltSaleFact[];
}

/** Grain into or out of one store. */
export interface GrainFact {
  readonly refId: string;
  readonly day: number;
  readonly lotId: string;
  readonly storeId: string;
  readonly massG: number;
  readonly standing: MarkStanding;
}

export interface MoveFact extends GrainFact {
  readonly toStoreId: string;
  readonly lossG: number;
}

export interface LoadFact {
  readonly id: string;
  readonly pickupId: string;
  readonly day: number;
  readonly items: readonly Draw[];
  readonly standing: MarkStanding;
  readonly revenueCents: number | null;
}

export interface OrderFact {
  readonly id: string;
  readonly offerId: string;
  readonly orderDay: number;
  readonly arriveDay: number;
  readonly packs: number;
  readonly massG: number;
  readonly costCents: number;
  readonly batchId: string;
  readonly standing: MarkStanding;
}

export interface MaltSaleFact {
  readonly contractId: string;
  readonly day: number;
  readonly from: readonly { readonly batchId: string; readonly massG: number }[];
  readonly standing: MarkStanding;
}

/** Reads season and plan into one journal. */
export function journalOf(season: Season, plan: Plan | null): Journal {
  const runs = runsOf(season, plan);
  const orders = ordersOf(season, plan);
  const batches = batchesOf(season, plan, runs, orders);
  return {
    season,
    plan,
    firstDay: dayNumber(dateOf(season.positionAt)),
    lastDay: dayNumber(season.horizonEnd),
    planEnd: planEndDay(season),
    asOfDay: dayNumber(dateOf(season.asOf)),
    runs,
    brews: brewsOf(season, plan, batches),
    batches,
    orders,
    moves: movesOf(season, plan),
    feedLoads: loadsOf(season, plan),
    fills: fillsOf(season, plan),
    seed: seedOf(season, plan),
    grainSales: grainSalesOf(season, plan),
    maltSales: maltSalesOf(season, plan),
  };
}

/** The day of a wall clock reading with its time of day as a fraction. */
export function clockDay(local: string): number {
  return dayNumber(dateOf(local)) + minuteOf(local) / 1440;
}

/** Records, then what the plan (or without one, the bookings) adds under an id that no record has. */
function mergeById<R extends { id: string }, P extends { id: string }, B extends { id: string }, T>(
  records: readonly R[],
  plan: readonly P[] | undefined,
  bookings: readonly B[],
  read: { record: (one: R) => T; plan: (one: P) => T; booking: (one: B) => T },
): T[] {
  const recorded = new Set(records.map((one) => one.id));
  return [
    ...records.map(read.record),
    ...(plan ?? []).filter((one) => !recorded.has(one.id)).map(read.plan),
    ...(plan === undefined ? bookings.filter((one) => !recorded.has(one.id)).map(read.booking) : []),
  ];
}

function ordersOf(season: Season, plan: Plan | null): OrderFact[] {
  const offers = new Map(season.supplyOffers.map((one) => [one.id, one]));
  const today = dateOf(season.asOf);
  type Said = Season["records"]["orders"][number];
  const said = (standing: (one: Said) => MarkStanding) => (one: Said): OrderFact => {
    const offer = offers.get(one.offerId);
    return {
      id: one.id,
      offerId: one.offerId,
      orderDay: dayNumber(one.orderedOn),
      arriveDay: dayNumber(one.arrivesOn),
      packs: one.packs,
      massG: one.packs * (offer?.packG ?? 0),
      costCents: one.packs * (offer?.packCents ?? 0) + (offer?.freightCents ?? 0),
      batchId: one.batchId,
      standing: standing(one),
    };
  };
  return mergeById(season.records.orders, plan?.orders, season.bookings.orders, {
    record: said((one) => one.arrivesOn <= today ? "done" : "under way"),
    booking: said(() => "booked"),
    plan: (one) => ({
      id: one.id,
      offerId: one.offerId,
      orderDay: dayNumber(one.orderedOn),
      arriveDay: dayNumber(one.arrivesOn),
      packs: one.packs,
      massG: one.massG,
      costCents: one.costCents,
      batchId: one.batchId,
      standing: one.standing,
    }),
  });
}

function movesOf(season: Season, plan: Plan | null): MoveFact[] {
  type Said = Season["records"]["moves"][number];
  const read = (standing: MarkStanding) => (one: Said): MoveFact => ({
    refId: one.id,
    day: dayNumber(one.on),
    lotId: one.lotId,
    storeId: one.fromStoreId,
    toStoreId: one.toStoreId,
    massG: one.massG,
    lossG: one.lossG,
    standing,
  });
  return mergeById(season.records.moves, plan?.moves, season.bookings.moves, {
    record: read("done"),
    booking: read("booked"),
    plan: (one) => read(one.standing)(one),
  });
}

function loadsOf(season: Season, plan: Plan | null): LoadFact[] {
  type Said = Season["records"]["feedLoads"][number];
  const read = (standing: MarkStanding) => (one: Said): LoadFact => ({
    id: one.id,
    pickupId: one.pickupId,
    day: dayNumber(one.on),
    items: one.items,
    standing,
    revenueCents: null,
  });
  return mergeById(season.records.feedLoads, plan?.feedLoads, season.bookings.feedLoads, {
    record: read("done"),
    booking: read("booked"),
    plan: (one) => ({ ...read(one.standing)(one), revenueCents: one.revenueCents }),
  });
}

function fillsOf(season: Season, plan: Plan | null): GrainFact[] {
  const planned = plan?.fills ?? [];
  // A lot that has come over the scales since the plan was made is not filled again by the plan's forecast of it.
  const weighed = new Set(
    season.records.fills.filter((one) => plan !== null && one.on > dateOf(plan.asOf)).map((one) => one.lotId),
  );
  return [
    ...season.records.fills.map((one) => grainFact(one.id, one, "done")),
    ...planned.filter((one) => !weighed.has(one.lotId)).map((one) => grainFact(one.lotId, one, "not booked")),
  ];
}

function grainFact(
  refId: string,
  one: { on: string; lotId: string; storeId: string; massG: number },
  standing: MarkStanding,
): GrainFact {
  return {
    refId,
    day: dayNumber(one.on),
    lotId: one.lotId,
    storeId: one.storeId,
    massG: one.massG,
    standing,
  };
}

/**
 * Seed is taken on its day without a record, so what fell due between the opening position and as-of is read from the
 * season itself, and without a plan what falls due later too.
 */
function seedOf(season: Season, plan: Plan | null): GrainFact[] {
  const planned = new Set((plan?.seedTaken ?? []).map((one) => one.reserveId));
  const today = dayNumber(dateOf(season.asOf));
  const past = pastSeed(season, plan === null ? Infinity : today + 1)
    .filter((part) => !planned.has(part.reserveId))
    .map(({ reserveId, ...part }): GrainFact => ({
      refId: reserveId,
      ...part,
      standing: part.day <= today ? "done" : "booked",
    }));
  return [...past, ...(plan?.seedTaken ?? []).map((one) => grainFact(one.reserveId, one, "booked"))];
}

/** What was delivered, and what the plan delivers of the rest: a plan older than a delivery still holds the whole of it. */
function grainSalesOf(season: Season, plan: Plan | null): GrainFact[] {
  const leftG = new Map(
    season.contracts.flatMap((one) => one.kind === "sell-grain" ? [[one.id, one.massG] as const] : []),
  );
  const take = (contractId: string, massG: number) =>
    leftG.set(contractId, (leftG.get(contractId) ?? 0) - massG);
  for (const one of season.records.deliveries) take(one.contractId, one.massG);
  const planned = (plan?.grainDeliveries ?? []).flatMap((one) => {
    const massG = Math.min(one.massG, leftG.get(one.contractId) ?? 0);
    take(one.contractId, massG);
    return massG > 0 ? [grainFact(one.contractId, { ...one, massG }, "not booked")] : [];
  });
  return [...season.records.deliveries.map((one) => grainFact(one.contractId, one, "done")), ...planned];
}

/** Malt that was delivered since the opening position, and what the plan delivers of the rest, in the order in which it lists its batches. */
function maltSalesOf(season: Season, plan: Plan | null): MaltSaleFact[] {
  const opened = dateOf(season.positionAt);
  const done = maltDeliveries(season).filter((one) => one.on >= opened)
    .map(({ contractId, on, batchId, massG }) => ({
      contractId,
      day: dayNumber(on),
      from: [{ batchId, massG }],
      standing: "done" as const,
    }));
  const planned = (plan?.maltDeliveries ?? []).flatMap(({ contractId, on, from }) => {
    const contract = season.contracts.find((one) => one.id === contractId);
    let leftG = contract?.kind === "sell-malt" ? maltDueG(season, contract) : 0;
    const rest = from.map(({ batchId, massG }) => {
      const partG = Math.min(massG, leftG);
      leftG -= partG;
      return { batchId, massG: partG };
    }).filter((one) => one.massG > 0);
    return rest.length === 0
      ? []
      : [{ contractId, day: dayNumber(on), from: rest, standing: "not booked" as const }];
  });
  return [...done, ...planned];
}
