import type { Crop } from "../season/quantity.ts";
import type { Days } from "./marks.ts";

/** What grows on which field; days and weights as `Year` has them, here and in the other bands. */
export interface FieldsBand {
  readonly plantings: readonly PlantingMark[];
  readonly breaks: readonly BreakMark[];
}

/** A planting: the fields that are cut as one. */
export interface PlantingMark {
  readonly id: string;
  readonly node: string;
  readonly fieldNames: readonly string[];
  readonly areaM2: number;
  readonly crop: Crop;
  readonly sowingSeason: "winter" | "spring";
  readonly harvestYear: number;
  readonly state: "planned" | "sown" | "harvested" | "lost";
  readonly drillDay: number;
  /** Until this day winter can still take it (1 April of the harvest year); null when it cannot, or not any more. */
  readonly atRiskUntil: number | null;
  readonly harvest: { readonly early: number; readonly likely: number; readonly late: number };
  /** Days on which it was weighed, when it was. */
  readonly cut: Days | null;
  /** Weight as cut: weighed (three times the same) or forecast. */
  readonly cutG: Spread;
  /** Weight that comes into store after drying, handling and intake cleaning. */
  readonly binG: Spread;
  readonly weighed: boolean;
  /** Part of the likely weight for which the plan finds no store. */
  readonly leftOutG: number;
  readonly lotId: string;
  readonly letter: string;
  readonly lotNode: string;
}

/** A weight in a bad, a likely and a good year. */
export interface Spread {
  readonly bad: number;
  readonly likely: number;
  readonly good: number;
}

/** A field that carries no grain in a harvest year: the year runs from 1 September before to 31 August, for drawing. */
export interface BreakMark extends Days {
  readonly fieldId: string;
  readonly fieldName: string;
  readonly areaM2: number;
  readonly harvestYear: number;
  readonly crop: string;
}
