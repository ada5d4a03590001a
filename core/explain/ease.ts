import { addDays, dateOf, dayNumber, isoDate } from "../calendar.ts";
import { freeId, usedIds } from "../form/free-id.ts";
import type { Bin, Lot } from "../season/grain.ts";
import { HAND_OVERS, type Stage, STAGES, type Vessel } from "../season/malthouse.ts";
import type { Crop } from "../season/quantity.ts";
import type { Season } from "../season/season.ts";
import { binVolumeL } from "../search/problem-stores.ts";
import { vesselsOf } from "./relax.ts";

/** Hours of an extra day at the vessels: a working day, common practice, no source. */
const EXTRA_DAY = { from: "07:00", to: "16:00" } as const;

/** The season with these days worked as well, each at a price that is paid when a hand-over uses it. */
export function withExtraDays(season: Season, dates: readonly string[], costCents: number): Season {
  const extra = dates.map((on) => ({ on, ...EXTRA_DAY, handOvers: [...HAND_OVERS], costCents }));
  return { ...season, roster: { ...season.roster, extra: [...season.roster.extra, ...extra] } };
}

/** The season with vessels of these stages that take so much more: 0.25 is a quarter. */
export function withBiggerLoads(season: Season, share: number, stages: readonly Stage[] = STAGES): Season {
  const vessels = season.vessels.map((vessel) =>
    !vessel.stages.some((stage) => stages.includes(stage)) ? vessel : {
      ...vessel,
      loadLimits: vessel.loadLimits.map((limit) => ({
        ...limit,
        greatestG: Math.round(limit.greatestG * (1 + share)),
      })),
    }
  );
  return { ...season, vessels };
}

/** The season with a bin more, like the largest; null where there is none. */
export function withBin(season: Season): Season | null {
  const bins = season.stores.filter((store): store is Bin => store.kind === "bin");
  const model = bins.toSorted((a, b) => binVolumeL(b.shape) - binVolumeL(a.shape))[0];
  if (model === undefined) return null;
  const bin = { ...model, id: freeId("more-bin", usedIds(season)), name: "Another bin" };
  return { ...season, stores: [...season.stores, bin] };
}

/** The season with so many bag places for grain more in its first bag row; null where there is none. */
export function withBagPlaces(season: Season, places: number): Season | null {
  const row = season.stores.find((store) => store.kind === "bags");
  if (row === undefined) return null;
  return {
    ...season,
    stores: season.stores.map((store) =>
      store === row ? { ...row, places: Math.min(10_000, row.places + places) } : store
    ),
  };
}

/** The season with so much more of a planting, its fields grown with it. */
export function withArea(season: Season, plantingId: string, areaM2: number): Season {
  const planting = season.plantings.find((one) => one.id === plantingId);
  const field = planting?.fieldIds[0];
  return {
    ...season,
    fields: season.fields.map((one) => one.id === field ? { ...one, areaM2: one.areaM2 + areaM2 } : one),
    plantings: season.plantings.map((one) =>
      one === planting ? { ...one, areaM2: one.areaM2 + areaM2 } : one
    ),
  };
}

/** The season with malting grain of a crop bought for a day, awake and sound, made after a lot of the farm's own. */
export function withBoughtGrain(season: Season, crop: Crop, massG: number, on: string): Season | null {
  const model = season.lots.find((lot) => lot.crop === crop && lot.use === "malting" && lot.owner === "farm");
  if (model === undefined) return null;
  const used = usedIds(season);
  const id = freeId("bought-grain", used), contractId = freeId("bought-grain-contract", used);
  const { useBy: _use, maltExtractDb: _extract, ...rest } = model;
  const lot: Lot = {
    ...rest,
    id,
    letter: "+",
    name: `Bought ${crop}`,
    origin: "elsewhere",
    organic: false,
    formedOn: on,
    forecast: true,
    parents: [{ kind: "bought", from: contractId }],
    analyses: [],
    wakesOn: { early: on, likely: on, late: on },
  };
  const contract = {
    kind: "buy-grain" as const,
    id: contractId,
    party: "A grain merchant",
    lotId: id,
    massG,
    on,
    perTonneCents: 0,
  };
  return { ...season, lots: [...season.lots, lot], contracts: [...season.contracts, contract] };
}

/** The season with bought malt that comes so many days sooner. */
export function withSoonerMalt(season: Season, days: number): Season {
  return {
    ...season,
    supplyOffers: season.supplyOffers.map((offer) => ({
      ...offer,
      leadDays: Math.max(0, offer.leadDays - days),
    })),
  };
}

/** The season in which these brews may move by so many days more, either way. */
export function withWiderWindows(season: Season, brewIds: ReadonlySet<string>, days: number): Season {
  const today = dateOf(season.fixedAsOf ?? season.asOf);
  const horizon = season.horizonEnd;
  return {
    ...season,
    brews: season.brews.map((brew) => {
      if (!brewIds.has(brew.id)) return brew;
      const earliest = addDays(brew.earliest, -days), latest = addDays(brew.latest, days);
      return {
        ...brew,
        earliest: earliest < today ? (brew.earliest < today ? brew.earliest : today) : earliest,
        latest: latest > horizon && brew.latest <= horizon ? horizon : latest,
      };
    }),
  };
}

/** The season without these brews. */
export function withoutBrews(season: Season, brewIds: ReadonlySet<string>): Season {
  return { ...season, brews: season.brews.filter((brew) => !brewIds.has(brew.id)) };
}

/** Hours of cleaning that let a vessel take one load and no second one in the same weeks; the most the file format has. */
const ONE_LOAD_HOURS = 2000;
/** Days after its week in which one run is through, however slow. */
const THROUGH_DAYS = 21;

/** The season with room for one run more, started in the week from this day number on: a line of vessels that is open then, for one load. */
export function withRunInWeek(season: Season, firstDay: number): Season {
  const at = (day: number) => `${isoDate(day)}T00:00`;
  const start = dayNumber(dateOf(season.positionAt)) - 1, end = dayNumber(season.horizonEnd) + 200;
  return withLineLike(season, (stage) => ({
    cleaningHours: ONE_LOAD_HOURS,
    changeOver: [],
    closures: [
      { from: at(start), to: at(firstDay), reason: "another week" },
      {
        from: at(firstDay + (stage === "steep" ? 9 : THROUGH_DAYS)),
        to: at(end),
        reason: "another week",
      },
    ],
  }));
}

/** The season with a whole line of vessels more, open all year. */
export function withLine(season: Season): Season {
  return withLineLike(season, () => ({ closures: [] }));
}

/** The season with a line of one steep, bed and kiln more, each like the largest of its stage but for `but`. */
function withLineLike(season: Season, but: (stage: Stage) => Partial<Vessel>): Season {
  const used = usedIds(season);
  const vessels = STAGES.flatMap((stage): Vessel[] => {
    const model = vesselsOf(season, stage).toSorted((a, b) => largestG(b) - largestG(a))[0];
    if (model === undefined) return [];
    const { monthLoadFactor: _, ...rest } = model;
    const id = freeId(`one-run-${stage}`, used);
    used.add(id);
    return [{
      ...rest,
      id,
      name: `One run's ${stage}`,
      stages: [stage],
      line: "one run more",
      ...but(stage),
    }];
  });
  // A vessel without a line would go with these ones too.
  const lined = season.vessels.map((vessel) =>
    vessel.line === undefined ? { ...vessel, line: "as it is" } : vessel
  );
  return { ...season, vessels: [...lined, ...vessels] };
}

function largestG(vessel: Vessel): number {
  return Math.max(0, ...vessel.loadLimits.map((limit) => limit.greatestG));
}
