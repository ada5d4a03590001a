import { z } from "zod";

/** Dual values of rows, and the cuts among those rows: what a bound is recomputed from (`core/bound/stored.ts`). */
const proofSchema = z.strictObject({
  cuts: z.array(z.unknown()),
  duals: z.array(z.tuple([z.int().min(0), z.number()])),
});

const count = z.strictObject({
  most: z.int().min(0).meta({
    description: "the most that any plan counts which is no worse in the goals before",
  }),
  proof: proofSchema.nullable().meta({ description: "null where no more is asked for" }),
});

/** What is proven of a plan: how much better any plan of the same season could be. The goals in order, then money. */
export const planBoundSchema = z.strictObject({
  made: z.tuple([count, count, count]),
  promises: count,
  tail: count,
  money: z.strictObject({
    leastCents: z.int().meta({ description: "no plan that counts no less of anything costs less" }),
    fixedCents: z.int().meta({ description: "the part of the money that no plan can change" }),
    proof: z.unknown().meta({
      description: "a proof, or cases that together cover all plans with a proof each",
    }),
  }).nullable().meta({ description: "null while a count is below its most" }),
});

/** See the schema. */
export type StoredBound = z.infer<typeof planBoundSchema>;

/** Money that could at most be saved, as a share of the money that plans can change: (plan - bound) / plan. Null where it is not proven. */
export function moneyGapOf({ goals, bound }: {
  goals: { moneyCents: number };
  bound?: StoredBound | undefined;
}): number | null {
  if (!bound?.money) return null;
  const { leastCents, fixedCents } = bound.money;
  const changeable = goals.moneyCents - fixedCents;
  return changeable > 0 ? Math.max(0, goals.moneyCents - leastCents) / changeable : 0;
}
