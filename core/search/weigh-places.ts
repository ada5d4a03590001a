import { mostWeightT, type Source } from "./weigh-sources.ts";
import type { Use, Weighing } from "./weighing.ts";

const HALF_GRAM_T = 0.5e-6;
/** A run's malt comes out a gram heavier than its free load says, as screenings and malt are rounded to grams: room for it in each place. */
const ROUNDED_T = 2e-6;

/**
 * Bag places by whole numbers: places(b, d) x place weight >= weight of batch b at the end of day d, sum over b <= places, for
 * every day on which something comes or goes. Left out where even full batches would fit.
 */
export function limitPlaces(of: Weighing): void {
  const { problem, model, sources, uses } = of;
  const { places, placeG } = problem.season.maltStore;
  const placeT = placeG / 1e6;
  const today = problem.batches.reduce(
    (sum, batch) => batch.arrivesDay <= problem.asOfDay ? sum + Math.ceil(batch.massG / placeG) : sum,
    0,
  );
  const allowed = Math.max(places, today);
  // Bagged raw grain stands in the same store; it is counted as full until it is gone.
  const raw = problem.batches.filter((batch) => !problem.materials[batch.material]?.malt)
    .reduce((sum, batch) => sum + Math.ceil(batch.massG / placeG), 0);
  const days = new Set<number>();
  for (const source of sources) days.add(source.arrives);
  for (const use of uses) days.add(use.day);
  for (const day of [...days].sort((a, b) => a - b)) {
    if (day < problem.freeDay || day > problem.endDay) continue;
    const here = sources.filter((source) => source.arrives <= day);
    if (here.reduce((sum, source) => sum + mostPlaces(of, source), raw) <= allowed) continue;
    const counts: [number, number][] = [];
    for (const source of here) {
      const column = model.column(0, 0, mostPlaces(of, source), true);
      const entries = uses.filter((use) => use.source === source && use.day <= day)
        .map((use): [number, number] => [use.column, 1 / source.perG]);
      entries.push([column, placeT]);
      if (source.column >= 0) {
        // A batch that may have been begun may also be gone: then nothing is left to round.
        const rounded = source.run >= 0 && entries.length === 1 ? 1 + ROUNDED_T / placeT : 1;
        entries.push([source.column, -rounded * source.perColumn / source.perG]);
      }
      model.row(weightT(source) - HALF_GRAM_T, Infinity, entries);
      counts.push([column, 1]);
    }
    // Where what lies there whatever the plan does is too much by itself, that is no breach.
    const settled = here.filter((one) => one.batchId !== null || of.runs[one.run]?.fixed).reduce(
      (sum, one) => sum + mostPlaces(of, one) - 1,
      0,
    );
    model.row(-Infinity, Math.max(allowed - raw, settled), counts);
  }
}

/** Places that a source can ever take. */
function mostPlaces({ problem, model }: Weighing, source: Source): number {
  return Math.ceil(mostWeightT(model, source) / (problem.season.maltStore.placeG / 1e6)) + 1;
}

function weightT(source: Source): number {
  return Math.max(0, source.fixedT) / source.perG;
}

/**
 * For a larger season: weight in store on every fourteenth day and on `tightDays` <= what the places hold, as a level carried from day
 * to day. `share` < 1 leaves room for bags that are begun. Soft, because that share is a guess.
 */
export function levelPlaces(of: Weighing, share: number, tightDays: readonly number[]): void {
  const { problem, model } = of;
  const { places, placeG } = problem.season.maltStore;
  const mostT = of.sources.reduce((sum, source) => sum + mostWeightT(model, source), 0);
  const watched = new Set(tightDays);
  for (let day = problem.freeDay; day <= problem.endDay; day += STEP_DAYS) watched.add(day);
  const incoming = [...of.sources].sort((a, b) => a.arrives - b.arrives);
  const outgoing = [...of.uses].sort((a, b) => a.day - b.day);
  let inAt = 0;
  let outAt = 0;
  let level = -1;
  for (const day of [...watched].sort((a, b) => a - b)) {
    const entries: [number, number][] = level < 0 ? [] : [[level, 1]];
    let fixedT = 0;
    for (; inAt < incoming.length && (incoming[inAt] as Source).arrives <= day; inAt++) {
      const source = incoming[inAt] as Source;
      fixedT += source.fixedT / source.perG;
      if (source.column >= 0) entries.push([source.column, source.perColumn / source.perG]);
    }
    for (; outAt < outgoing.length && (outgoing[outAt] as Use).day <= day; outAt++) {
      const use = outgoing[outAt] as Use;
      entries.push([use.column, -1 / use.source.perG]);
    }
    level = model.column(0, -mostT, mostT);
    model.row(-fixedT, -fixedT, [...entries, [level, -1]]);
    const over = model.column(OVER_PRICE, 0, mostT);
    model.row(-Infinity, places * share * placeG / 1e6, [[level, 1], [over, -1]]);
  }
}

const STEP_DAYS = 14;
/** Price of a tonne above the room: enough to move malt and orders about, less than a promise. */
const OVER_PRICE = 500;
