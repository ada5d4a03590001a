import type { Lot, Store } from "../season/grain.ts";
import type { GrainChange, GrainLevels } from "./grain-levels.ts";
import { nodeId } from "./graph.ts";
import type { Journal } from "./journal.ts";
import { type LotYear, lotYear, stretchesOf } from "./lot-states.ts";
import type { Days } from "./marks.ts";
import { mustLeaveOf } from "./must-leave.ts";
import { placesFor, storeCapacityG } from "./store-room.ts";
import type { LotStay, StoreEvent, StoreEventKind, StoreRow } from "./stores-band.ts";
import type { NodeKind } from "./trace.ts";

const INWARD: readonly StoreEventKind[] = ["harvest", "bought", "moved in", "mixed in"];
const DRAWN: readonly StoreEventKind[] = ["run", "brew"];

/** The bins band: one row a store, in the order of the season. */
export function storeRows(
  journal: Journal,
  levels: GrainLevels,
  changes: readonly GrainChange[],
): StoreRow[] {
  const lots = new Map(journal.season.lots.map((lot) => [lot.id, lot]));
  const years = new Map(
    journal.season.lots.map((lot) => [lot.id, lotYear(journal.season, lot, journal.planEnd)]),
  );
  const rows = journal.season.stores.map((store): StoreRow => {
    const stays = staysOf(store, levels, lots, years);
    const events = changes.filter((one) => one.storeId === store.id).map((one) => storeEvent(one, lots));
    const inward = (one: StoreEvent) => INWARD.includes(one.kind);
    const drawn = (one: StoreEvent) => DRAWN.includes(one.kind);
    return {
      id: store.id,
      name: store.name,
      kind: store.kind,
      capacityG: stays.length === 0
        ? storeCapacityG(store)
        : Math.max(...stays.map((stay) => stay.capacityG)),
      places: store.kind === "bags" ? store.places : null,
      placesUsed: store.kind === "bags" ? placesUsed(journal, store, levels, lots) : null,
      stays,
      arrivals: events.filter(inward),
      departures: events.filter((one) => !inward(one) && !drawn(one)),
      draws: events.filter(drawn),
      cleanGaps: store.kind === "bin" ? cleanGaps(stays, store.turnaroundDays) : [],
      mustLeave: [],
    };
  });
  return rows.map((row, at) => ({
    ...row,
    mustLeave: mustLeaveOf(journal, journal.season.stores[at]!, row, rows, lots),
  }));
}

function staysOf(
  store: Store,
  levels: GrainLevels,
  lots: ReadonlyMap<string, Lot>,
  years: ReadonlyMap<string, LotYear>,
): LotStay[] {
  const stays: LotStay[] = [];
  for (const [lotId, series] of levels.inStore(store.id)) {
    const lot = lots.get(lotId);
    const year = years.get(lotId);
    if (lot === undefined || year === undefined) continue;
    for (const { from, to } of filled(series, levels.firstDay)) {
      stays.push({
        from,
        to,
        lotId,
        node: nodeId("lot", lotId),
        letter: lot.letter,
        name: lot.name,
        crop: lot.crop,
        harvestYear: lot.harvestYear,
        levelsG: [...series.subarray(from - levels.firstDay, to - levels.firstDay + 1)],
        capacityG: storeCapacityG(store, lot.testWeightKgPerHl),
        stretches: stretchesOf(year, from, to),
        lastMaltingDay: year.lastMaltingDay,
        forecast: lot.forecast,
      });
    }
  }
  return stays.sort((a, b) => a.from - b.from);
}

/** Stretches of days whose end finds anything there. */
function filled(series: Float64Array, firstDay: number): Days[] {
  const stretches: { from: number; to: number }[] = [];
  series.forEach((massG, at) => {
    if (massG <= 0) return;
    const day = firstDay + at;
    const last = stretches.at(-1);
    if (last !== undefined && last.to === day - 1) last.to = day;
    else stretches.push({ from: day, to: day });
  });
  return stretches;
}

function placesUsed(
  journal: Journal,
  row: Store & { kind: "bags" },
  levels: GrainLevels,
  lots: ReadonlyMap<string, Lot>,
): number[] {
  const used = new Array<number>(journal.planEnd - journal.firstDay + 1).fill(0);
  for (const [lotId, series] of levels.inStore(row.id)) {
    const lot = lots.get(lotId);
    if (lot === undefined) continue;
    series.forEach((massG, at) => used[at]! += placesFor(row, lot.testWeightKgPerHl, massG));
  }
  return used;
}

/** The turnaround days before another lot comes in, as far as the bin is empty on them. */
function cleanGaps(stays: readonly LotStay[], turnaroundDays: number): Days[] {
  const gaps: Days[] = [];
  for (let at = 1; at < stays.length; at++) {
    const before = stays[at - 1]!, after = stays[at]!;
    const from = Math.max(before.to + 1, after.from - turnaroundDays);
    if (before.lotId !== after.lotId && from < after.from) gaps.push({ from, to: after.from - 1 });
  }
  return gaps;
}

const NODE_KIND: Partial<Record<StoreEventKind, NodeKind>> = {
  run: "run",
  brew: "brew",
  feed: "feed",
  seed: "seed",
  sold: "sale",
  "mixed in": "mix",
  "mixed out": "mix",
};

function storeEvent(change: GrainChange, lots: ReadonlyMap<string, Lot>): StoreEvent {
  const kind = NODE_KIND[change.kind];
  return {
    kind: change.kind,
    day: change.day,
    lotId: change.lotId,
    letter: lots.get(change.lotId)?.letter ?? "",
    massG: change.kind === "counted" ? change.deltaG : Math.abs(change.deltaG),
    standing: change.standing,
    refId: change.refId,
    node: kind === undefined ? nodeId("lot", change.lotId) : nodeId(kind, change.refId),
    otherStoreId: change.otherStoreId,
  };
}
