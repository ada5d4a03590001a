import type { Plan } from "../../core/plan/plan.ts";
import type { Season } from "../../core/season/season.ts";
import { drawParts, partsOf } from "../../core/year/draw.ts";
import { type Flow, flowIn } from "../../core/year/flow.ts";
import { type Shortfall, shortfallsIn } from "../../core/year/shortfalls.ts";
import type { Year } from "../../core/year/year.ts";

/** The year of a season and its plan, as the page draws it; `plan` = null draws what is known without one. */
export function drawnYear(season: Season, plan: Plan | null): Year {
  return drawParts(partsOf(season, plan));
}

/** The flow of that year. */
export function drawnFlow(season: Season, plan: Plan | null): Flow {
  return flowIn(partsOf(season, plan));
}

/** What that year falls short of. */
export function drawnShortfalls(season: Season, plan: Plan | null): Shortfall[] {
  const parts = partsOf(season, plan);
  return shortfallsIn(parts, drawParts(parts));
}
