/** Grain by lot and store, replayed from the opening position through the records and the plan. */
import { dateOf, dayNumber } from "../calendar.ts";
import { instant } from "../zone.ts";
import type { Ground } from "./context.ts";

/** A weight that came in (positive) or went out, in grams. `planned` says that it is not a fact. */
export interface GrainEvent {
  readonly day: number;
  readonly deltaG: number;
  readonly planned: boolean;
}

/** Events of one lot in one store, in order of days. */
export interface Holding {
  readonly lotId: string;
  readonly storeId: string;
  readonly events: GrainEvent[];
}

export interface GrainBook {
  readonly holdings: readonly Holding[];
  /** Grams of a lot in a store at the end of a day. */
  stockG(lotId: string, storeId: string, day: number): number;
  /** Grams of a lot in all stores at the end of a day; one that is overdrawn holds nothing, and lends nothing to another. */
  lotG(lotId: string, day: number): number;
  /** The store a lot lay in first by the records, or undefined when it has not come yet. */
  firstStore(lotId: string): string | undefined;
  /** All holdings of one store. */
  inStore(storeId: string): readonly Holding[];
  /** All holdings of one lot. */
  ofLot(lotId: string): readonly Holding[];
}

/** Grams of a holding at the end of a day. */
export function heldG(holding: Holding, day: number): number {
  let sum = 0;
  for (const event of holding.events) {
    if (event.day > day) break;
    sum += event.deltaG;
  }
  return sum;
}

type Enter = (lotId: string, storeId: string, day: number, deltaG: number, planned: boolean) => void;

function enterRecords(ground: Ground, enterAny: Enter): void {
  const { season, zone } = ground;
  const { records, opening } = season;
  const positionDay = dayNumber(dateOf(season.positionAt));
  // What happened before the opening stocks were counted is in them.
  const enter: Enter = (lotId, storeId, day, deltaG, planned) => {
    if (day >= positionDay) enterAny(lotId, storeId, day, deltaG, planned);
  };
  for (const item of opening.grain) enter(item.lotId, item.storeId, positionDay, item.massG, false);
  for (const fill of records.fills) enter(fill.lotId, fill.storeId, dayNumber(fill.on), fill.massG, false);
  for (const run of records.runs) {
    // A run steeped before the opening position had taken its grain by then.
    if (instant(zone, run.steepInAt) < ground.positionAt) continue;
    const day = dayNumber(dateOf(run.steepInAt));
    for (const draw of run.draws) enter(draw.lotId, draw.storeId, day, -draw.massG, false);
  }
  for (const load of records.feedLoads) {
    for (const item of load.items) enter(item.lotId, item.storeId, dayNumber(load.on), -item.massG, false);
  }
  for (const move of records.moves) {
    const day = dayNumber(move.on);
    enter(move.lotId, move.fromStoreId, day, -move.massG, false);
    enter(move.lotId, move.toStoreId, day, move.massG - move.lossG, false);
  }
  for (const mix of records.mixes) {
    const day = dayNumber(mix.on);
    for (const parent of mix.parents) enter(parent.lotId, parent.storeId, day, -parent.massG, false);
    enter(mix.intoLotId, mix.storeId, day, mix.parents.reduce((sum, parent) => sum + parent.massG, 0), false);
  }
  for (const item of records.deliveries) {
    enter(item.lotId, item.storeId, dayNumber(item.on), -item.massG, false);
  }
  for (const brew of records.brews) {
    for (const { from, massG } of brew.grist) {
      if (from.kind === "lot") enter(from.lotId, from.storeId, dayNumber(brew.on), -massG, false);
    }
  }
  for (const { lotId, storeId, on, deltaG } of records.adjustments) {
    if (lotId !== undefined && storeId !== undefined) enter(lotId, storeId, dayNumber(on), deltaG, false);
  }
}

function enterPlan(ground: Ground, enter: Enter): void {
  const { plan } = ground;
  for (const fill of plan.fills) enter(fill.lotId, fill.storeId, dayNumber(fill.on), fill.massG, true);
  for (const { run, record, day } of ground.runs) {
    if (record !== undefined) continue;
    for (const draw of run.draws) enter(draw.lotId, draw.storeId, day.steepIn, -draw.massG, true);
  }
  for (const move of plan.moves) {
    const day = dayNumber(move.on);
    enter(move.lotId, move.fromStoreId, day, -move.massG, true);
    enter(move.lotId, move.toStoreId, day, move.massG - move.lossG, true);
  }
  for (const load of plan.feedLoads) {
    for (const item of load.items) enter(item.lotId, item.storeId, dayNumber(load.on), -item.massG, true);
  }
  for (const item of [...plan.seedTaken, ...plan.grainDeliveries]) {
    enter(item.lotId, item.storeId, dayNumber(item.on), -item.massG, true);
  }
  for (const brew of plan.brews) {
    for (const { from, massG } of brew.grist) {
      if (from.kind === "lot") enter(from.lotId, from.storeId, dayNumber(brew.on), -massG, true);
    }
  }
}

/** Holdings of one lot that got some of it by the records, the earliest first; of one day, as the season lists its stores. */
function byFirstFill(ground: Ground, holdings: readonly Holding[]): Holding[] {
  const storeIds = [...ground.stores.keys()];
  return holdings.flatMap((holding) => {
    const day = holding.events.find((event) => !event.planned && event.deltaG > 0)?.day;
    return day === undefined ? [] : [{ holding, day, place: storeIds.indexOf(holding.storeId) }];
  }).sort((a, b) => a.day - b.day || a.place - b.place).map(({ holding }) => holding);
}

function sort({ events }: Holding): void {
  events.sort((a, b) => a.day - b.day);
}

/**
 * Seed of days before as-of has no record of its store. The earliest reserve comes first, and each leaves the holdings in the
 * order in which they got the lot, as far as they last at the end of its day; the first of them is short of the rest.
 */
function enterPastSeed(ground: Ground, ofLot: (lotId: string) => readonly Holding[], enter: Enter): void {
  const positionDay = dayNumber(dateOf(ground.season.positionAt));
  const reserves = [...ground.season.seedReserves].sort((a, b) => dayNumber(a.on) - dayNumber(b.on));
  for (const { lotId, on, massG } of reserves) {
    const day = dayNumber(on);
    if (day < positionDay || day >= ground.asOfDay) continue;
    const holdings = byFirstFill(ground, ofLot(lotId));
    let left = massG;
    for (const holding of holdings) {
      const taken = Math.min(left, Math.max(0, heldG(holding, day)));
      enter(lotId, holding.storeId, day, -taken, false);
      left -= taken;
    }
    if (holdings[0] !== undefined) enter(lotId, holdings[0].storeId, day, -left, false);
    // The next reserve of the lot has to see what this one took.
    holdings.forEach(sort);
  }
}

/** What the records leave below nothing at as-of is nothing from then on: their last takings count for so much less. */
function forgive(events: GrainEvent[], asOfDay: number): void {
  let missingG = -events.reduce((sum, { day, deltaG }) => day <= asOfDay ? sum + deltaG : sum, 0);
  for (let place = events.length - 1; place >= 0 && missingG > 0; place--) {
    const event = events[place]!;
    if (event.day > asOfDay || event.deltaG >= 0) continue;
    const forgivenG = Math.min(missingG, -event.deltaG);
    // The event stays, for its day is the one on which the store was emptied.
    events[place] = { ...event, deltaG: event.deltaG + forgivenG };
    missingG -= forgivenG;
  }
}

/** Replays everything. */
export function grainBook(ground: Ground): GrainBook {
  const all = new Map<string, Holding>();
  const byLot = new Map<string, Holding[]>(), byStore = new Map<string, Holding[]>();
  const enter: Enter = (lotId, storeId, day, deltaG, planned) => {
    if (deltaG === 0) return;
    const key = `${lotId} ${storeId}`;
    let holding = all.get(key);
    if (holding === undefined) {
      all.set(key, holding = { lotId, storeId, events: [] });
      byLot.set(lotId, [...byLot.get(lotId) ?? [], holding]);
      byStore.set(storeId, [...byStore.get(storeId) ?? [], holding]);
    }
    holding.events.push({ day, deltaG, planned });
  };
  const ofLot = (lotId: string) => byLot.get(lotId) ?? [];
  enterRecords(ground, enter);
  all.forEach(sort);
  enterPastSeed(ground, ofLot, enter);
  all.forEach(({ events }) => forgive(events, ground.asOfDay));
  enterPlan(ground, enter);
  all.forEach(sort);
  const holdingOf = (lotId: string, storeId: string) => all.get(`${lotId} ${storeId}`);
  return {
    holdings: [...all.values()],
    stockG: (lotId, storeId, day) => {
      const holding = holdingOf(lotId, storeId);
      return holding === undefined ? 0 : heldG(holding, day);
    },
    lotG: (lotId, day) => ofLot(lotId).reduce((sum, holding) => sum + Math.max(0, heldG(holding, day)), 0),
    firstStore: (lotId) => byFirstFill(ground, ofLot(lotId))[0]?.storeId,
    inStore: (storeId) => byStore.get(storeId) ?? [],
    ofLot,
  };
}
