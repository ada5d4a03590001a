import { addDays, dateOf, dayNumber, monthOf } from "../calendar.ts";
import { totalLossDm } from "../physics/malting-balance.ts";
import type { Plan, PlanRun } from "../plan/plan.ts";
import { maltIsLocked } from "../season/lock.ts";
import type { BookedRun, Draw, RecordedRun, VesselIds } from "../season/records.ts";
import type { MaltType, Stage } from "../season/malthouse.ts";
import type { Season } from "../season/season.ts";
import { addElapsedHours } from "../zone.ts";
import type { MarkStanding } from "./marks.ts";

/** A run as far as it is known. Hand-overs are wall clock readings; null when the run ended before. */
export interface RunFact {
  readonly id: string;
  readonly standing: MarkStanding | "dumped";
  readonly draws: readonly Draw[];
  /** Its grain was out of the bins before the opening position. */
  readonly drawnBefore: boolean;
  readonly maltId: string;
  readonly profileId: string;
  readonly vesselIds: VesselIds;
  readonly steepInAt: string;
  readonly castAt: string | null;
  readonly kilnAt: string | null;
  readonly stripAt: string | null;
  /** When it left the malthouse: stripped or given up. */
  readonly endAt: string;
  readonly screeningsG: number;
  readonly cleanG: number;
  readonly culmsG: number;
  /** Malt that goes into the store; nothing of a dumped run or of one that went to feed. */
  readonly outputs: readonly RunOut[];
  /** Whether it was under way or stripped after the opening position, so that its malt is not in the opening stock. */
  readonly stripsAfterOpening: boolean;
  readonly note: string;
}

export interface RunOut {
  readonly batchId: string;
  readonly maltId: string;
  readonly massG: number;
  /** Infinity for malt that is held, or of which a lot has failed since. */
  readonly readyDay: number;
  readonly lastDay: number;
}

/** Runs in order of steep-in. */
export function runsOf(season: Season, plan: Plan | null): RunFact[] {
  const planned = new Map((plan?.runs ?? []).map((one) => [one.id, one]));
  const recorded = new Set(season.records.runs.map((one) => one.id));
  const others = plan === null
    ? season.bookings.runs.filter((one) => !recorded.has(one.id)).map((one) => bookedFact(season, one))
    : plan.runs.filter((one) => !recorded.has(one.id)).map((one) => planFact(season, one, one.standing));
  return [...season.records.runs.map((one) => recordedFact(season, one, planned.get(one.id))), ...others]
    .sort((a, b) => a.steepInAt < b.steepInAt ? -1 : a.steepInAt > b.steepInAt ? 1 : 0);
}

function planFact(season: Season, run: PlanRun, standing: MarkStanding): RunFact {
  return {
    id: run.id,
    standing,
    draws: run.draws,
    drawnBefore: run.steepInAt < season.positionAt,
    maltId: run.maltId,
    profileId: run.profileId,
    vesselIds: run.vesselIds,
    steepInAt: run.steepInAt,
    castAt: run.castAt,
    kilnAt: run.kilnAt,
    stripAt: run.stripAt,
    endAt: run.stripAt,
    screeningsG: run.screeningsG,
    cleanG: run.cleanG,
    culmsG: run.culmsG,
    outputs: run.outputs.map((one) => ({
      batchId: one.batchId,
      maltId: one.maltId,
      massG: one.massG,
      readyDay: dayNumber(one.readyOn),
      lastDay: dayNumber(one.bestBefore),
    })),
    stripsAfterOpening: true,
    note: "",
  };
}

function bookedFact(season: Season, run: BookedRun): RunFact {
  const book = bookWeights(season, run.maltId, run.draws);
  return {
    ...run,
    standing: "booked",
    drawnBefore: false,
    endAt: run.stripAt,
    ...book,
    outputs: expectedOutputs(season, run.id, run.maltId, book.maltG, run.stripAt),
    stripsAfterOpening: true,
    note: run.note ?? "",
  };
}

function recordedFact(season: Season, run: RecordedRun, planned: PlanRun | undefined): RunFact {
  const over = run.endedAt ?? run.stripAt;
  const expected = planned ?? expectedHandOvers(season, run);
  const castAt = run.castAt ?? (run.endedAt === undefined ? expected.castAt : null);
  const kilnAt = run.kilnAt ?? (run.endedAt === undefined ? expected.kilnAt : null);
  const stripAt = run.stripAt ?? (run.endedAt === undefined ? expected.stripAt : null);
  const endAt = run.endedAt ?? stripAt ?? run.steepInAt;
  const book = bookWeights(season, run.maltId, run.draws);
  const lost = run.endedAt !== undefined || run.outcome === "dumped" || run.outcome === "feed";
  const expects = lost
    ? []
    : run.stripAt !== undefined
    ? run.outputs.map((one) => datedOutput(season, one, dateOf(run.stripAt!), run.outcome === "held"))
    : planned !== undefined
    ? planFact(season, planned, "under way").outputs
    : expectedOutputs(season, run.id, run.maltId, book.maltG, endAt);
  const failed = maltIsLocked(season, run.maltId, run.draws.map((draw) => draw.lotId));
  return {
    id: run.id,
    standing: run.endedAt !== undefined || run.outcome === "dumped"
      ? "dumped"
      : over === undefined
      ? "under way"
      : "done",
    draws: run.draws,
    drawnBefore: run.steepInAt < season.positionAt,
    maltId: run.maltId,
    profileId: run.profileId,
    vesselIds: run.vesselIds,
    steepInAt: run.steepInAt,
    castAt,
    kilnAt,
    stripAt,
    endAt,
    screeningsG: book.screeningsG,
    cleanG: book.cleanG,
    culmsG: book.culmsG,
    outputs: failed ? expects.map((one) => ({ ...one, readyDay: Infinity })) : expects,
    stripsAfterOpening: endAt >= season.positionAt,
    note: run.note ?? "",
  };
}

/** Hand-overs still to come, by the profile's usual hours; one that is overdue is expected at as-of. */
function expectedHandOvers(
  season: Season,
  run: RecordedRun,
): { castAt: string; kilnAt: string; stripAt: string } {
  const malt = season.maltTypes.find((one) => one.id === run.maltId);
  const made = malt?.made.from === "grain" ? malt.made : undefined;
  const profile = made?.profiles.find((one) => one.id === run.profileId);
  const extra = made?.monthExtraKilnHours?.[monthOf(dayNumber(dateOf(run.steepInAt))) - 1] ?? 0;
  const after = (start: string, hours: number) => {
    const at = addElapsedHours(season.zone, start, hours);
    return at < season.asOf ? season.asOf : at;
  };
  const castAt = run.castAt ?? after(run.steepInAt, profile?.steep.usual ?? 0);
  const kilnAt = run.kilnAt ?? after(castAt, profile?.bed.usual ?? 0);
  return { castAt, kilnAt, stripAt: after(kilnAt, (profile?.kiln.usual ?? 0) + extra) };
}

/** Weights of a run by the malt's book losses. */
export function bookWeights(
  season: Season,
  maltId: string,
  draws: readonly Draw[],
): { screeningsG: number; cleanG: number; culmsG: number; maltG: number } {
  const drawnG = draws.reduce((sum, one) => sum + one.massG, 0);
  const malt = season.maltTypes.find((one) => one.id === maltId);
  if (malt?.made.from !== "grain") return { screeningsG: 0, cleanG: drawnG, culmsG: 0, maltG: 0 };
  const { made } = malt;
  const screeningsG = Math.round(drawnG * made.screeningLoss);
  const cleanG = drawnG - screeningsG;
  const cleanDmG = draws.reduce((sum, one) => {
    const moistureWb = season.lots.find((lot) => lot.id === one.lotId)?.moistureWb ?? 0;
    return sum + one.massG * (1 - moistureWb);
  }, 0) * (drawnG === 0 ? 0 : cleanG / drawnG);
  return {
    screeningsG,
    cleanG,
    culmsG: Math.round(cleanDmG * made.rootletLossDm / (1 - made.culmMoistureWb)),
    maltG: cleanDmG * (1 - totalLossDm(made)) / (1 - malt.maltMoistureWb),
  };
}

function expectedOutputs(
  season: Season,
  runId: string,
  maltId: string,
  maltG: number,
  stripAt: string,
): RunOut[] {
  const malt = season.maltTypes.find((one) => one.id === maltId);
  if (malt?.made.from !== "grain") return [];
  const besides = malt.made.alsoGives.reduce((sum, one) => sum + one.share, 0);
  const parts = [{ maltId, share: 1 - besides }, ...malt.made.alsoGives];
  return parts.map((part, at) => {
    const out = {
      batchId: at === 0 ? `${runId}-malt` : `${runId}-malt-${at + 1}`,
      maltId: part.maltId,
      massG: Math.round(maltG * part.share),
    };
    return datedOutput(season, out, dateOf(stripAt), false);
  });
}

function datedOutput(
  season: Season,
  out: { batchId: string; maltId: string; massG: number },
  strippedOn: string,
  held: boolean,
): RunOut {
  const malt: MaltType | undefined = season.maltTypes.find((one) => one.id === out.maltId);
  return {
    ...out,
    // Malt held for a result is not ready on any day until somebody releases it.
    readyDay: held ? Infinity : dayNumber(addDays(strippedOn, malt?.restDays ?? 0)),
    lastDay: dayNumber(addDays(strippedOn, malt?.shelfLifeDays ?? 0)),
  };
}

/** The stages a run really has, with their wall clock ends; a dumped run's last stage ends when it was given up. */
export function stageTimes(run: RunFact): { stage: Stage; vesselId: string; from: string; to: string }[] {
  const marks = [
    { stage: "steep" as const, from: run.steepInAt, to: run.castAt },
    { stage: "bed" as const, from: run.castAt, to: run.kilnAt },
    { stage: "kiln" as const, from: run.kilnAt, to: run.stripAt },
  ];
  return marks.flatMap(({ stage, from, to }) =>
    from === null ? [] : [{ stage, vesselId: run.vesselIds[stage], from, to: to ?? run.endAt }]
  );
}
