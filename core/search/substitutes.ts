import type { Demand, Material } from "./problem.ts";

/** Malt that may take the place of a grist line's own, up to a share of the line's extract. */
export interface Substitute {
  demand: number;
  /** Place of the line among its demand's. */
  line: number;
  material: number;
  mostShare: number;
}

/** All that the beers of a season allow, malt for malt: raw grain is handed out before, and stays as the grist names it. */
export function substitutesOf(demands: readonly Demand[], materials: readonly Material[]): Substitute[] {
  return demands.flatMap(({ index: demand, lines }) =>
    lines.flatMap((own, line) =>
      own.substitutes.filter(({ material }) =>
        materials[own.material]?.malt && materials[material]?.malt && material !== own.material
      ).map(({ material, mostShare }) => ({ demand, line, material, mostShare }))
    )
  );
}
