import type { Near } from "./weigh-near.ts";
import type { WholeOrder } from "./weights.ts";

/** How much work is put into a candidate's exact weights and its last stowing. Every measure is a count, so that a result never hangs on time. */
export interface Effort {
  /** Choices tried at each fill while the candidate is counted, and in the last stowing, which also tries what is seldom best. */
  readonly breadth: number;
  readonly last: number;
  /** Whether the last stowing is the usual one, of `breadth` choices, as long as nobody goes short in it. */
  readonly usual: boolean;
  /** Shares of the malt store that weighing may fill, tried in turn until all bags find a place. */
  readonly rooms: readonly number[];
  /** Times a run or an order may be left out because stores cannot give or take what it needs. */
  readonly drops: number;
  /** Whether a small season's packs, brews and places are found by whole numbers. */
  readonly whole: boolean;
  /** What an earlier plan did, where weights are to stay near it; null for the full model. */
  readonly near: Near | null;
  /** All malt that is ordered, where that is settled; null where it is weighed. */
  readonly orders: readonly WholeOrder[] | null;
  /** Demands that rounding to grams would leave without the last gram of a batch that several share: they ask for a little more. */
  readonly padded: ReadonlySet<number>;
}

/** What a search puts into each candidate it offers: enough drops to empty a small malt store. */
export const FULL_EFFORT: Effort = {
  breadth: 8,
  last: 16,
  usual: false,
  rooms: [1, 0.85, 0.7, 0.5],
  drops: 40,
  whole: true,
  near: null,
  orders: null,
  padded: new Set(),
};
