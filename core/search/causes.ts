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

/** A start that some lot is fit for: the least load of each such lot, and, when the vessels do not take it, the stages that refuse. */
interface Start {
  slot: Slot;
  lots: { lot: number; leastG: number }[];
  open: boolean;
  refused: readonly boolean[];
}

/** What the starts of a malt up to a strip day come to. */
interface Tally {
  stripDay: number;
  /** Steep-in day of the latest of them. */
  lastSteep: number;
  /** Starts that some lot is fit for, those of them that the vessels take, and what each stage refuses. */
  fitting: number;
  open: number;
  refusals: readonly [number, number, number];
  /** The latest strip day of an open start that a full load is left for; null without one. */
  loadedStrip: number | null;
}

/** The starts of each malt beside the runs that are planned, worked out when first asked for. */
export class Starts {
  private readonly known = new Map<number, Start[]>();
  private readonly tallies = new Map<number, Tally[]>();

  constructor(private readonly problem: Problem, private readonly board: VesselBoard) {}

  /** What the starts of a malt stripped by a day come to, with what is left of the lots; null when there are none. */
  strippedBy(material: number, day: number, grainG: Free["grainG"]): Tally | null {
    let tallies = this.tallies.get(material);
    if (!tallies) this.tallies.set(material, tallies = tallied(this.of(material), grainG));
    let low = 0;
    let high = tallies.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((tallies[middle] as Tally).stripDay <= day) low = middle + 1;
      else high = middle;
    }
    return tallies[low - 1] ?? null;
  }

  /** Starts of a malt by steep-in day. */
  private of(material: number): readonly Start[] {
    const known = this.known.get(material);
    if (known) return known;
    const { problem, board } = this;
    const loss = problem.materials[material]?.made?.screeningLoss ?? 0;
    const able = ableLots(problem, material);
    const drawn = new Map<number, number>();
    const drawnOf = (leastG: number) => {
      const known = drawn.get(leastG) ?? drawnFor(leastG, loss);
      drawn.set(leastG, known);
      return known;
    };
    // Slots of a day that are loaded alike take the same lots.
    const alike = new Map<readonly number[], { steepDay: number; lots: Start["lots"]; crops: number[] }>();
    const takenBy = (slot: Slot) => {
      const known = alike.get(slot.greatestG);
      if (known?.steepDay === slot.steepDay) return known;
      const lots = able.filter((lot) => lotFits(problem, slot, lot.index)).map((lot) => ({
        lot: lot.index,
        leastG: drawnOf(slot.leastG[lot.crop] as number),
      }));
      const crops = [...new Set(lots.map((one) => problem.lots[one.lot]?.crop ?? 0))];
      const found = { steepDay: slot.steepDay, lots, crops };
      alike.set(slot.greatestG, found);
      return found;
    };
    const starts = (problem.slotsByMalt[material] ?? []).map((slot): Start => {
      const { lots, crops } = takenBy(slot);
      const open = crops.some((crop) => board.fits(slot, crop));
      const refused = lots.length === 0 || open
        ? NONE
        : ([0, 1, 2] as const).map((stage) => crops.every((crop) => board.refuses(slot, crop, stage)));
      return { slot, lots, open, refused };
    });
    this.known.set(material, starts);
    return starts;
  }
}

/** Running sums over the starts, one for each strip day. */
function tallied(starts: readonly Start[], grainG: Free["grainG"]): Tally[] {
  const order = starts.map((_, at) => at).sort((a, b) =>
    (starts[a] as Start).slot.stripDay - (starts[b] as Start).slot.stripDay || a - b
  );
  const tallies: Tally[] = [];
  const refusals: [number, number, number] = [0, 0, 0];
  let last = -1, lastSteep = 0, fitting = 0, open = 0;
  let loadedStrip: number | null = null;
  order.forEach((at, i) => {
    const { slot, lots, open: isOpen, refused } = starts[at] as Start;
    if (at > last) [last, lastSteep] = [at, slot.steepDay];
    if (lots.length > 0) fitting++;
    if (isOpen) open++;
    if (isOpen && lots.some(({ lot, leastG }) => grainG(lot) >= leastG)) loadedStrip = slot.stripDay;
    for (const stage of [0, 1, 2] as const) if (refused[stage]) refusals[stage]++;
    const { stripDay } = slot;
    if (starts[order[i + 1] ?? -1]?.slot.stripDay === stripDay) return;
    tallies.push({ stripDay, lastSteep, fitting, open, loadedStrip, refusals: [...refusals] });
  });
  return tallies;
}

const NONE: readonly boolean[] = [];

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
