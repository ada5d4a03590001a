import { monthOf } from "../calendar.ts";
import { instant, localDay } from "../zone.ts";
import { openRunBookings } from "../book/book.ts";
import type { BookedRun, RecordedRun } from "../season/records.ts";
import type { Vessel } from "../season/malthouse.ts";
import { maltIsLocked } from "../season/lock.ts";
import { CROPS } from "../season/quantity.ts";
import type { GrainLedger } from "./grain-ledger.ts";
import type { FixedRun, Problem } from "./problem.ts";
import { loadLimits, nightTurns, type Slot, stageLimits, standing, type Times } from "./slots.ts";
import { timesToCome } from "./under-way.ts";
import type { VesselBoard } from "./vessels.ts";

/** What could not be kept of the bookings, with the reason. */
export interface Refusal {
  kind: "run" | "brew" | "order" | "feed load" | "move";
  id: string;
  why: string;
}

/** Runs under way with their times to come, and booked runs that can still be kept; all are put on the board. */
export function fixedRuns(problem: Problem, board: VesselBoard): { fixed: FixedRun[]; refused: Refusal[] } {
  const fixed: FixedRun[] = [];
  const refused: Refusal[] = [];
  const ledger = problem.booked.ledger.clone();
  for (const run of problem.book.runsUnderWay) {
    const slot = slotOfRecord(problem, run);
    if (!slot) {
      refused.push({ kind: "run", id: run.id, why: "its malt or its vessels are not known any more" });
      continue;
    }
    board.put(slot, cropOf(problem, run.draws[0]?.lotId));
    fixed.push({
      id: run.id,
      standing: "under way",
      slot,
      draws: drawsOf(problem, run),
      locked: lockedOf(problem, run),
    });
  }
  const bookings = [...openRunBookings(problem.season)].sort((a, b) => a.steepInAt < b.steepInAt ? -1 : 1);
  for (const run of bookings) {
    const refuse = (why: string) => refused.push({ kind: "run", id: run.id, why });
    if (instant(problem.season.zone, run.steepInAt) < problem.book.asOfMinute) {
      refuse("its start is past and nobody wrote that it was made");
      continue;
    }
    const slot = slotOfBooking(problem, run);
    if (!slot) {
      refuse("its hand-overs, vessels or profile do not fit");
      continue;
    }
    const crop = cropOf(problem, run.draws[0]?.lotId);
    const why = reasonAgainst(problem, run, slot, ledger.clone()) ??
      (board.fits(slot, crop) ? null : "a vessel is taken or not yet clean");
    if (why !== null) {
      refuse(why);
      continue;
    }
    for (const draw of run.draws) ledger.take(draw.lotId, draw.storeId, slot.steepDay, draw.massG);
    board.put(slot, crop);
    fixed.push({
      id: run.id,
      standing: "booked",
      slot,
      draws: drawsOf(problem, run),
      locked: lockedOf(problem, run),
    });
  }
  return { fixed, refused };
}

function drawsOf(problem: Problem, run: BookedRun | RecordedRun): FixedRun["draws"] {
  return run.draws.map((draw) => ({ ...draw, lot: problem.lots.findIndex((lot) => lot.id === draw.lotId) }));
}

function lockedOf({ season }: Problem, { maltId, draws }: BookedRun | RecordedRun): boolean {
  return maltIsLocked(season, maltId, draws.map((draw) => draw.lotId));
}

function cropOf(problem: Problem, lotId: string | undefined): number {
  return Math.max(0, problem.lots.find((lot) => lot.id === lotId)?.crop ?? 0);
}

function slotFor(
  problem: Problem,
  run: BookedRun | RecordedRun,
  times: Times,
  extras: readonly number[],
): Slot | null {
  const { season } = problem;
  const malt = season.maltTypes.findIndex((one) => one.id === run.maltId);
  const vessels = (["steep", "bed", "kiln"] as const).map((stage) =>
    season.vessels.findIndex((one) => one.id === run.vesselIds[stage])
  );
  const made = season.maltTypes[malt]?.made;
  if (malt < 0 || vessels.some((index) => index < 0) || made?.from !== "grain") return null;
  const steepDay = localDay(season.zone, times[0]);
  const [steep, bed, kiln] = vessels.map((index) => season.vessels[index] as Vessel) as [
    Vessel,
    Vessel,
    Vessel,
  ];
  return {
    index: -1,
    malt,
    profileId: run.profileId,
    vessels: vessels as [number, number, number],
    times,
    steepDay,
    stripDay: localDay(season.zone, times[3]),
    month: monthOf(steepDay),
    ...nightTurns(season, problem.attendance, bed, times, problem.book.asOfMinute),
    extras,
    ...loadLimits([steep, bed, kiln], made, monthOf(steepDay), CROPS),
  };
}

function slotOfRecord(problem: Problem, run: RecordedRun): Slot | null {
  const { season } = problem;
  const malt = season.maltTypes.find((one) => one.id === run.maltId);
  const profile = malt?.made.from === "grain"
    ? malt.made.profiles.find((one) => one.id === run.profileId)
    : undefined;
  if (!profile || malt?.made.from !== "grain") return null;
  const known = [run.steepInAt, run.castAt, run.kilnAt].filter((at) => at !== undefined).map((at) =>
    instant(season.zone, at)
  );
  const month = monthOf(localDay(season.zone, known[0] as number));
  const { times, extras } = timesToCome(problem, run, stageLimits(profile, malt.made, month), known);
  return slotFor(problem, run, times, extras);
}

function slotOfBooking(problem: Problem, run: BookedRun): Slot | null {
  const { zone } = problem.season;
  const times = [run.steepInAt, run.castAt, run.kilnAt, run.stripAt].map((at) =>
    instant(zone, at)
  ) as unknown as Times;
  const extras = extrasUsed(problem, times);
  return extras ? slotFor(problem, run, times, extras) : null;
}

/** Extra windows these hand-overs use, or null when one falls where nobody is. */
function extrasUsed(problem: Problem, times: Times): number[] | null {
  const extras: number[] = [];
  const handOvers = ["steepIn", "castToBed", "kilnLoading", "strip"] as const;
  for (let i = 0; i < 4; i++) {
    const minute = times[i] as number;
    const inside = problem.attendance.staffed[handOvers[i] as (typeof handOvers)[number]]
      .filter((stretch) => stretch.from <= minute && minute <= stretch.to);
    if (inside.length === 0) return null;
    if (!inside.some((stretch) => stretch.extra < 0)) extras.push((inside[0] as { extra: number }).extra);
  }
  return extras;
}

/** Why a booked run cannot be kept, or null. What it draws is taken from `ledger`. */
function reasonAgainst(
  problem: Problem,
  run: BookedRun,
  slot: Slot,
  ledger: GrainLedger,
): string | null {
  const { season } = problem;
  const made = season.maltTypes[slot.malt]?.made;
  const profile = made?.from === "grain" ? made.profiles.find((one) => one.id === run.profileId) : undefined;
  if (made?.from !== "grain" || !profile) return "its profile is not one of the malt's";
  const limits = stageLimits(profile, made, slot.month);
  for (let stage = 0; stage < 3; stage++) {
    const hours = ((slot.times[stage + 1] as number) - (slot.times[stage] as number)) / 60;
    const limit = limits[stage] as { least: number; greatest: number };
    if (hours < limit.least || hours > limit.greatest) {
      return "a stage is shorter or longer than its profile allows";
    }
  }
  const vessels = slot.vessels.map((index) => season.vessels[index] as Vessel) as [Vessel, Vessel, Vessel];
  if (!standing(season, problem.attendance, vessels, slot.times)) {
    return "a vessel is closed, or nobody looks in often enough";
  }
  let clean = 0;
  for (const draw of run.draws) {
    const lot = problem.lots.find((one) => one.id === draw.lotId);
    const clock = lot?.clocks[slot.malt];
    if (!lot || !clock) return "the lot cannot be made into this malt";
    if (lot.lot.analyses.some((one) => one.resultOn === undefined)) return "the lot awaits a result";
    if (clock.firstDay === null || slot.steepDay < clock.firstDay) return "the lot is not awake by then";
    if (slot.steepDay > clock.lastDay) return "the lot is too old by then";
    if (!ledger.take(draw.lotId, draw.storeId, slot.steepDay, draw.massG)) return "the grain is not there";
    clean += draw.massG - Math.round(draw.massG * made.screeningLoss);
  }
  const crop = cropOf(problem, run.draws[0]?.lotId);
  if (clean > (slot.greatestG[crop] as number)) return "the load is greater than a vessel takes";
  if (clean < (slot.leastG[crop] as number)) return "the load is less than a vessel needs";
  return null;
}
