import { addDays, dateOf, dayNumber } from "../../../core/calendar.ts";
import type { Chance } from "../../../core/generate/chance.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import type { Season } from "../../../core/season/season.ts";

type Lot = Season["lots"][number];

/** Most deoxynivalenol in raw grain for the mash, mg/kg, as DEVELOPERS.md sets it down. */
const RAW_MOST = 1;

/** One thing that somebody enters in the days after a season was read; says what it did, or nothing if it could do nothing. */
type Entry = (luck: Chance, file: Season, day: string, n: number) => string | null;

/** Bins and bags with their lots, by the opening position and everything entered since. */
function stocks(file: Season): { lotId: string; storeId: string; massG: number }[] {
  const held = new Map<string, { lotId: string; storeId: string; massG: number }>();
  const add = (lotId: string, storeId: string, massG: number) => {
    const key = `${lotId} ${storeId}`, row = held.get(key) ?? { lotId, storeId, massG: 0 };
    held.set(key, { ...row, massG: row.massG + massG });
  };
  const { opening: { grain }, records: { moves, mixes, runs } } = file;
  grain.forEach((row) => add(row.lotId, row.storeId, row.massG));
  moves.forEach((row) => {
    add(row.lotId, row.fromStoreId, -row.massG);
    add(row.lotId, row.toStoreId, row.massG - row.lossG);
  });
  for (const mix of mixes) {
    mix.parents.forEach((row) => {
      add(row.lotId, row.storeId, -row.massG);
      add(mix.intoLotId, mix.storeId, row.massG);
    });
  }
  runs.forEach((run) => run.draws.forEach((row) => add(row.lotId, row.storeId, -row.massG)));
  return [...held.values()].filter((row) => row.massG > 1000);
}

const lotOf = (file: Season, id: string): Lot => file.lots.find((lot) => lot.id === id)!;
const freeStores = (file: Season): string[] => {
  const taken = new Set(stocks(file).map((row) => row.storeId));
  return file.stores.flatMap((store) => taken.has(store.id) ? [] : [store.id]);
};
const sound = { germinativeEnergy: 0.97, germinativeCapacity: 0.98 };

const result = (luck: Chance, donPpm: (luck: Chance) => number): Entry => (_, file, day, n) => {
  const lot = luck.pick(file.lots);
  const analysis = {
    id: `result-${n}`,
    sampledOn: addDays(day, -2),
    resultOn: day,
    donPpm: donPpm(luck),
    ...sound,
  };
  // Results are not always written down in the order in which they came.
  if (luck.oneIn(3)) lot.analyses.unshift(analysis);
  else lot.analyses.push(analysis);
  return `${lot.id} has ${analysis.donPpm} mg/kg`;
};

const ENTRIES: readonly ((luck: Chance) => Entry)[] = [
  (luck) => result(luck, () => luck.pick([1.1, 1.6, 3, 8])),
  (luck) => result(luck, () => luck.pick([1.1, 1.6, 3, 8])),
  (luck) => result(luck, () => luck.pick([0, 0.4, 0.9, 1])),
  () => (luck, file) => {
    if (!luck.oneIn(3)) return null;
    const lot = luck.pick(file.lots);
    lot.treatedSeed = true;
    return `${lot.id} is treated seed`;
  },
  () => (luck, file, day, n) => {
    const row = luck.pick(stocks(file)), to = luck.pick([...freeStores(file), row.storeId]);
    if (row === undefined || to === row.storeId) return null;
    const massG = luck.oneIn(2) ? row.massG : Math.floor(row.massG / 2);
    file.records.moves.push({
      id: `move-${n}`,
      on: day,
      lotId: row.lotId,
      fromStoreId: row.storeId,
      toStoreId: to,
      massG,
      lossG: 0,
    });
    return `${massG} g of ${row.lotId} moved to ${to}`;
  },
  mixing,
  mixing,
  () => (luck, file) => {
    const lot = luck.pick(file.lots);
    lot.use = luck.pick(["malting", "malting", "raw", "raw", "feed", "held"] as const);
    return `${lot.id} is for ${lot.use}`;
  },
  () => (luck, file, day, n) => {
    const rows = stocks(file).filter((row) => lotOf(file, row.lotId).crop === "barley");
    const malt = file.maltTypes[0]!;
    if (rows.length === 0 || malt.made.from !== "grain") return null;
    const [profile] = malt.made.profiles,
      row = luck.pick(rows),
      bed = file.vessels.find(({ id }) => id === "bed")!;
    const massG = Math.min(row.massG, Math.floor(bed.loadLimits[0]!.greatestG * 0.9));
    const at = (after: number) => `${addDays(day, after)}T08:00`;
    const run = {
      id: `run-${n}`,
      draws: [{ lotId: row.lotId, storeId: row.storeId, massG }],
      maltId: malt.id,
      profileId: profile!.id,
      vesselIds: { steep: "steep", bed: "bed", kiln: "kiln" },
      steepInAt: at(0),
    };
    const bedDays = profile!.bed.least / 24;
    if (luck.oneIn(2)) {
      file.bookings.runs.push({
        ...run,
        steepInAt: at(7),
        castAt: at(9),
        kilnAt: at(9 + bedDays),
        stripAt: at(10 + bedDays),
      });
      return `a run of ${row.lotId} is booked`;
    }
    // Malted before anybody knew, and stripped by now.
    const made = { batchId: `made-${n}`, maltId: malt.id, massG: Math.floor(massG * 0.8) };
    const back = (after: number) => `${addDays(day, after - 4 - bedDays)}T08:00`;
    file.records.runs.push({
      ...run,
      steepInAt: back(0),
      castAt: back(2),
      kilnAt: back(2 + bedDays),
      stripAt: back(3 + bedDays),
      outputs: [made],
      outcome: "released",
    });
    return `a run of ${row.lotId} gave ${made.batchId}`;
  },
  () => (luck, file) => {
    const batch = file.opening.malt[0], lot = luck.pick(file.lots);
    if (batch === undefined) return null;
    batch.lotIds = [lot.id];
    return `${batch.id} was made from ${lot.id}`;
  },
  () => (luck, file, day) => {
    const brew = luck.pick(file.brews);
    const bookings = file.bookings.brews;
    if (brew.on <= addDays(day, 3) || bookings.some((one) => one.brewId === brew.id)) return null;
    bookings.push({ brewId: brew.id, on: brew.on });
    return `${brew.id} is booked`;
  },
];

/** A new lot out of one or two others: split off, or tipped together; by a record, by its parents, or both. */
function mixing(): Entry {
  return (luck, file, day, n) => {
    const rows = stocks(file), free = freeStores(file);
    if (rows.length === 0 || free.length === 0) return null;
    const one = luck.pick(rows), crop = lotOf(file, one.lotId).crop;
    const others = rows.filter((row) => row.lotId !== one.lotId && lotOf(file, row.lotId).crop === crop);
    const taken = [one, ...(others.length > 0 && luck.oneIn(2) ? [luck.pick(others)] : [])].map((row) => ({
      ...row,
      massG: luck.oneIn(2) ? row.massG : Math.floor(row.massG / luck.int(2, 4)),
    }));
    const id = `lot-new-${n}`, byRecord = luck.int(1, 3);
    file.lots.push({
      ...structuredClone(lotOf(file, one.lotId)),
      id,
      name: `Lot ${n}`,
      letter: `${n}`,
      formedOn: day,
      forecast: false,
      treatedSeed: false,
      analyses: luck.oneIn(2)
        ? []
        : [{ id: `new-${n}`, sampledOn: day, resultOn: day, donPpm: 0.2, ...sound }],
      wakesOn: { early: day, likely: day, late: day },
      parents: byRecord === 1 ? [] : taken.map(({ lotId, massG }) => ({ kind: "lot", lotId, massG })),
    });
    file.records.mixes.push({
      id: `mix-${n}`,
      on: day,
      parents: taken,
      intoLotId: id,
      storeId: free[0]!,
    });
    return `${id} from ${taken.map((row) => row.lotId).join(" and ")}`;
  };
}

/** A small season with raw grain in a beer, empty bins for what is split off, and nothing that hides what becomes of a lot. */
export function stage(season: Season): Season {
  const file: Season = structuredClone(season);
  const spare = file.stores[0]!;
  for (const word of ["three", "four", "five"]) {
    file.stores.push({
      ...structuredClone(spare),
      id: `bin-${word}`,
      name: `Bin ${word}`,
      ...(spare.kind === "bin" ? { turnaroundDays: 0 } : {}),
    });
  }
  const [beer] = file.beers, [line] = beer!.grist;
  beer!.homeSharePromise = 0;
  beer!.grist = [{ ...line!, share: 0.8 }, {
    id: "raw-line",
    ingredient: { kind: "grain", crop: "barley", extractAsIs: 0.6 },
    share: 0.2,
  }];
  for (const brew of file.brews) {
    Object.assign(brew, { earliest: addDays(brew.on, -5), latest: addDays(brew.on, 20) });
  }
  file.horizonEnd = addDays(file.horizonEnd, 21);
  file.roster.closed = [];
  file.positionAt = `${addDays(dateOf(file.asOf), -30)}T06:00`;
  for (const tank of file.opening.tanks) delete tank.since;
  return file;
}

/** So many entries on days that follow each other, the last on the day of as-of; and what each of them was. */
export function enter(luck: Chance, file: Season, count: number): string[] {
  const done: string[] = [];
  const last = dateOf(file.asOf);
  for (let n = 1; n <= count; n++) {
    const said = luck.pick(ENTRIES)(luck)(luck, file, addDays(last, Math.min(0, n - count)), n);
    if (said !== null) done.push(said);
  }
  return done;
}

/** The lots a lot is of, itself first, by a way of its own: every parent again and again until nothing is new. */
export function lotsIn(season: Season, lotId: string): Set<string> {
  const all = new Set([lotId]);
  for (let before = 0; before < all.size;) {
    before = all.size;
    for (const lot of season.lots) {
      if (all.has(lot.id)) lot.parents.forEach((parent) => parent.kind === "lot" && all.add(parent.lotId));
    }
    for (const mix of season.records.mixes) {
      if (all.has(mix.intoLotId)) mix.parents.forEach((parent) => all.add(parent.lotId));
    }
  }
  return all;
}

/** Why a lot may not become beer, or null. */
function lock(season: Season, lotId: string, most: number): string | null {
  for (const id of lotsIn(season, lotId)) {
    const lot = season.lots.find((one) => one.id === id);
    if (lot?.treatedSeed) return `${id} is treated seed`;
    const results = (lot?.analyses ?? []).filter((one) =>
      one.resultOn !== undefined && one.donPpm !== undefined
    );
    results.sort((a, b) => dayNumber(a.resultOn!) - dayNumber(b.resultOn!));
    const donPpm = results.at(-1)?.donPpm ?? 0;
    if (donPpm > most) return `${id} has ${donPpm} mg/kg`;
  }
  return null;
}

/** Everything of a failed lot that a plan brings into a brew, or into malt that is sold; empty for a plan that may stand. */
export function letThrough(season: Season, plan: Plan): string[] {
  const mostFor = (maltId: string) => {
    const made = season.maltTypes.find((malt) => malt.id === maltId)?.made;
    return made?.from === "grain" ? made.acceptance.donPpmMost : RAW_MOST;
  };
  const sources = new Map<string, { maltId: string; lotIds: readonly string[] }>();
  for (const batch of season.opening.malt) {
    const { ingredient, lotIds } = batch;
    sources.set(batch.id, { maltId: ingredient.kind === "malt" ? ingredient.maltId : "", lotIds });
  }
  for (const run of [...season.records.runs, ...plan.runs]) {
    for (const { batchId } of run.outputs) {
      sources.set(batchId, { maltId: run.maltId, lotIds: run.draws.map((draw) => draw.lotId) });
    }
  }
  const found: string[] = [];
  const judge = (into: string, how: string, lotIds: readonly string[], most: number) => {
    for (const lotId of lotIds) {
      const why = lock(season, lotId, most);
      if (why !== null) found.push(`${how}: lot ${lotId} goes into ${into}, but ${why}`);
    }
  };
  for (const run of plan.runs) {
    if (run.standing === "under way") continue;
    judge(run.id, "steeped", run.draws.map((draw) => draw.lotId), mostFor(run.maltId));
  }
  const uses = [
    ...plan.brews.flatMap(({ id, grist }) => grist.map((use) => ({ into: id, from: use.from }))),
    ...plan.maltDeliveries.flatMap(({ contractId, from }) =>
      from.map(({ batchId }) => ({ into: contractId, from: { kind: "batch" as const, batchId } }))
    ),
  ];
  for (const { into, from } of uses) {
    if (from.kind === "lot") judge(into, "mashed raw", [from.lotId], RAW_MOST);
    else {
      const source = sources.get(from.batchId);
      if (source !== undefined) {
        judge(into, `brewed with ${from.batchId}`, source.lotIds, mostFor(source.maltId));
      }
    }
  }
  return found;
}
