/** One way to break the hand-written plan, or the season under it, and the rules that must see it. */
import type { Plan, PlanRun } from "../../../core/plan/plan.ts";
import type { Season } from "../../../core/season/season.ts";

export interface Variant {
  readonly what: string;
  /** Rules that are broken, each by exactly one breach unless it is named twice. */
  readonly rules: readonly string[];
  readonly breaks: (season: Season, plan: Plan) => void;
}

/** The thing with an id; a test that names none is itself broken. */
export function of<T extends { readonly id: string }>(things: readonly T[], id: string): T {
  const found = things.find((thing) => thing.id === id);
  if (found === undefined) throw new Error(`no ${id}`);
  return found;
}

/** Moves a run's four hand-overs. */
export function retime(run: PlanRun, steepIn: string, cast: string, kiln: string, strip: string): void {
  run.steepInAt = steepIn;
  run.castAt = cast;
  run.kilnAt = kiln;
  run.stripAt = strip;
}

/** Changes a part of the money and the total with it. */
export function pay(plan: Plan, part: keyof Plan["goals"]["money"], cents: number): void {
  plan.goals.moneyCents += cents - plan.goals.money[part];
  plan.goals.money[part] = cents;
}
