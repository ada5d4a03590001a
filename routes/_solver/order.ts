import { DEFAULT_ITERATIONS } from "../../core/plan/make.ts";

/** How hard the server and the commands search. The same seed and iterations give the same plan each time. */
export const ORDER = { seed: 1, iterations: DEFAULT_ITERATIONS };
