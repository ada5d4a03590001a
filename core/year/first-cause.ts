import type { Cause } from "../plan/plan.ts";
import { type LotClock, lotClock, suitsMalt } from "../season/clocks.ts";
import type { Lot } from "../season/grain.ts";
import type { MaltType, Stage } from "../season/malthouse.ts";
import type { YearParts } from "./draw.ts";
import type { Lack } from "./malt-band.ts";
import { vesselInTheWay } from "./vessel-limit.ts";
import { maltWords, stretchWords, vesselWords } from "./words.ts";

/** A cause a plan can name, or that the plan bought although a run could have been started, or that no store has room. */
export type FirstCause = Cause | "bought by choice" | "stores full";

export interface FoundCause {
  readonly cause: FirstCause;
  /** Completes "First cause: ...". */
  readonly why: string;
}

/**
 * Grain that ran out longer than this before the last useful start did not fail for want of a vessel: in four weeks a
 * malthouse that runs weekly starts several times. Common practice, no source.
 */
const LATE_DAYS = 28;

/**
 * Why home malt fell short. The plan is replayed over the starts that could still have fed the brews: from the first
 * free day to the last start whose malt is ready by the last of them. Asked in turn: was there such a day at all; lay
 * there a full load of grain that could be malted, awake and not past its date, near its end; could a run be started,
 * and if not, which vessel was in the way; and was there a place for the malt.
 */
export function firstCauseOf(
  parts: YearParts,
  lack: Lack,
  useAhead: ReadonlyMap<string, number>,
): FoundCause {
  const { journal, slots } = parts;
  const { season } = journal;
  const malt = season.maltTypes.find((one) => one.id === lack.maltId);
  if (malt?.made.from !== "grain") return { cause: "no supply in time", why: "nothing was bought in time" };

  const lengths = slots.lengthDays([malt.id]);
  const lastStart = Math.floor(lack.lastDay - malt.restDays - lengths.least);
  const firstFree = journal.asOfDay + season.roster.heldDays;
  if (lastStart < firstFree) {
    return lastStart >= journal.asOfDay
      ? { cause: "held days", why: "a run that would have fed them would have to start in the held days" }
      : {
        cause: "no malt in time",
        why: "it is too late: a run started today is ready only after these brews",
      };
  }

  const lots = lotsOf(parts, malt);
  const days: number[] = [];
  for (let day = firstFree; day <= lastStart; day++) if (grainAt(parts, lots, day)) days.push(day);
  if (!days.some((day) => day > lastStart - LATE_DAYS)) return grainCause(parts, lack, lots, lastStart);

  const window = stretchWords(days[0]!, days.at(-1)!);
  const free = days.filter((day) => slots.canStart(day, [malt.id], "the runs"));
  if (free.length > 0) {
    const length = Math.ceil(lengths.greatest);
    return free.every((day) => storeFull(parts, day + length))
      ? { cause: "malt store full", why: `no place in the malt store is free for a run started ${window}` }
      : {
        cause: "bought by choice",
        why: `a run could have been started (${stretchWords(free[0]!, free.at(-1)!)}), the plan buys instead`,
      };
  }
  if (!days.some((day) => slots.canStart(day, [malt.id], "nothing"))) {
    return { cause: "nobody there", why: `no start ${window} has all its hand-overs staffed` };
  }
  const vesselId = vesselInTheWay(journal, slots, days, [malt.id], useAhead);
  const vessel = season.vessels.find((one) => one.id === vesselId);
  const stage: Stage = vessel?.stages.includes("bed") ? "bed" : vessel?.stages[0] ?? "bed";
  const name = vesselWords(vessel?.name ?? stage);
  return {
    cause: `${stage} full`,
    why: `${name} is full: no further run can be started ${window} beside those planned`,
  };
}

/** True when a full least load of one lot that the malt may be made of lies in store at the day's end, inside its clock. */
function grainAt(parts: YearParts, lots: readonly Candidate[], day: number): boolean {
  return lots.some(({ lot, clock, leastG }) =>
    clock.firstDay !== null && clock.firstDay <= day && day <= clock.lastDay &&
    parts.grain.at(lot.id, day) >= leastG
  );
}

interface Candidate {
  readonly lot: Lot;
  readonly clock: LotClock;
  /** Least of it that has to lie in store for a run, screenings included. */
  readonly leastG: number;
}

/** Lots the malt may be made of, with the least load their crop needs. */
function lotsOf({ journal: { season }, slots }: YearParts, malt: MaltType): Candidate[] {
  // Vessels are loaded with clean grain; in store it still lies with its screenings.
  const clean = malt.made.from === "grain" ? 1 - malt.made.screeningLoss : 1;
  return season.lots.filter((lot) => suitsMalt(season, lot, malt)).map((lot) => ({
    lot,
    clock: lotClock(season, lot, malt, season.asOf),
    leastG: slots.leastLoadG(lot.crop) / clean,
  }));
}

function grainCause(parts: YearParts, lack: Lack, lots: readonly Candidate[], day: number): FoundCause {
  const there = lots.filter(({ lot, leastG }) => parts.grain.at(lot.id, day) >= leastG);
  const letters = (which: typeof there) => which.map(({ lot }) => lot.letter).join(", ");
  const awaiting = there.filter(({ clock }) =>
    clock.blockedBy === "awaiting result" || (clock.awaitedUntil !== null && day < clock.awaitedUntil)
  );
  if (awaiting.length > 0) {
    return { cause: "awaiting result", why: `lot ${letters(awaiting)} waits for a result` };
  }
  const asleep = there.filter(({ clock }) =>
    clock.blockedBy === "not awake" || (clock.firstDay !== null && day < clock.firstDay)
  );
  if (asleep.length > 0) return { cause: "not awake", why: `lot ${letters(asleep)} still sleeps` };
  const past = there.filter(({ clock }) => clock.blockedBy === "too old" || day > clock.lastDay);
  if (past.length > 0) return { cause: "too old", why: `lot ${letters(past)} is past its last malting day` };
  return { cause: "no grain", why: `no full load is left that ${maltWords(lack.maltName)} can be made of` };
}

function storeFull({ journal, malt }: YearParts, day: number): boolean {
  const { places, placeG } = journal.season.maltStore;
  const at = Math.min(day, journal.planEnd) - journal.firstDay;
  let used = 0;
  for (const series of malt.values()) used += Math.ceil(Math.max(0, series[at] ?? 0) / placeG);
  return used >= places;
}
