import type { Drawn } from "./cellar.ts";
import type { Requirement } from "./problem.ts";

/** Whether enough of a grist comes from the lots that a demand asks for; less than a gram may be missing. */
export function meets(
  { counts, leastShare, unmixed }: Requirement,
  drawn: readonly Drawn[],
  stowed: readonly { lot: number; massG: number }[],
): boolean {
  let totalG = 0;
  let goodG = 0;
  for (const { lot, massG } of stowed) {
    totalG += massG;
    if (counts[lot]) goodG += massG;
  }
  for (const { batch, massG } of drawn) {
    totalG += massG;
    let good = 0;
    for (const [lot, part] of batch.share ?? []) if (counts[lot]) good += part;
    if (!unmixed || good > 1 - 1e-9) goodG += massG * good;
  }
  return goodG >= leastShare * totalG - 1;
}
