import { dateOf, dayNumber, localDay, weekday } from "../calendar.ts";
import type { Book, BookBatch } from "../book/book.ts";
import { bookAt } from "../book/book.ts";
import { capacityKg, levelVolumeL } from "../physics/bin-capacity.ts";
import type { Ingredient } from "../season/brewing.ts";
import { type LotClock, lotClock } from "../season/clocks.ts";
import { descends } from "../season/ancestry.ts";
import { forecastFills } from "../season/forecast.ts";
import type { Lot, Store } from "../season/grain.ts";
import type { MadeFromGrain, MaltType } from "../season/malthouse.ts";
import { gristNeed, reserveFloorG } from "../season/need.ts";
import { CROPS } from "../season/quantity.ts";
import type { Season } from "../season/season.ts";
import { allBrewsToPlan, planEndDay } from "../season/tail.ts";
import { type Attendance, attendanceOf } from "./attendance.ts";
import { type Booked, bookedOf } from "./booked.ts";
import { legalSlots, type Slot } from "./slots.ts";

/** A malt, or the unmalted grain of a crop: what a grist line can be met with. Malts come first, then the crops. */
export interface Material {
  index: number;
  maltId: string | null;
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
  /** Extract of the line's own ingredient when it is raw grain. */
  rawExtract: number;
  substitutes: readonly { material: number; mostShare: number; rawExtract: number }[];
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
  stores: readonly ProblemStore[];
  fills: readonly { lot: number; day: number; massG: number }[];
  pickups: readonly Pickup[];
  demands: readonly Demand[];
  slots: readonly Slot[];
  slotsByMalt: readonly (readonly Slot[])[];
  batches: readonly (BookBatch & { material: number })[];
  booked: Booked;
}

/** Works a season out for the search at `asOf`. Fixed runs are added by ./fixed.ts. */
export function problemOf(season: Season, asOf: string): Problem {
  const book = bookAt(season, asOf);
  const booked = bookedOf(season, book);
  const asOfDay = dayNumber(dateOf(asOf));
  const freeDay = asOfDay + season.roster.heldDays;
  const horizonDay = dayNumber(season.horizonEnd);
  const endDay = planEndDay(season);
  const attendance = attendanceOf(season, asOfDay - 1, endDay + 1);
  const offers = offersOf(season, asOfDay, endDay);
  const materials = materialsOf(season, offers);
  const materialOf = (maltId: string | null, crop: string | null) =>
    materials.findIndex((one) =>
      maltId !== null ? one.maltId === maltId : one.maltId === null && one.crop === crop
    );
  const slots = legalSlots(season, attendance, freeDay, endDay, CROPS);
  const lots = lotsOf(season, book, asOf, endDay, materials);
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
    stores: storesOf(season, book, lots),
    fills: forecastFills(season, asOf).map((fill) => ({
      lot: season.lots.findIndex((lot) => lot.id === fill.lotId),
      day: fill.day,
      massG: fill.massG,
    })),
    pickups: pickupsOf(season, freeDay, endDay, lots),
    demands: demandsOf(season, asOf, freeDay, endDay, materialOf),
    slots,
    slotsByMalt: season.maltTypes.map((_, malt) => slots.filter((slot) => slot.malt === malt)),
    booked,
    batches: [...book.batches, ...booked.batches].map((batch) => ({
      ...batch,
      material: materialOf(batch.maltId, batch.crop),
    })),
  };
}

function offersOf(season: Season, asOfDay: number, endDay: number): Offer[] {
  return season.supplyOffers.map((offer, index) => {
    const { ingredient } = offer;
    const arrivals: number[] = [];
    const last = Math.min(dayNumber(offer.to), endDay - offer.leadDays);
    for (let day = Math.max(dayNumber(offer.from), asOfDay); day <= last; day++) {
      if (offer.orderWeekdays.includes(weekday(day))) arrivals.push(day + offer.leadDays);
    }
    return {
      id: offer.id,
      index,
      material: ingredient.kind === "malt"
        ? season.maltTypes.findIndex((malt) => malt.id === ingredient.maltId)
        : season.maltTypes.length + CROPS.indexOf(ingredient.crop),
      packG: offer.packG,
      leastPacks: offer.leastPacks,
      packCents: offer.packCents,
      freightCents: offer.freightCents,
      extract: offer.extractAsIs,
      shelfDays: offer.shelfLifeDays,
      leadDays: offer.leadDays,
      arrivals,
    };
  });
}

function materialsOf(season: Season, offers: readonly Offer[]): Material[] {
  const malts = season.maltTypes.map((malt, index): Material => ({
    index,
    maltId: malt.id,
    crop: null,
    malt,
    made: malt.made.from === "grain" ? malt.made : null,
    restDays: malt.restDays,
    shelfDays: malt.shelfLifeDays,
    extract: malt.extractCoarseDb * (1 - malt.maltMoistureWb),
    floorG: reserveFloorG(season, malt),
    offers: offers.filter((offer) => offer.material === index),
  }));
  const grains = CROPS.map((crop, i): Material => ({
    index: malts.length + i,
    maltId: null,
    crop,
    malt: null,
    made: null,
    restDays: 0,
    shelfDays: 0,
    extract: 0,
    floorG: 0,
    offers: offers.filter((offer) => offer.material === malts.length + i),
  }));
  return [...malts, ...grains];
}

function lotsOf(
  season: Season,
  book: Book,
  asOf: string,
  endDay: number,
  materials: readonly Material[],
): ProblemLot[] {
  const asOfDay = dayNumber(dateOf(asOf));
  const fills = forecastFills(season, asOf);
  return season.lots.map((lot, index) => {
    const stock = [...(book.grain.get(lot.id) ?? [])].filter(([, massG]) => massG > 0).map((
      [storeId, massG],
    ) => ({
      store: season.stores.findIndex((store) => store.id === storeId),
      massG,
    }));
    const coming = fills.filter((fill) => fill.lotId === lot.id);
    const held = stock.reduce((sum, one) => sum + one.massG, 0);
    const don = [...lot.analyses].reverse().find((one) => one.resultOn && one.donPpm !== undefined)?.donPpm ??
      0;
    const clocks = materials.slice(0, season.maltTypes.length).map((material) => {
      if (!material.malt || !material.made) return null;
      const clock = lotClock(season, lot, material.malt, asOf);
      return clock.blockedBy === "not suitable" ? null : clock;
    });
    const firm = [
      ...season.seedReserves.filter((one) => one.lotId === lot.id && dayNumber(one.on) > asOfDay).map((
        one,
      ) => ({
        day: dayNumber(one.on),
        massG: one.massG,
        id: one.id,
        kind: "seed" as const,
      })),
      ...season.contracts.flatMap((one) => {
        if (one.kind !== "sell-grain" || one.lotId !== lot.id || dayNumber(one.to) <= asOfDay) return [];
        const delivered = season.records.deliveries.filter((done) => done.contractId === one.id)
          .reduce((sum, done) => sum + done.massG, 0);
        const left = one.massG - delivered;
        const day = Math.max(dayNumber(one.from), asOfDay + season.roster.heldDays);
        return left > 0
          ? [{ day: Math.min(day, dayNumber(one.to)), massG: left, id: one.id, kind: "sale" as const }]
          : [];
      }),
    ].sort((a, b) => a.day - b.day);
    const fit = clocks.some((clock) => clock !== null && clock.firstDay !== null && clock.lastDay > endDay);
    const best = season.feedPickups.filter((one) =>
      one.crops.includes(lot.crop) && don <= one.donPpmMost && !lot.treatedSeed
    )
      .reduce((most, one) => Math.max(most, one.perTonneCents), 0);
    return {
      index,
      id: lot.id,
      lot,
      crop: CROPS.indexOf(lot.crop),
      home: lot.origin === "own",
      stock,
      totalG: held + coming.reduce((sum, one) => sum + one.massG, 0),
      fromDay: held > 0 ? asOfDay : Math.max(asOfDay, ...coming.map((one) => one.day)),
      clocks,
      raw: lot.use === "raw" && don <= 1,
      endCentsPerG: fit ? best / 1e6 : 0,
      energy: [...lot.analyses].reverse().find((one) =>
        one.resultOn && one.germinativeEnergy !== undefined
      )?.germinativeEnergy ??
        null,
      firm,
      firmG: firm.reduce((sum, one) => sum + one.massG, 0),
    };
  });
}

/** Volume of a bin filled level, litres. */
export function binVolumeL(shape: Extract<Store, { kind: "bin" }>["shape"]): number {
  return shape.kind === "volume" ? shape.volumeL : levelVolumeL(shape.diameterM, shape.depthM);
}

function storesOf(season: Season, book: Book, lots: readonly ProblemLot[]): ProblemStore[] {
  return season.stores.map((store, index) => {
    const volume = store.kind === "bin" ? binVolumeL(store.shape) : store.placeVolumeL;
    const turnaround = store.kind === "bin" ? store.turnaroundDays : 0;
    const emptied = book.emptiedDay.get(store.id);
    return {
      index,
      id: store.id,
      store,
      turnaround,
      bags: store.kind === "bags" ? store.places : 0,
      capacityG: lots.map(({ lot }) => Math.floor(capacityKg(volume, lot.testWeightKgPerHl) * 1000)),
      freeDay: emptied === undefined ? -Infinity : emptied + turnaround,
    };
  });
}

function pickupsOf(season: Season, freeDay: number, endDay: number, lots: readonly ProblemLot[]): Pickup[] {
  return season.feedPickups.map((pickup, index) => {
    const days: number[] = [];
    const last = Math.min(dayNumber(pickup.to), endDay);
    for (let day = Math.max(dayNumber(pickup.from), freeDay); day <= last; day++) {
      if (pickup.weekdays.includes(weekday(day))) days.push(day);
    }
    const done = [...season.records.feedLoads, ...season.bookings.feedLoads].filter((load) =>
      load.pickupId === pickup.id
    ).length;
    return {
      index,
      id: pickup.id,
      leastG: pickup.leastG,
      greatestG: pickup.greatestG,
      loads: Math.max(0, pickup.mostLoads - done),
      perTonneCents: pickup.perTonneCents,
      haulageCents: pickup.haulageCents,
      days,
      takes: lots.map(({ lot }) => {
        const don = [...lot.analyses].reverse().find((one) =>
          one.resultOn && one.donPpm !== undefined
        )?.donPpm ?? 0;
        return pickup.crops.includes(lot.crop) && don <= pickup.donPpmMost && !lot.treatedSeed &&
          lot.owner === "farm";
      }),
    };
  });
}

function demandsOf(
  season: Season,
  asOf: string,
  freeDay: number,
  endDay: number,
  materialOf: (maltId: string | null, crop: string | null) => number,
): Demand[] {
  const demands: Demand[] = [];
  const indexOf = (ingredient: Ingredient) =>
    ingredient.kind === "malt" ? materialOf(ingredient.maltId, null) : materialOf(null, ingredient.crop);
  const shut = season.brewhouse.closed.map((one) => [dayNumber(one.from), dayNumber(one.to)] as const);
  const open = (day: number) =>
    season.brewhouse.brewWeekdays.includes(weekday(day)) &&
    !shut.some(([from, to]) => day >= from && day <= to);
  const horizonDay = dayNumber(season.horizonEnd);
  for (const brew of allBrewsToPlan(season, asOf)) {
    const beer = season.beers.find((one) => one.id === brew.beerId);
    if (!beer) continue;
    const booking = season.bookings.brews.find((one) => one.brewId === brew.id);
    const wanted = dayNumber(booking?.on ?? brew.on);
    const days: number[] = [];
    const last = Math.min(dayNumber(brew.latest), endDay);
    for (let day = Math.max(dayNumber(brew.earliest), freeDay); day <= last; day++) {
      if (open(day)) days.push(day);
    }
    days.sort((a, b) => Math.abs(a - wanted) - Math.abs(b - wanted) || a - b);
    demands.push({
      index: demands.length,
      id: brew.id,
      kind: "brew",
      beerId: beer.id,
      class: brew.id.startsWith("tail-") && dayNumber(brew.on) > horizonDay ? 4 : brew.class,
      wanted,
      days: booking ? [wanted] : days,
      lines: gristNeed(season, brew).filter((need) => need.extractG > 0).map((need) => ({
        lineId: need.lineId,
        material: indexOf(need.ingredient),
        extractG: need.extractG,
        bookMassG: need.bookMassG,
        rawExtract: need.ingredient.kind === "grain" ? need.ingredient.extractAsIs : 0,
        substitutes: beer.substitutes.filter((one) => one.forLine === need.lineId).map((one) => ({
          material: indexOf(one.ingredient),
          mostShare: one.mostShare,
          rawExtract: one.ingredient.kind === "grain" ? one.ingredient.extractAsIs : 0,
        })),
      })),
      volumeL: brew.volumeL ?? beer.volumeL,
      tankDays: beer.tankDays,
      promise: beer.homeSharePromise,
      requires: beer.requires.filter((one) => one.leastShare > 0).map((one) => ({
        leastShare: one.leastShare,
        unmixed: one.unmixed,
        counts: season.lots.map((lot) => descends(season, lot.id, one.kind, one.ids, one.unmixed)),
      })),
      booked: booking !== undefined,
      saleCents: 0,
    });
  }
  for (const contract of season.contracts) {
    if (contract.kind !== "sell-malt" || contract.to < dateOf(asOf)) continue;
    const material = materialOf(contract.maltId, null);
    const days: number[] = [];
    for (
      let day = Math.max(dayNumber(contract.from), freeDay);
      day <= Math.min(dayNumber(contract.to), endDay);
      day++
    ) days.push(day);
    const malt = season.maltTypes[material];
    if (!malt) continue;
    demands.push({
      index: demands.length,
      id: contract.id,
      kind: "sale",
      beerId: "",
      class: contract.class,
      wanted: dayNumber(contract.to),
      days: days.reverse(),
      lines: [{
        lineId: "malt",
        material,
        extractG: contract.massG * malt.extractCoarseDb * (1 - malt.maltMoistureWb),
        bookMassG: contract.massG,
        rawExtract: 0,
        substitutes: [],
      }],
      volumeL: 0,
      tankDays: 0,
      promise: 0,
      requires: contract.lotIds === undefined ? [] : [{
        leastShare: 1,
        unmixed: true,
        counts: season.lots.map((lot) => contract.lotIds?.includes(lot.id) ?? false),
      }],
      booked: false,
      saleCents: Math.round(contract.perTonneCents * contract.massG / 1e6),
    });
  }
  return demands;
}

/** Local day of an epoch minute in the problem's zone. */
export function dayOfMinute(problem: Problem, minute: number): number {
  return localDay(problem.season.zone, minute);
}
