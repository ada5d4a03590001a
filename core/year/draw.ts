import type { Plan } from "../plan/plan.ts";
import type { Season } from "../season/season.ts";
import { brewMarks } from "./brews.ts";
import { fieldsBand } from "./fields.ts";
import { type GrainChange, grainChanges, type GrainLevels, grainLevels } from "./grain-levels.ts";
import { graphOf } from "./graph.ts";
import { clockDay, type Journal, journalOf } from "./journal.ts";
import { maltBand } from "./malt.ts";
import { type BatchLevels, batchLevels } from "./malt-levels.ts";
import { malthouseBand } from "./malthouse.ts";
import { NO_OLD_DAYS, type OldDays } from "./old-days.ts";
import { NOTHING_EXPLAINED, type RunsExplained } from "./run-worth.ts";
import { Slots } from "./slots.ts";
import { storeRows } from "./stores.ts";
import { tankBand } from "./tanks.ts";
import type { Year } from "./year.ts";

/** What every answer about a year is read from. */
export interface YearParts {
  readonly journal: Journal;
  readonly changes: readonly GrainChange[];
  readonly grain: GrainLevels;
  readonly malt: BatchLevels;
  readonly slots: Slots;
}

/** Replays facts, bookings and plan once. */
export function partsOf(season: Season, plan: Plan | null): YearParts {
  const journal = journalOf(season, plan);
  const changes = grainChanges(journal);
  return {
    journal,
    changes,
    grain: grainLevels(journal, changes),
    malt: batchLevels(journal),
    slots: new Slots(journal),
  };
}

/** Puts the bands of a year together; `oldDays` says where things lay in the plan before, `runWorth` what one run more would bring, where that is to be told. */
export function drawParts(
  { journal, changes, grain, malt, slots }: YearParts,
  oldDays: OldDays = NO_OLD_DAYS,
  explained: RunsExplained = NOTHING_EXPLAINED,
): Year {
  const { season, plan } = journal;
  return {
    farm: season.name,
    units: season.readerUnits,
    firstDay: journal.firstDay,
    lastDay: journal.lastDay,
    planEnd: journal.planEnd,
    asOf: clockDay(season.asOf),
    planned: plan !== null,
    bookValueCount: season.bookValues.length,
    fields: fieldsBand(journal),
    stores: storeRows(journal, grain, changes),
    malthouse: malthouseBand(journal, slots),
    malt: maltBand(journal, malt),
    brews: brewMarks(journal),
    tanks: tankBand(journal),
    graph: graphOf(journal),
    oldDays,
    runWorth: explained.weeks,
    runSlack: explained.slack,
  };
}
