import { addDays, isIsoDate } from "../../../core/calendar.ts";
import { chance } from "../../../core/generate/chance.ts";
import type { Base, bases } from "./bases.ts";
import { blowsOf } from "./blows.ts";
import { corrupt, type Edit } from "./edits.ts";

/** One file to be tried. */
export interface Case {
  readonly seed: number;
  readonly base: Base;
  readonly edits: readonly Edit[];
}

/** The case of a seed: one in eight corrupts the demo, one in forty the empty farm, the others a micro season. */
export function caseOf(seed: number, from: Awaited<ReturnType<typeof bases>>): Case {
  const luck = chance(seed);
  const base = luck.oneIn(8) ? from.demo : luck.oneIn(35) ? from.empty : luck.pick(from.micro);
  return { seed, base, edits: blowsOf(luck, base) };
}

/** The text of a case's file, all its edits made or some of them. */
export function textOf({ base, edits }: Case, some: readonly Edit[] = edits): string {
  // An earlier edit may have put in a day that does not exist; it stays.
  return corrupt(base.file, some, (date, days) => isIsoDate(date) ? addDays(date, days) : date);
}

/** What two faults have in common: the rules that are broken, or the words without numbers and names. */
export function kindOfFault(fault: string): string {
  const [, rules] = /^(audit: [a-z-]+(?:, [a-z-]+)*):/.exec(fault) ?? [];
  return rules ?? fault.replace(/"[^"]*"|\d[\d.,:T-]*/g, "#").slice(0, 120);
}

/** The fewest of a failing case's edits that still fail in the same way. */
export async function shrink(
  one: Case,
  fault: string,
  fails: (edits: readonly Edit[]) => Promise<string | null>,
): Promise<readonly Edit[]> {
  let edits = one.edits;
  for (let index = 0; index < edits.length;) {
    const fewer = edits.toSpliced(index, 1);
    const still = await fails(fewer);
    if (still !== null && kindOfFault(still) === kindOfFault(fault)) edits = fewer;
    else index++;
  }
  return edits;
}
