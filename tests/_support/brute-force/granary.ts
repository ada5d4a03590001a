import type { Context } from "../../../core/audit/context.ts";
import { dayNumber } from "../../../core/calendar.ts";
import { capacityKg } from "../../../core/physics/bin-capacity.ts";

/** A bin: what it takes, and the last day on which it must be empty for grain that comes (null when none comes). */
export interface BinRoom {
  readonly storeId: string;
  readonly roomKg: number;
  readonly clearDay: number | null;
}

/** A lot with all there is of it. Weights are kilograms, days are day numbers. */
export interface Heap {
  readonly lotId: string;
  /** What lies in each store at as-of; nothing of a lot that is still to come. */
  readonly layKg: ReadonlyMap<string, number>;
  /** The stores it may be in some day. */
  readonly storeIds: readonly string[];
  readonly coming: { readonly day: number; readonly massKg: number } | null;
  readonly seed: { readonly reserveId: string; readonly day: number; readonly massKg: number } | null;
}

export interface Granary {
  readonly bins: readonly BinRoom[];
  readonly heaps: ReadonlyMap<string, Heap>;
}

/** Grain at as-of and to come, or why the oracle cannot stow it. At most one lot may come, so that bins change their lot at most once. */
export function granaryOf({ season, arrivals }: Context): Granary | string {
  if (arrivals.length > 1) return "grain comes in more than once";
  // With a third bin there would be more to gain by moving than clearing a bin for grain that comes.
  if (season.stores.length > 2) return "there are more than two stores";
  const arrival = arrivals[0];
  const heaps = new Map<string, Heap>();
  for (const { id: lotId } of season.lots) {
    const lying = season.opening.grain.filter((lay) => lay.lotId === lotId);
    const comes = arrival?.lotId === lotId ? { day: arrival.day, massKg: arrival.massG / 1000 } : null;
    if (comes !== null && lying.length > 0) return "a lot comes to what lies there of it";
    const seeds = season.seedReserves.filter((reserve) => reserve.lotId === lotId);
    if (seeds.length > 1 || comes !== null && seeds.length > 0) {
      return "seed is taken twice, or of a lot to come";
    }
    heaps.set(lotId, {
      lotId,
      layKg: new Map(lying.map((lay) => [lay.storeId, lay.massG / 1000])),
      // Without grain that comes nothing is gained by moving any.
      storeIds: arrival === undefined
        ? lying.map((lay) => lay.storeId)
        : season.stores.map((store) => store.id),
      coming: comes,
      seed:
        seeds.map(({ id, on, massG }) => ({ reserveId: id, day: dayNumber(on), massKg: massG / 1000 }))[0] ??
          null,
    });
  }
  const bins: BinRoom[] = [];
  for (const store of season.stores) {
    if (store.kind !== "bin" || store.shape.kind !== "volume") return "a store is no bin of a stated volume";
    const weights = new Set(season.lots.map((lot) => lot.testWeightKgPerHl));
    if (weights.size > 1) return "lots differ in test weight";
    bins.push({
      storeId: store.id,
      roomKg: capacityKg(store.shape.volumeL, [...weights][0]!),
      clearDay: arrival === undefined ? null : arrival.day - store.turnaroundDays,
    });
  }
  if (
    arrival !== undefined && season.opening.grain.some((lay) => lay.lotId !== season.opening.grain[0]!.lotId)
  ) {
    return "several lots lie there when grain comes in";
  }
  return { bins, heaps };
}
