import { dateOf, dayNumber } from "../calendar.ts";
import { bookAt } from "../book/book.ts";
import { freeId, usedIds } from "../form/free-id.ts";
import { capacityKg } from "../physics/bin-capacity.ts";
import { forecastFills } from "../season/forecast.ts";
import type { Lot, Store } from "../season/grain.ts";
import { HAND_OVERS, type Stage, type Vessel } from "../season/malthouse.ts";
import type { Season } from "../season/season.ts";
import type { Limit } from "./limits.ts";

/** A vessel whose limit is lifted takes this many times its load: the stages beside it set the load. */
const LIFTED_LOAD = 4;
/** Grain is lifted to this many times what there is. */
const LIFTED_GRAIN = 3;
/** Tanks there are at least to be after a lift, beyond twice as many. */
const LIFTED_TANKS = 6;
/** Places beyond four times as many that a malt store has after a lift. */
const LIFTED_PLACES = 200;
const G_PER_KG = 1000;
/** A bulk bag of grain, litres: the usual size, common practice, no source. */
export const BAG_L = 1000;
const EVERY_DAY = [1, 2, 3, 4, 5, 6, 7];

/** The season with one limit taken away, so generously that it cannot bind; everything else stays as it is. */
export function lifted(season: Season, limit: Limit): Season {
  switch (limit) {
    case "steep":
    case "bed":
    case "kiln":
      return withVessels(withoutLimits(season, limit), limit, {
        count: Math.max(1, vesselsOf(season, limit).length),
        loads: 1,
        cleaningHours: 0,
      });
    case "tanks":
      return withTanks(season, season.tanks.length + LIFTED_TANKS);
    case "store":
      return withPlaces(season, 3 * season.maltStore.places + LIFTED_PLACES);
    case "bins":
      return withBags(season, 2 * grainG(season));
    case "hands":
      return withHands(season);
    case "grain":
      return withGrain(season, LIFTED_GRAIN);
    case "land":
      return withLand(season, LIFTED_GRAIN);
  }
}

/** The season with several limits taken away at once. */
export function liftedAll(season: Season, limits: readonly Limit[]): Season {
  return limits.reduce((eased, limit) => lifted(eased, limit), season);
}

/** Vessels that serve a stage. */
export function vesselsOf(season: Season, stage: Stage): Vessel[] {
  return season.vessels.filter((vessel) => vessel.stages.includes(stage));
}

/** The vessels that serve this stage and no other take far more, need no cleaning and are never shut. */
function withoutLimits(season: Season, stage: Stage): Season {
  return {
    ...season,
    vessels: season.vessels.map((vessel) => {
      if (vessel.stages.some((one) => one !== stage)) return vessel;
      const { monthLoadFactor: _, ...rest } = vessel;
      const loadLimits = vessel.loadLimits.map((limit) => ({
        ...limit,
        greatestG: limit.greatestG * LIFTED_LOAD,
      }));
      return { ...rest, loadLimits, cleaningHours: 0, changeOver: [], closures: [] };
    }),
  };
}

/** How vessels are added. */
export interface AddVessels {
  readonly count: number;
  /** Their greatest load by that of the largest vessel of the stage. */
  readonly loads: number;
  /** As in the vessel they are made after when left out. */
  readonly cleaningHours?: number;
}

/** More vessels of one stage, made after the largest there is, of no line, open all year. Unchanged when there is none. */
export function withVessels(season: Season, stage: Stage, add: AddVessels): Season {
  const model = vesselsOf(season, stage).toSorted((a, b) => largest(b) - largest(a))[0];
  if (model === undefined) return season;
  const { line: _line, monthLoadFactor, ...rest } = model;
  const used = usedIds(season);
  const vessels = Array.from({ length: add.count }, (): Vessel => {
    const id = freeId(`more-${stage}`, used);
    used.add(id);
    return {
      ...rest,
      id,
      name: `Another ${stage}`,
      // A bed that is steep or kiln as well is bought as a whole.
      stages: stage === "bed" ? model.stages : [stage],
      loadLimits: model.loadLimits.map((limit) => ({
        ...limit,
        greatestG: Math.round(limit.greatestG * add.loads),
      })),
      ...(monthLoadFactor === undefined || add.loads > 1 ? {} : { monthLoadFactor }),
      ...(add.cleaningHours === undefined ? {} : { cleaningHours: add.cleaningHours, changeOver: [] }),
      closures: [],
    };
  });
  return { ...season, vessels: [...season.vessels, ...vessels] };
}

function largest(vessel: Vessel): number {
  return Math.max(0, ...vessel.loadLimits.map((limit) => limit.greatestG));
}

/** More tanks, each as large as the largest. Unchanged when there is none. */
export function withTanks(season: Season, count: number): Season {
  const model = season.tanks.toSorted((a, b) => b.volumeL - a.volumeL)[0];
  if (model === undefined) return season;
  const used = usedIds(season);
  const tanks = Array.from({ length: count }, () => {
    const id = freeId("more-tank", used);
    used.add(id);
    return { ...model, id, name: "Another tank", closures: [] };
  });
  return { ...season, tanks: [...season.tanks, ...tanks] };
}

/** A malt store with so many places more. */
export function withPlaces(season: Season, places: number): Season {
  const { maltStore } = season;
  return { ...season, maltStore: { ...maltStore, places: Math.min(100_000, maltStore.places + places) } };
}

/** A further row of bulk bags for this much grain, at the lightest lot's test weight. */
export function withBags(season: Season, massG: number): Season {
  const row = bagRow(season, massG);
  return row === null ? season : { ...season, stores: [...season.stores, row] };
}

function bagRow(season: Season, massG: number): Extract<Store, { kind: "bags" }> | null {
  const lightest = Math.min(...season.lots.map((lot) => lot.testWeightKgPerHl));
  const [first] = season.stores;
  if (!Number.isFinite(lightest) || first === undefined || massG <= 0) return null;
  return {
    kind: "bags",
    id: freeId("more-bags", usedIds(season)),
    name: "More bags",
    places: Math.min(
      10_000,
      Math.ceil(massG / (capacityKg(BAG_L, lightest) * G_PER_KG)) + season.lots.length,
    ),
    placeVolumeL: BAG_L,
    monthTempC: first.monthTempC,
  };
}

/** Somebody at the vessels at every hour of every day. */
export function withHands(season: Season): Season {
  return {
    ...season,
    people: season.people.map((person) => ({ ...person, away: [] })),
    roster: {
      ...season.roster,
      weekly: [{ weekdays: EVERY_DAY, from: "00:00", to: "24:00", handOvers: [...HAND_OVERS] }],
      closed: [],
    },
  };
}

/** So many times the grain of the farm's own lots, each lot's addition in bags of its own; harvests and grain bought too. */
export function withGrain(season: Season, times: number): Season {
  const asOf = season.fixedAsOf ?? season.asOf;
  const book = bookAt(season, asOf);
  const more = season.lots.filter(isForMalting).flatMap((lot) => {
    const massG = [...(book.grain.get(lot.id)?.values() ?? [])].reduce((sum, each) => sum + each, 0);
    return massG > 0 ? [{ lotId: lot.id, massG: Math.round(massG * (times - 1)) }] : [];
  });
  const row = bagRow(season, more.reduce((sum, one) => sum + one.massG, 0));
  if (row === null) return withLand(season, times);
  const used = usedIds(season);
  const adjustments = more.map(({ lotId, massG }) => {
    const id = freeId("more-grain", used);
    used.add(id);
    return { id, on: dateOf(asOf), lotId, storeId: row.id, deltaG: massG, reason: "What if there were more" };
  });
  const { records } = season;
  return withLand({
    ...season,
    stores: [...season.stores, row],
    records: { ...records, adjustments: [...records.adjustments, ...adjustments] },
  }, times);
}

function isForMalting(lot: Lot): boolean {
  return (lot.use === "malting" || lot.use === "raw") && lot.owner === "farm" && !lot.treatedSeed;
}

/** So many times the area of every planting that is still to be cut, with bags for what it gives more. */
export function withLand(season: Season, times: number): Season {
  const asOf = season.fixedAsOf ?? season.asOf;
  const toCome = forecastFills(season, asOf).filter((fill) => fill.plantingIds.length > 0);
  if (toCome.length === 0) return season;
  const ids = new Set(toCome.flatMap((fill) => fill.plantingIds));
  const fieldIds = new Set(
    season.plantings.filter((one) => ids.has(one.id)).flatMap((planting) => planting.fieldIds),
  );
  const grown: Season = {
    ...season,
    fields: season.fields.map((field) =>
      fieldIds.has(field.id) ? { ...field, areaM2: field.areaM2 * times } : field
    ),
    plantings: season.plantings.map((planting) =>
      ids.has(planting.id) ? { ...planting, areaM2: planting.areaM2 * times } : planting
    ),
  };
  return withBags(grown, (times - 1) * toCome.reduce((sum, fill) => sum + fill.massG, 0));
}

/** All grain in store and to come, grams. */
function grainG(season: Season): number {
  const asOf = season.fixedAsOf ?? season.asOf;
  const inStore = [...bookAt(season, asOf).grain.values()].flatMap((stores) => [...stores.values()]);
  const toCome = forecastFills(season, asOf).filter((fill) => fill.day >= dayNumber(dateOf(asOf)));
  return [...inStore, ...toCome.map((fill) => fill.massG)].reduce((sum, massG) => sum + massG, 0);
}
