import type { Drawn } from "./cellar.ts";
import type { Requirement } from "./problem.ts";

/** Part of a batch of these lot shares that counts towards what a demand asks for; where that must be unmixed, all or nothing. */
export function goodPart(
  { counts, unmixed }: Pick<Requirement, "counts" | "unmixed">,
  share: ReadonlyMap<number, number> | null,
): number {
  let good = 0;
  for (const [lot, part] of share ?? []) if (counts[lot]) good += part;
  return unmixed && good < 1 - 1e-9 ? 0 : good;
}

/** Whether enough of a grist comes from the lots that a demand asks for; less than a gram may be missing. */
export function meets(
  requirement: Requirement,
  drawn: readonly Drawn[],
  stowed: readonly { lot: number; massG: number }[],
): boolean {
  let totalG = 0;
  let goodG = 0;
  for (const { lot, massG } of stowed) {
    totalG += massG;
    if (requirement.counts[lot]) goodG += massG;
  }
  for (const { batch, massG } of drawn) {
    totalG += massG;
    goodG += massG * goodPart(requirement, batch.share);
  }
  return goodG >= requirement.leastShare * totalG - 1;
}
