import type { Plan } from "../../core/plan/plan.ts";
import type { Season } from "../../core/season/season.ts";
import { drawParts, partsOf } from "../../core/year/draw.ts";
import type { Year } from "../../core/year/year.ts";

/** The year of a season and its plan, as the page draws it; `plan` = null draws what is known without one. */
export function drawnYear(season: Season, plan: Plan | null): Year {
  return drawParts(partsOf(season, plan));
}
