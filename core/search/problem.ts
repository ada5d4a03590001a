import { dateOf, dayNumber } from "../calendar.ts";
import type { Book, BookBatch } from "../book/book.ts";
import { bookAt } from "../book/book.ts";
import type { LotClock } from "../season/clocks.ts";
import { forecastFills } from "../season/forecast.ts";
import type { Lot, Store } from "../season/grain.ts";
import type { MadeFromGrain, MaltType } from "../season/malthouse.ts";
import type { Season } from "../season/season.ts";
import { planEndDay } from "../season/tail.ts";
import type { Attendance } from "./attendance.ts";
import { type Booked, bookedOf } from "./booked.ts";
import type { Refusal } from "./fixed.ts";
import { demandsOf } from "./problem-demands.ts";
import { type GrainSale, grainSalesOf } from "./grain-sales.ts";
import { lotsOf } from "./problem-lots.ts";
import { pickupsOf, storesOf } from "./problem-stores.ts";
import { materialsOf, offersOf } from "./problem-supply.ts";
import { type SlotCache, startsOf } from "./slot-cache.ts";
import type { Slot } from "./slots.ts";
import { type Substitute, substitutesOf } from "./substitutes.ts";

/** A malt, or the unmalted grain of a crop: what a grist line can be met with. Malts come first, then the crops. */
export interface Material {
  index: number;
  maltId: string | null;
  /** Place of its malt type in the season's list; -1 for grain. */
  maltIndex: number;
  /** "farm", or the customer of whose lots it is made and who alone gets it. */
  owner: string;
  crop: string | null;
  malt: MaltType | null;
  made: MadeFromGrain | null;
  restDays: number;
  shelfDays: number;
  /** Extract as is of home-made malt at book value; 0 for grain, whose extract stands on the grist line. */
  extract: number;
  floorG: number;
  offers: readonly Offer[];
}

/** A supply offer with the days on which an order of it could arrive. */
export interface Offer {
  id: string;
  index: number;
  material: number;
  packG: number;
  leastPacks: number;
  packCents: number;
  freightCents: number;
  extract: number;
  shelfDays: number;
  leadDays: number;
  arrivals: readonly number[];
}

/** Grain that must leave on a day: seed, or a delivery under a contract. */
export interface Firm {
  day: number;
  massG: number;
  id: string;
  kind: "seed" | "sale";
}

export interface ProblemLot {
  index: number;
  id: string;
  lot: Lot;
  crop: number;
  home: boolean;
  /** At as-of, by store index. */
  stock: readonly { store: number; massG: number }[];
  /** Stock at as-of and all that is to come. */
  totalG: number;
  /** Grain exists from this day on. */
  fromDay: number;
  /** By malt index; null where the lot cannot become that malt. */
  clocks: readonly (LotClock | null)[];
  raw: boolean;
  /** Cents a gram that grain still fit for malting is worth at the plan's end; 0 for other grain. */
  endCentsPerG: number;
  energy: number | null;
  /** Taken for seed and under contracts, by day. */
  firm: readonly Firm[];
  firmG: number;
}

export interface ProblemStore {
  index: number;
  id: string;
  store: Store;
  turnaround: number;
  bags: number;
  /** Most grams of each lot: of the bin, or of one bag. */
  capacityG: readonly number[];
  /** First day on which an empty store may take another lot. */
  freeDay: number;
}

export interface Pickup {
  index: number;
  id: string;
  leastG: number;
  greatestG: number;
  loads: number;
  perTonneCents: number;
  haulageCents: number;
  /** Legal days, ascending. */
  days: readonly number[];
  takes: readonly boolean[];
}

export interface Line {
  lineId: string;
  material: number;
  extractG: number;
  bookMassG: number;
  substitutes: readonly { material: number; mostShare: number }[];
}

/** A share of the grist that must come from some lots; `counts` by lot index. */
export interface Requirement {
  leastShare: number;
  unmixed: boolean;
  counts: readonly boolean[];
}

/** A brew, or malt to be sold: something whole or not at all. Class 4 is the tail. */
export interface Demand {
  index: number;
  id: string;
  kind: "brew" | "sale";
  beerId: string;
  class: number;
  wanted: number;
  /** Days on which it may be made, nearest to the wanted day first. */
  days: readonly number[];
  lines: readonly Line[];
  volumeL: number;
  tankDays: number;
  promise: number;
  requires: readonly Requirement[];
  booked: boolean;
  saleCents: number;
}

/** A run whose times and grain are given: under way, or booked. */
export interface FixedRun {
  id: string;
  standing: "under way" | "booked";
  slot: Slot;
  draws: readonly { lot: number; lotId: string; storeId: string; massG: number }[];
  /** A lot in it has failed since: its malt stands in the store, and nobody may brew with it. */
  locked: boolean;
}

/** Everything the search needs, worked out once. Days are day numbers, weights grams. */
export interface Problem {
  season: Season;
  book: Book;
  asOf: string;
  asOfDay: number;
  freeDay: number;
  horizonDay: number;
  endDay: number;
  attendance: Attendance;
  materials: readonly Material[];
  maltCount: number;
  offers: readonly Offer[];
  lots: readonly ProblemLot[];
  grainSales: readonly GrainSale[];
  stores: readonly ProblemStore[];
  fills: readonly { lot: number; day: number; massG: number }[];
  pickups: readonly Pickup[];
  demands: readonly Demand[];
  /** What a candidate may put in the place of a line's own malt. */
  substitutes: readonly Substitute[];
  slots: readonly Slot[];
  /** By material. */
  slotsByMalt: readonly (readonly Slot[])[];
  batches: readonly (BookBatch & { material: number })[];
  booked: Booked;
}

/** Works a season out for the search at `asOf`; a cache spares what has not changed since the last. Fixed runs are added by ./fixed.ts. */
export function problemOf(season: Season, asOf: string, cache?: SlotCache): Problem {
  const book = bookAt(season, asOf);
  const booked = bookedOf(season, book);
  const asOfDay = dayNumber(dateOf(asOf));
  const freeDay = asOfDay + season.roster.heldDays;
  const horizonDay = dayNumber(season.horizonEnd);
  const endDay = planEndDay(season);
  const { attendance, slots, slotsByMalt } = cache?.of(season, asOfDay, freeDay, endDay) ??
    startsOf(season, asOfDay, freeDay, endDay);
  const offers = offersOf(season, asOfDay, endDay);
  const materials = materialsOf(season, offers);
  const materialOf = (maltId: string | null, crop: string | null, owner = "farm") =>
    materials.findIndex((one) =>
      one.owner === owner &&
      (maltId !== null ? one.maltId === maltId : one.maltId === null && one.crop === crop)
    );
  const ownerOf = ({ lots: [first] }: BookBatch) =>
    season.lots.find((lot) => lot.id === first?.lotId)?.owner ?? "farm";
  const demands = demandsOf(season, asOf, freeDay, endDay, materialOf);
  booked.refused.push(...brewsNotKept(season, demands));
  const grainSales = grainSalesOf(season, book, booked, forecastFills(season, asOf), endDay);
  const lots = lotsOf(season, book, asOf, endDay, materials, grainSales);
  return {
    season,
    book,
    asOf,
    asOfDay,
    freeDay,
    horizonDay,
    endDay,
    attendance,
    materials,
    maltCount: season.maltTypes.length,
    offers,
    lots,
    grainSales,
    stores: storesOf(season, book, lots),
    fills: forecastFills(season, asOf).map((fill) => ({
      lot: season.lots.findIndex((lot) => lot.id === fill.lotId),
      day: fill.day,
      massG: fill.massG,
    })),
    pickups: pickupsOf(season, freeDay, endDay, lots),
    demands,
    substitutes: substitutesOf(demands, materials),
    slots,
    slotsByMalt: materials.map(({ maltIndex }) => slotsByMalt[maltIndex] ?? []),
    booked,
    batches: [...book.batches, ...booked.batches].map((batch) => ({
      ...batch,
      material: materialOf(batch.maltId, batch.crop, ownerOf(batch)),
    })),
  };
}

/** Booked brews that cannot stand on their day. */
function brewsNotKept(season: Season, demands: readonly Demand[]): Refusal[] {
  return season.bookings.brews.filter((booking) =>
    !season.records.brews.some((record) => record.brewId === booking.brewId) &&
    !demands.some((demand) => demand.id === booking.brewId && demand.booked)
  ).map(({ brewId }) => ({
    kind: "brew",
    id: brewId,
    why: "its day is past, the brewhouse is shut on it, or it lies outside the brew's window",
  }));
}
