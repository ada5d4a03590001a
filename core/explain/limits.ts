/** What a farm can run short of, in the order in which equal proofs are believed: a place for grain before the grain itself. */
export const LIMITS = ["tanks", "store", "bins", "hands", "steep", "kiln", "bed", "grain", "land"] as const;

/** One thing there can be too little of. */
export type Limit = (typeof LIMITS)[number];
