import type { Cause } from "../plan/plan.ts";
import type { MarkStanding } from "./marks.ts";

/** Done: packaged. Under way: in tank. Unbrewed: asked for, not made. Awaited: no plan has looked at it yet. */
export type BrewStanding = MarkStanding | "unbrewed" | "awaited";

/** A brew of the calendar, made or not. */
export interface BrewMark {
  readonly id: string;
  readonly node: string;
  readonly beerId: string;
  readonly beerName: string;
  readonly letter: string;
  /** Brew day, or the day wanted when it is not made. */
  readonly day: number;
  readonly wantedDay: number;
  readonly class: 1 | 2 | 3;
  readonly pilot: boolean;
  readonly standing: BrewStanding;
  /** In the twelve weeks after `lastDay`. */
  readonly tail: boolean;
  /** Home-grown weight out of grist weight; 0 when not made. */
  readonly homeShare: number;
  readonly promise: number;
  readonly promiseHeld: boolean;
  readonly gristG: number;
  readonly volumeL: number;
  /** First day out of the tank: packaged. */
  readonly packagedDay: number;
  readonly tanks: readonly { readonly tankId: string; readonly volumeL: number }[];
  readonly unbrewed: { readonly cause: Cause; readonly why: string } | null;
}
