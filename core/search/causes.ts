import type { Cause } from "../plan/plan.ts";
import { lotFits } from "./candidate.ts";
import { drawnFor } from "./loads.ts";
import type { Demand, Problem, ProblemLot } from "./problem.ts";
import type { Slot } from "./slots.ts";
import type { VesselBoard } from "./vessels.ts";

/** The material a brew could not be met with on its day. */
export interface Lack {
  material: number;
  day: number;
}

/** What the plan leaves free for one more brew or run. */
export interface Free {
  /** Grams of a lot that nobody takes. */
  grainG: (lot: number) => number;
  /** By the first day: the fewest places of the malt store that are free on any day from it to before `to`. */
  places: (to: number) => (from: number) => number;
  /** Whether brewhouse and tanks take a demand on a day beside the brews that are made. */
  takes: (demand: number, day: number) => boolean;
  /** Whether the brewhouse alone takes one more brew on a day. */
  brewhouse: (day: number) => boolean;
}

interface Known {
  problem: Problem;
  candidate: { day: Int32Array };
  free: Free;
  starts: Starts;
}

/** What the starts of a malt that are stripped by a day come to. */
interface Tally {
  /** Steep-in day of the latest of them. */
  lastSteep: number;
  /** Starts that some lot is fit for, those of them that the vessels take, and what each stage refuses. */
  fitting: number;
  open: number;
  refusals: [number, number, number];
  /** The latest strip day of an open start that a full load is left for; null without one. */
  loadedStrip: number | null;
}

/** Tallies for each day from the first on which a start is stripped to the last. */
interface Tallies {
  firstDay: number;
  byDay: readonly Tally[];
}

/** The starts of each malt beside the runs that are planned, worked out when first asked for. */
export class Starts {
  private readonly known = new Map<number, Tallies>();

  constructor(private readonly problem: Problem, private readonly board: VesselBoard) {}

  /** What the starts of a malt stripped by a day come to, with what is left of the lots; null when there are none. */
  strippedBy(material: number, day: number, grainG: Free["grainG"]): Tally | null {
    let tallies = this.known.get(material);
    if (!tallies) this.known.set(material, tallies = tallied(this.problem, this.board, material, grainG));
    const { firstDay, byDay } = tallies;
    return byDay[Math.min(day - firstDay, byDay.length - 1)] ?? null;
  }
}

/** All starts of a malt put to their strip day, and each day's added to those before it. */
function tallied(problem: Problem, board: VesselBoard, material: number, grainG: Free["grainG"]): Tallies {
  const slots = problem.slotsByMalt[material] ?? [];
  let firstDay = Infinity, lastDay = -Infinity;
  for (const { stripDay } of slots) {
    if (stripDay < firstDay) firstDay = stripDay;
    if (stripDay > lastDay) lastDay = stripDay;
  }
  if (slots.length === 0) return { firstDay: 0, byDay: [] };
  const byDay = Array.from({ length: lastDay - firstDay + 1 }, emptyTally);
  const takenBy = takers(problem, material, grainG);
  for (const slot of slots) {
    const tally = byDay[slot.stripDay - firstDay] as Tally;
    tally.lastSteep = Math.max(tally.lastSteep, slot.steepDay);
    const { crops, isLoaded } = takenBy(slot);
    if (crops.length === 0) continue;
    tally.fitting++;
    if (crops.some((crop) => board.fits(slot, crop))) {
      tally.open++;
      if (isLoaded) tally.loadedStrip = slot.stripDay;
      continue;
    }
    for (const stage of [0, 1, 2] as const) {
      if (crops.every((crop) => board.refuses(slot, crop, stage))) tally.refusals[stage]++;
    }
  }
  for (let at = 1; at < byDay.length; at++) addTo(byDay[at] as Tally, byDay[at - 1] as Tally);
  return { firstDay, byDay };
}

function emptyTally(): Tally {
  return { lastSteep: 0, fitting: 0, open: 0, refusals: [0, 0, 0], loadedStrip: null };
}

function addTo(tally: Tally, before: Tally): void {
  tally.lastSteep = Math.max(tally.lastSteep, before.lastSteep);
  tally.fitting += before.fitting;
  tally.open += before.open;
  for (const stage of [0, 1, 2] as const) tally.refusals[stage] += before.refusals[stage];
  tally.loadedStrip ??= before.loadedStrip;
}

/** The crops of the lots that a slot takes, and whether one of these lots has a full load left. */
interface Takers {
  steepDay: number;
  crops: number[];
  isLoaded: boolean;
}

/** Slots of a day that are loaded alike take the same lots, and are looked at once. */
function takers(problem: Problem, material: number, grainG: Free["grainG"]): (slot: Slot) => Takers {
  const loss = problem.materials[material]?.made?.screeningLoss ?? 0;
  const able = ableLots(problem, material);
  const alike = new Map<readonly number[], Takers>();
  return (slot) => {
    const { steepDay, greatestG, leastG } = slot;
    const known = alike.get(greatestG);
    if (known?.steepDay === steepDay) return known;
    const lots = able.filter((lot) => lotFits(problem, slot, lot.index));
    const found = {
      steepDay,
      crops: [...new Set(lots.map((lot) => lot.crop))],
      isLoaded: lots.some((lot) => grainG(lot.index) >= drawnFor(leastG[lot.crop] as number, loss)),
    };
    alike.set(greatestG, found);
    return found;
  };
}

/** Lots that there is or will be something of and that a malt may be made of. */
function ableLots(problem: Problem, material: number): readonly ProblemLot[] {
  const of = problem.materials[material];
  return problem.lots.filter((one) =>
    one.clocks[of?.maltIndex ?? -1] && one.lot.owner === of?.owner && one.totalG > 0
  );
}

/** A first cause for a demand that is not made, in the trade's words. `noRoom` when an order was left out for want of room. */
export function causeOf(
  known: Known,
  demand: Demand,
  lack: Lack | null,
  noRoom: boolean,
): { cause: Cause; why: string } {
  const { problem } = known;
  const named = demand.id;
  if (demand.days.length === 0) {
    const held = demand.wanted < problem.freeDay;
    return held
      ? { cause: "held days", why: `${named} was wanted inside the days that are held and is not booked` }
      : { cause: "brewhouse full", why: `${named} has no day in its window on which the brewhouse is open` };
  }
  const dated = known.candidate.day[demand.index] as number;
  const on = dated >= 0 ? dated : demand.days.find((day) => known.free.takes(demand.index, day));
  if (on === undefined) {
    const [largestL = 0, secondL = 0] = problem.season.tanks.map((tank) => tank.volumeL).sort((a, b) =>
      b - a
    );
    const fits = largestL + secondL >= demand.volumeL;
    if (problem.season.brewhouse.brewsPerDay === 0) {
      return { cause: "brewhouse full", why: "the brewhouse makes no brew a day" };
    }
    if (!demand.days.some((day) => known.free.brewhouse(day))) {
      return {
        cause: "brewhouse full",
        why: `the brewhouse has a brew on every day of the window of ${named}`,
      };
    }
    return {
      cause: "tanks full",
      why: fits
        ? `no tank is free for ${named} on any day of its window`
        : `no tank is large enough for ${named}`,
    };
  }
  const of = lack && problem.materials[lack.material];
  if (noRoom && of && of.offers.length > 0) {
    return noPlaceFor(`an order of ${nameOf(problem, lack.material)}`);
  }
  if (lack) return maltCause(known, lack.material, lack.day);
  // Every malt could be there: the first that could not is the cause.
  const causes = demand.lines.filter((line) => problem.materials[line.material]?.malt)
    .map((line) => maltCause(known, line.material, on, line.bookMassG));
  return causes.find((one) => !one.searched) ?? causes[0] ??
    { cause: "no supply in time", why: `nothing that ${named} is made of is there in time` };
}

function nameOf(problem: Problem, material: number): string {
  const of = problem.materials[material];
  return of?.malt?.name ?? of?.crop ?? "an ingredient";
}

function noPlaceFor(what: string): { cause: Cause; why: string } {
  return { cause: "malt store full", why: `the malt store has no room for ${what}` };
}

/** Why home malt of a material, `needG` of it, could not be there by a day; `searched` when nothing stands in the way of a run by itself. */
function maltCause(
  { problem, free, starts }: Known,
  material: number,
  day: number,
  needG = 1,
): { cause: Cause; why: string; searched?: true } {
  const of = problem.materials[material];
  const name = nameOf(problem, material);
  if (!of?.made) {
    const offered = (of?.offers.length ?? 0) > 0;
    return {
      cause: "no supply in time",
      why: offered
        ? `no order of ${name} can arrive by then`
        : `nobody offers ${name} and the farm does not make it`,
    };
  }
  const able = ableLots(problem, material);
  if (able.length === 0) return { cause: "no grain", why: `no lot can be made into ${name}` };
  const tally = starts.strippedBy(material, day - of.restDays, free.grainG);
  if (tally === null) {
    const first = problem.slotsByMalt[material]?.[0];
    return first && first.stripDay + of.restDays > day
      ? {
        cause: "no malt in time",
        why: `the first run of ${name} that can still be started is ready too late`,
      }
      : { cause: "nobody there", why: `no run of ${name} has all its hand-overs in staffed hours` };
  }
  const { fitting, open, loadedStrip, refusals } = tally;
  if (fitting === 0) {
    const clocks = able.map((lot) => lot.clocks[of.maltIndex]);
    const blocked = (["awaiting result", "not awake", "too old"] as const).find((by) =>
      clocks.some((clock) => clock?.blockedBy === by)
    );
    const asleep = clocks.some((clock) =>
      clock?.firstDay !== null && (clock?.firstDay ?? Infinity) > tally.lastSteep
    );
    const cause = blocked ?? (asleep ? "not awake" : "too old");
    return { cause, why: `no lot for ${name} is fit for steeping in time: ${cause}` };
  }
  if (open > 0) {
    if (loadedStrip === null) {
      return { cause: "no grain", why: `no full load of a lot that ${name} can be made of is left by then` };
    }
    // The later it is stripped the shorter it lies.
    const places = Math.ceil(needG / problem.season.maltStore.placeG);
    if (free.places(day)(loadedStrip) < places) {
      return noPlaceFor(`a run of ${name} that would be ready in time`);
    }
  }
  const names = ["steep full", "bed full", "kiln full"] as const;
  const worst = refusals.indexOf(Math.max(...refusals));
  const cause = names[worst] ?? "bed full";
  const stage = cause.replace(" full", "");
  if (open > 0) {
    return {
      cause,
      why: `a run of ${name} would find its own place, but the search found no better plan with it` +
        ((refusals[worst] as number) > 0 ? `; the ${stage} is taken most often` : ""),
      searched: true,
    };
  }
  return {
    cause,
    why: `every start that would give ${name} in time finds the ${stage} taken by runs already planned`,
  };
}
