import type { SeasonFile } from "../../../../core/season/season.ts";

type Part<K extends "lots" | "stores" | "beers"> = NonNullable<SeasonFile[K]>[number];

/** Monday to Sunday. */
export const EVERY_DAY = [1, 2, 3, 4, 5, 6, 7];

/** Malting barley of last harvest, awake since autumn. Invented. */
export const BARLEY: Part<"lots"> = {
  id: "barley",
  letter: "A",
  name: "barley",
  crop: "barley",
  varietyClass: "two-row malting",
  harvestYear: 2026,
  origin: "own",
  formedOn: "2026-08-01",
  moistureWb: 0.12,
  testWeightKgPerHl: 62,
  use: "malting",
  wakesOn: { early: "2026-09-01", likely: "2026-09-01", late: "2026-09-01" },
};

/** A bin for the barley. */
export function barleyBin(volumeL: number): Part<"stores"> {
  return {
    kind: "bin",
    id: "bin",
    name: "bin",
    shape: { kind: "volume", volumeL },
    monthTempC: Array(12).fill(10),
  };
}

/** A beer of one malt and a day in the tank. Invented. */
export const PALE_BEER: Part<"beers"> = {
  id: "beer",
  name: "beer",
  letter: "b",
  gravityP: 12,
  volumeL: 1000,
  brewhouseEfficiency: 0.85,
  tankDays: 1,
  grist: [{ id: "line", ingredient: { kind: "malt", maltId: "pale" }, share: 1 }],
};
