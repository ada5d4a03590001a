import { capacityKg, levelVolumeL } from "../physics/bin-capacity.ts";
import type { Store } from "../season/grain.ts";

/** Test weight of barley used for a store that no lot of the year lies in: 48 lb a US bushel. */
const BARLEY_KG_PER_HL = 61.8;

/** Whole grams that a store holds of grain of a test weight: a bin filled level, or all places of a bag row. */
export function storeCapacityG(store: Store, testWeightKgPerHl: number = BARLEY_KG_PER_HL): number {
  if (store.kind === "bags") return store.places * placeG(store, testWeightKgPerHl);
  const volumeL = store.shape.kind === "volume"
    ? store.shape.volumeL
    : levelVolumeL(store.shape.diameterM, store.shape.depthM);
  return Math.floor(capacityKg(volumeL, testWeightKgPerHl) * 1000);
}

/** Grams in one bag of a row. */
export function placeG(row: Store & { kind: "bags" }, testWeightKgPerHl: number): number {
  return Math.floor(capacityKg(row.placeVolumeL, testWeightKgPerHl) * 1000);
}

/** Bag places that a weight of one lot takes up. */
export function placesFor(row: Store & { kind: "bags" }, testWeightKgPerHl: number, massG: number): number {
  return massG <= 0 ? 0 : Math.ceil(massG / placeG(row, testWeightKgPerHl));
}
