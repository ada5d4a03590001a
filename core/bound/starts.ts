import type { Problem, ProblemLot } from "../search/problem.ts";
import type { Slot } from "../search/slots.ts";

/** The best that any legal slot of a malt offers on one day of steeping: a run of that day does no better in any of these. */
export interface DayStarts {
  readonly day: number;
  /** Earliest strip day. */
  readonly stripDay: number;
  /** Latest strip day. */
  readonly lastStripDay: number;
  /** Least price of night turns. */
  readonly nightCents: number;
  /** Greatest and least clean load in grams by crop index, over the slots that take the crop. */
  readonly greatestG: readonly number[];
  readonly leastG: readonly number[];
}

/** Starts by malt index, in order of day. */
export function startsByMalt(problem: Problem, slots: readonly Slot[]): DayStarts[][] {
  const crops = slots[0]?.greatestG.length ?? 0;
  const byMalt = Array.from({ length: problem.maltCount }, (): Slot[] => []);
  for (const slot of slots) byMalt[slot.malt]?.push(slot);
  return Array.from({ length: problem.maltCount }, (_, malt) => {
    const days = new Map<number, { -readonly [K in keyof DayStarts]: DayStarts[K] }>();
    for (const slot of byMalt[malt] ?? []) {
      let one = days.get(slot.steepDay);
      if (!one) {
        one = {
          day: slot.steepDay,
          stripDay: slot.stripDay,
          lastStripDay: slot.stripDay,
          nightCents: slot.nightCents,
          greatestG: new Array(crops).fill(0),
          leastG: new Array(crops).fill(Infinity),
        };
        days.set(slot.steepDay, one);
      }
      one.stripDay = Math.min(one.stripDay, slot.stripDay);
      one.lastStripDay = Math.max(one.lastStripDay, slot.stripDay);
      one.nightCents = Math.min(one.nightCents, slot.nightCents);
      one.greatestG = one.greatestG.map((most, crop) => Math.max(most, slot.greatestG[crop] as number));
      one.leastG = one.leastG.map((least, crop) =>
        (slot.greatestG[crop] as number) > 0 ? Math.min(least, slot.leastG[crop] as number) : least
      );
    }
    return [...days.values()].sort((a, b) => a.day - b.day);
  });
}

/** Whether a lot may be steeped for a malt on a day. */
export function mayStart({ clocks, fromDay }: ProblemLot, malt: number, day: number): boolean {
  const clock = clocks[malt];
  return clock != null && clock.firstDay !== null && day >= clock.firstDay && day <= clock.lastDay &&
    day >= fromDay;
}

/** Points of germinative energy that two lots of one run may lie apart. */
const ENERGY_APART = 0.03 + 1e-9;

/**
 * Lots of a malt in groups whose grain may come together in a run, through others if need be: same crop, owner and organic
 * status, energies near each other where both are measured. Groups, and lots in them, in order of index.
 */
export function lotGroups(lots: readonly ProblemLot[]): ProblemLot[][] {
  const groups: ProblemLot[][] = [];
  for (const lot of lots) {
    const joined = groups.filter((group) => group.some((other) => mayShare(lot, other)));
    const rest = groups.filter((group) => !joined.includes(group));
    groups.length = 0;
    groups.push(...rest, [...joined.flat(), lot].sort((a, b) => a.index - b.index));
  }
  return groups.sort((a, b) => (a[0] as ProblemLot).index - (b[0] as ProblemLot).index);
}

function mayShare(a: ProblemLot, b: ProblemLot): boolean {
  return a.lot.crop === b.lot.crop && a.lot.owner === b.lot.owner && a.lot.organic === b.lot.organic &&
    (a.energy === null || b.energy === null || Math.abs(a.energy - b.energy) <= ENERGY_APART);
}
