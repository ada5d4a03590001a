import { dayNumber } from "../calendar.ts";
import type { Journal } from "./journal.ts";
import type { MarkStanding } from "./marks.ts";
import type { StoreEventKind } from "./stores-band.ts";

/** One change of one lot in one store. `deltaG` is negative when grain leaves. */
export interface GrainChange {
  readonly day: number;
  readonly storeId: string;
  readonly lotId: string;
  readonly deltaG: number;
  readonly kind: StoreEventKind;
  readonly refId: string;
  readonly standing: MarkStanding;
  readonly otherStoreId: string | null;
}

/** Every change of grain in store from the opening position on, by day. */
export function grainChanges(journal: Journal): GrainChange[] {
  const { season } = journal;
  const changes: GrainChange[] = [];
  const put = (
    kind: StoreEventKind,
    one: { day: number; storeId: string; lotId: string; refId: string; standing: MarkStanding },
    deltaG: number,
    otherStoreId: string | null = null,
  ) => {
    const { day, storeId, lotId, refId, standing } = one;
    if (deltaG !== 0) changes.push({ day, storeId, lotId, deltaG, kind, refId, standing, otherStoreId });
  };
  const boughtLots = new Set(
    season.contracts.flatMap((one) => one.kind === "buy-grain" ? [one.lotId] : []),
  );
  for (const fill of journal.fills) put(boughtLots.has(fill.lotId) ? "bought" : "harvest", fill, fill.massG);
  for (const run of journal.runs) {
    if (run.drawnBefore) continue;
    const standing = run.standing === "dumped" ? "done" : run.standing;
    const day = dayNumber(run.steepInAt.slice(0, 10));
    for (const draw of run.draws) put("run", { ...draw, day, refId: run.id, standing }, -draw.massG);
  }
  for (const fact of journal.brews) {
    if (fact.day < journal.firstDay || fact.standing === "unbrewed" || fact.standing === "awaited") continue;
    for (const use of fact.grist) {
      if (use.from.kind !== "lot") continue;
      const { lotId, storeId } = use.from;
      const at = { day: fact.day, lotId, storeId, refId: fact.brew.id, standing: fact.standing };
      put("brew", at, -use.massG);
    }
  }
  for (const load of journal.feedLoads) {
    for (const item of load.items) put("feed", { ...load, ...item, refId: load.id }, -item.massG);
  }
  for (const move of journal.moves) {
    put("moved out", move, -move.massG, move.toStoreId);
    put("moved in", { ...move, storeId: move.toStoreId }, move.massG - move.lossG, move.storeId);
  }
  for (const seed of journal.seed) put("seed", seed, -seed.massG);
  for (const sale of journal.grainSales) put("sold", sale, -sale.massG);
  for (const mix of season.records.mixes) {
    const at = { day: dayNumber(mix.on), refId: mix.id, standing: "done" as const };
    for (const parent of mix.parents) put("mixed out", { ...at, ...parent }, -parent.massG);
    const wholeG = mix.parents.reduce((sum, parent) => sum + parent.massG, 0);
    put("mixed in", { ...at, storeId: mix.storeId, lotId: mix.intoLotId }, wholeG);
  }
  for (const count of season.records.adjustments) {
    if (count.lotId === undefined || count.storeId === undefined) continue;
    const { lotId, storeId } = count;
    put(
      "counted",
      { day: dayNumber(count.on), lotId, storeId, refId: count.id, standing: "done" },
      count.deltaG,
    );
  }
  return changes.filter((one) => one.day >= journal.firstDay).sort((a, b) => a.day - b.day);
}

/** Weight of every lot in every store at each day's end. */
export class GrainLevels {
  readonly #series = new Map<string, Map<string, Float64Array>>();
  readonly #days: number;

  constructor(readonly firstDay: number, planEnd: number) {
    this.#days = planEnd - firstDay + 1;
  }

  /** Adds a weight from a day on. */
  add(storeId: string, lotId: string, day: number, deltaG: number): void {
    const lots = this.#series.get(storeId) ?? new Map<string, Float64Array>();
    this.#series.set(storeId, lots);
    const series = lots.get(lotId) ?? new Float64Array(this.#days);
    lots.set(lotId, series);
    for (let at = Math.max(0, day - this.firstDay); at < this.#days; at++) series[at]! += deltaG;
  }

  /** The lots of a store with their series. */
  inStore(storeId: string): ReadonlyMap<string, Float64Array> {
    return this.#series.get(storeId) ?? new Map();
  }

  /** Weight of a lot at a day's end, in one store or in all. */
  at(lotId: string, day: number, storeId?: string): number {
    const at = Math.min(day - this.firstDay, this.#days - 1);
    if (at < 0) return 0;
    let sumG = 0;
    for (const [id, lots] of this.#series) {
      if (storeId === undefined || id === storeId) sumG += lots.get(lotId)?.[at] ?? 0;
    }
    return sumG;
  }
}

/** Replays the opening position and every change. */
export function grainLevels(journal: Journal, changes: readonly GrainChange[]): GrainLevels {
  const levels = new GrainLevels(journal.firstDay, journal.planEnd);
  for (const lay of journal.season.opening.grain) {
    levels.add(lay.storeId, lay.lotId, journal.firstDay, lay.massG);
  }
  for (const change of changes) levels.add(change.storeId, change.lotId, change.day, change.deltaG);
  return levels;
}
