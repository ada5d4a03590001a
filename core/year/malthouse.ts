import { dayNumber } from "../calendar.ts";
import type { Season } from "../season/season.ts";
import { instant } from "../zone.ts";
import { nodeId } from "./graph.ts";
import { clockDay, type Journal } from "./journal.ts";
import type { RunFact } from "./journal-runs.ts";
import { stageTimes } from "./journal-runs.ts";
import type { Slots } from "./slots.ts";
import { VesselGaps } from "./vessel-gaps.ts";
import { fullStretches } from "./vessel-limit.ts";
import type { MalthouseBand, RunMark, VesselRow } from "./malthouse-band.ts";
import type { Span } from "./marks.ts";

/** Night is drawn from 18:00 to 6:00. */
const NIGHT_FROM = 18 / 24;
const NIGHT_TO = 6 / 24;

/** The malthouse band. */
export function malthouseBand(journal: Journal, slots: Slots): MalthouseBand {
  const { season } = journal;
  const use = season.vessels.map((vessel) => ({
    soFar: useShare(journal, vessel.id, season.positionAt, season.asOf),
    ahead: useShare(journal, vessel.id, season.asOf, `${season.horizonEnd}T23:59`),
  }));
  const busiest = new Map(season.vessels.map((vessel, at) => [vessel.id, use[at]!.ahead ?? 0]));
  const full = fullStretches(journal, slots, busiest);
  const gaps = new VesselGaps(journal, slots);
  return {
    runs: journal.runs.map((run, at) => runMark(season, run, at + 1)),
    vessels: season.vessels.map((vessel, at): VesselRow => ({
      id: vessel.id,
      name: vessel.name,
      stages: vessel.stages,
      closures: vessel.closures.map((one) => ({
        start: clockDay(one.from),
        end: clockDay(one.to),
        reason: one.reason,
      })),
      useSoFar: use[at]!.soFar,
      useAhead: use[at]!.ahead,
      full: full.get(vessel.id) ?? [],
      gaps: vessel.stages.includes("bed") || full.has(vessel.id) ? gaps.of(vessel) : [],
    })),
    pauses: season.roster.closed.map((one) => ({
      from: dayNumber(one.from),
      to: dayNumber(one.to),
      handOvers: one.handOvers,
      reason: one.reason,
    })),
  };
}

function runMark(season: Season, run: RunFact, number: number): RunMark {
  const lots = run.draws.flatMap((draw) => season.lots.find((lot) => lot.id === draw.lotId) ?? []);
  const malt = season.maltTypes.find((one) => one.id === run.maltId);
  const profile = malt?.made.from === "grain"
    ? malt.made.profiles.find((one) => one.id === run.profileId)
    : undefined;
  const stages = stageTimes(run).map(({ stage, vesselId, from, to }) => ({
    stage,
    vesselId,
    start: clockDay(from),
    end: clockDay(to),
  }));
  return {
    id: run.id,
    node: nodeId("run", run.id),
    number,
    standing: run.standing,
    maltId: run.maltId,
    maltName: malt?.name ?? run.maltId,
    crop: lots[0]?.crop ?? "barley",
    letters: lots.map((lot) => lot.letter).join("+"),
    lotIds: run.draws.map((draw) => draw.lotId),
    drawnG: run.draws.reduce((sum, draw) => sum + draw.massG, 0),
    cleanG: run.cleanG,
    profileName: profile?.name ?? "",
    stages,
    nights: stages.filter((one) => one.stage === "kiln").flatMap(nightsOf),
    outputs: run.outputs.map((one) => ({
      batchId: one.batchId,
      node: nodeId("batch", one.batchId),
      maltId: one.maltId,
      maltName: season.maltTypes.find((type) => type.id === one.maltId)?.name ?? one.maltId,
      massG: one.massG,
      readyDay: one.readyDay,
      lastDay: one.lastDay,
    })),
    note: run.note,
  };
}

function nightsOf({ start, end }: Span): Span[] {
  const nights: Span[] = [];
  for (let day = Math.floor(start) - 1; day <= Math.floor(end); day++) {
    const from = Math.max(start, day + NIGHT_FROM);
    const to = Math.min(end, day + 1 + NIGHT_TO);
    if (from < to) nights.push({ start: from, end: to });
  }
  return nights;
}

/** Share of a vessel's open time between two readings that loads and the cleaning after them take; null when none is open. */
function useShare(journal: Journal, vesselId: string, fromAt: string, toAt: string): number | null {
  const { season } = journal;
  const vessel = season.vessels.find((one) => one.id === vesselId)!;
  const from = instant(season.zone, fromAt), to = instant(season.zone, toAt);
  const inside = (start: number, end: number) => Math.max(0, Math.min(end, to) - Math.max(start, from));
  let open = Math.max(0, to - from);
  for (const one of vessel.closures) {
    open -= inside(instant(season.zone, one.from), instant(season.zone, one.to));
  }
  if (open <= 0) return null;
  let taken = 0;
  for (const run of journal.runs) {
    const stages = stageTimes(run).filter((one) => one.vesselId === vesselId);
    stages.forEach((stage, at) => {
      const keeps = stages[at + 1]?.from === stage.to;
      const end = instant(season.zone, stage.to) + (keeps ? 0 : vessel.cleaningHours * 60);
      taken += inside(instant(season.zone, stage.from), end);
    });
  }
  return Math.min(1, taken / open);
}
