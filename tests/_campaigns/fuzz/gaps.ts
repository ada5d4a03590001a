import { addDays } from "../../../core/calendar.ts";
import { capacityKg, levelVolumeL } from "../../../core/physics/bin-capacity.ts";
import type { FindingCode } from "../../../core/season/check/codes.ts";

// Changes reach into every corner of a season and break its type on the way.
// deno-lint-ignore no-explicit-any
type Loose = any;
type Change = (season: Loose) => void;

const first = (rows: Loose[], fits: (row: Loose) => boolean): Loose => rows.find(fits);

const binL = (store: Loose) =>
  store.shape.kind === "volume"
    ? store.shape.volumeL
    : levelVolumeL(store.shape.diameterM, store.shape.depthM);

/** What a season can be without: what the check warns of, and how to take it away. The season is planned all the same. */
export const GAPS = {
  "no-lots": (file: Loose) => {
    Object.assign(file, { lots: [], plantings: [], weighTickets: [], seedReserves: [], contracts: [] });
    Object.assign(file, { records: {}, bookings: {} });
    file.opening.grain = [];
    for (const batch of file.opening.malt) batch.lotIds = [];
    for (const beer of file.beers) beer.requires = [];
  },
  "no-brews": (file: Loose) => {
    file.brews = file.records.brews = file.bookings.brews = [];
  },
  "no-vessels": (file: Loose) => {
    file.vessels =
      file.records.runs =
      file.bookings.runs =
      file.records.brews =
      file.records.adjustments =
        [];
  },
  "no-fields": (file: Loose) => {
    file.fields = file.plantings = file.weighTickets = [];
    // What would have come from the fields is taken out with them.
    const coming = new Set(file.lots.flatMap((lot: Loose) => lot.forecast ? [lot.id] : []));
    file.lots = file.lots.filter((lot: Loose) => !lot.forecast);
    file.seedReserves = file.seedReserves.filter((seed: Loose) => !coming.has(seed.lotId));
    for (const lot of file.lots) lot.parents = [];
    for (const beer of file.beers) beer.requires = [];
  },
  "beer-without-malt": (file: Loose) => {
    const [beer] = file.beers;
    beer.grist = beer.substitutes = [];
    const own = new Set(file.brews.flatMap((brew: Loose) => brew.beerId === beer.id ? [brew.id] : []));
    file.records.brews = file.records.brews.filter((brew: Loose) => !own.has(brew.brewId));
  },
  "malt-without-lot": (file: Loose) => {
    const malt = first(file.maltTypes, (one) => one.made.from === "grain");
    malt.made.acceptance.proteinDbMost = 0.01;
    for (const lot of file.lots) {
      lot.analyses.push({
        id: `p-${lot.id}`,
        sampledOn: "2026-08-20",
        resultOn: "2026-08-24",
        proteinDb: 0.11,
      });
    }
  },
  "nobody-there": (file: Loose) => {
    file.roster.weekly = file.roster.extra = file.roster.lookIns = [];
  },
  "all-bins-full": (file: Loose) => {
    // Everything is brim-full on the first day, and nothing was taken since.
    file.positionAt = file.asOf = file.fixedAsOf ?? file.asOf;
    file.records = {};
    file.bookings = {};
    file.seedReserves = [];
    const lot = first(file.lots, (one) => one.use === "malting" && !one.forecast && one.crop === "barley");
    file.opening.grain = file.stores.filter((store: Loose) => store.kind === "bin").map((
      store: Loose,
      i: number,
    ) => ({
      lotId: lot.id,
      storeId: store.id,
      massG: Math.floor(capacityKg(binL(store), lot.testWeightKgPerHl) * 1000) - i,
    }));
  },
  "harvest-before-position": (file: Loose) => {
    const planting = first(file.plantings, (one) => one.state === "sown");
    file.seedReserves = [];
    const day = (before: number) => addDays(file.positionAt.slice(0, 10), -before);
    Object.assign(planting, {
      drillOn: day(300),
      harvest: { early: day(70), likely: day(60), late: day(50) },
    });
  },
} satisfies Partial<Record<FindingCode, Change>>;
