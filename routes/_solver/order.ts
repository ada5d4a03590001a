import { DEFAULT_ITERATIONS } from "../../core/plan/make.ts";
import { ROUNDS } from "./looking.ts";

/** How hard the commands search, and the server too when nothing else is said. The same seed and iterations give the same plan each time. */
export const ORDER = { seed: 1, iterations: DEFAULT_ITERATIONS };

/** How hard a server searches: for a plan, and round by round for a better one afterwards. */
export interface SearchEffort {
  readonly order: { readonly seed: number; readonly iterations: number };
  readonly rounds: readonly number[];
}

/**
 * "short" is for slow or shared machines: good plans, not the best, and nothing is looked for afterwards. "none" makes a careful
 * person's plan without a search.
 */
export const EFFORTS: Readonly<Record<"full" | "short" | "none", SearchEffort>> = {
  full: { order: ORDER, rounds: ROUNDS },
  short: { order: { seed: 1, iterations: 4000 }, rounds: [] },
  none: { order: { seed: 1, iterations: 0 }, rounds: [] },
};
