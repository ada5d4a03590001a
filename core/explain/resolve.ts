import { compareGoals } from "../plan/compare.ts";
import type { Plan } from "../plan/plan.ts";
import type { Season } from "../season/season.ts";
import { lessOf, type Worth, worthOf } from "./worth.ts";

/** How hard a season is planned anew: with a short search, or in full as a plan is made. */
export type Effort = "short" | "full";

/**
 * Plans a season anew, however it likes; null when it has no plan. `near` is a plan that may well hold there too, and from which the search
 * may start. The same season, plan and effort ("short" when left out) have to give the same plan.
 */
export type Resolve = (season: Season, near?: Plan, effort?: Effort) => Promise<Plan | null>;

/** The same, but the season as it stands is planned only once, in full, however often it is asked for. */
export function planningOnce(resolve: Resolve, season: Season): Resolve {
  let own: Promise<Plan | null> | null = null;
  return (asked, near, effort) =>
    asked === season ? own ??= resolve(season, near, "full") : resolve(asked, near, effort);
}

/** A season that was planned anew, and what that is worth beside the plan as it stands. */
export interface Trial {
  readonly season: Season;
  readonly plan: Plan;
  /** Never worse than nothing: what could be done before can still be done. */
  readonly gain: Worth;
}

/** Nobody wants to know any more. */
export class Cancelled extends Error {}

/**
 * Tries eased seasons against one plan. What is gained is measured from the better of that plan and of the unchanged season
 * planned once more in full, so that a search that simply had another go counts for nothing.
 */
export class Trials {
  private constructor(
    readonly season: Season,
    readonly reference: Plan,
    private readonly resolve: Resolve,
    private readonly cancelled: () => boolean,
  ) {}

  static async open(
    season: Season,
    plan: Plan,
    resolve: Resolve,
    cancelled: () => boolean = () => false,
  ): Promise<Trials> {
    const again = await resolve(season, plan, "full");
    const reference = again !== null && compareGoals(again.goals, plan.goals) < 0 ? again : plan;
    return new Trials(season, reference, resolve, cancelled);
  }

  /** A season planned anew, from the plan as it stands or from `near`, and not compared with it. */
  async resolveOnly(season: Season, near: Plan = this.reference): Promise<Plan | null> {
    if (this.cancelled()) throw new Cancelled();
    return await this.resolve(season, near);
  }

  /**
   * The eased season planned anew; the plan as it stands where that is better, for it holds there too, as does `smaller`: the plan
   * of a smaller step of the same kind.
   */
  async of(eased: Season, smaller?: Plan): Promise<Trial> {
    const { season, reference } = this;
    const known = smaller ?? reference;
    const found = await this.resolveOnly(eased, known);
    const plan = found !== null && compareGoals(found.goals, known.goals) < 0 ? found : known;
    return { season: eased, plan, gain: lessOf(worthOf(eased, plan), worthOf(season, reference)) };
  }

  /** The same season planned once more in full, from the plan of the trial, which stays where it is the better one; null where that found no plan. */
  async inFull(trial: Trial): Promise<Trial | null> {
    const found = await this.resolve(trial.season, trial.plan, "full");
    if (this.cancelled()) throw new Cancelled();
    if (found === null) return null;
    const plan = compareGoals(found.goals, trial.plan.goals) < 0 ? found : trial.plan;
    const gain = lessOf(worthOf(trial.season, plan), worthOf(this.season, this.reference));
    return { season: trial.season, plan, gain };
  }
}
