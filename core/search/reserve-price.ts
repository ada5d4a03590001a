import type { Problem } from "./problem.ts";

/** Whether ready malt of a material below its floor costs anything. */
export function isReservePriced({ season, materials }: Problem, material: number): boolean {
  const of = materials[material];
  return season.costs.reservePerTonneDayCents > 0 && of?.malt != null && of.floorG > 0;
}
