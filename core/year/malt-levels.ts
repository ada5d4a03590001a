import { dayNumber } from "../calendar.ts";
import type { Journal } from "./journal.ts";

/** Weight of every batch at each day's end, index 0 = `firstDay`. */
export type BatchLevels = ReadonlyMap<string, Float64Array>;

/** One change of one batch in the malt store. */
export interface MaltChange {
  readonly day: number;
  readonly batchId: string;
  readonly deltaG: number;
  /** The batch itself comes in, rather than being drawn on or counted. */
  readonly arrival: boolean;
}

/** Every change in the malt store, arrivals first, from the opening position on. */
export function maltChanges(journal: Journal): MaltChange[] {
  const changes: MaltChange[] = [];
  for (const batch of journal.batches.values()) {
    changes.push({ day: batch.inDay, batchId: batch.id, deltaG: batch.massG, arrival: true });
  }
  for (const fact of journal.brews) {
    if (fact.day < journal.firstDay) continue;
    for (const use of fact.grist) {
      if (use.from.kind === "batch") {
        changes.push({ day: fact.day, batchId: use.from.batchId, deltaG: -use.massG, arrival: false });
      }
    }
  }
  for (const drum of journal.plan?.drums ?? []) {
    for (const from of drum.from) {
      changes.push({ day: dayNumber(drum.on), batchId: from.batchId, deltaG: -from.massG, arrival: false });
    }
  }
  for (const sale of journal.maltSales) {
    for (const from of sale.from) {
      changes.push({ day: sale.day, batchId: from.batchId, deltaG: -from.massG, arrival: false });
    }
  }
  for (const count of journal.season.records.adjustments) {
    if (count.batchId === undefined) continue;
    changes.push({ day: dayNumber(count.on), batchId: count.batchId, deltaG: count.deltaG, arrival: false });
  }
  return changes;
}

/** Replays the malt store. */
export function batchLevels(journal: Journal): BatchLevels {
  const days = journal.planEnd - journal.firstDay + 1;
  const levels = new Map<string, Float64Array>();
  for (const change of maltChanges(journal)) {
    const series = levels.get(change.batchId) ?? new Float64Array(days);
    levels.set(change.batchId, series);
    for (let at = Math.max(0, change.day - journal.firstDay); at < days; at++) series[at]! += change.deltaG;
  }
  return levels;
}
