import type { Cause } from "../plan/plan.ts";
import { lotFits } from "./candidate.ts";
import type { DateBoard } from "./dates.ts";
import type { Demand, Problem } from "./problem.ts";
import type { VesselBoard } from "./vessels.ts";

/** The material a brew could not be met with on its day. */
export interface Lack {
  material: number;
  day: number;
}

interface Known {
  problem: Problem;
  candidate: { day: Int32Array };
  board: VesselBoard;
  dates?: DateBoard;
}

/** A first cause for a demand that is not made, in the trade's words. `noRoom` when an order was left out for want of room. */
export function causeOf(
  known: Known,
  demand: Demand,
  lack: Lack | null,
  noRoom: boolean,
): { cause: Cause; why: string } {
  const { problem } = known;
  const named = problem.season.brews.find((brew) => brew.id === demand.id)?.id ?? demand.id;
  if (demand.days.length === 0) {
    const held = demand.wanted < problem.freeDay;
    return held
      ? { cause: "held days", why: `${named} was wanted inside the days that are held and is not booked` }
      : { cause: "brewhouse full", why: `${named} has no day in its window on which the brewhouse is open` };
  }
  if ((known.candidate.day[demand.index] as number) < 0) {
    const fits = problem.season.tanks.some((tank) => tank.volumeL >= demand.volumeL / 2);
    const perDay = problem.season.brewhouse.brewsPerDay;
    return perDay === 0 ? { cause: "brewhouse full", why: `the brewhouse makes no brew a day` } : {
      cause: "tanks full",
      why: fits
        ? `no tank is free for ${named} on any day of its window`
        : `no tank is large enough for ${named}`,
    };
  }
  const material = lack?.material ?? demand.lines[0]?.material ?? -1;
  const day = lack?.day ?? known.candidate.day[demand.index] as number;
  const of = problem.materials[material];
  if (noRoom && lack && of && of.offers.length > 0) {
    const name = of.malt?.name ?? of.crop ?? "an ingredient";
    return { cause: "malt store full", why: `the malt store has no room for an order of ${name}` };
  }
  return maltCause(known, material, day);
}

/** Why home malt of a material could not be there by a day. */
export function maltCause(
  known: Pick<Known, "problem" | "board">,
  material: number,
  day: number,
): { cause: Cause; why: string } {
  const { problem, board } = known;
  const of = problem.materials[material];
  const name = of?.malt?.name ?? of?.crop ?? "an ingredient";
  if (!of?.made) {
    const offered = (of?.offers.length ?? 0) > 0;
    return {
      cause: "no supply in time",
      why: offered
        ? `no order of ${name} can arrive by then`
        : `nobody offers ${name} and the farm does not make it`,
    };
  }
  const slots = (problem.slotsByMalt[material] ?? []).filter((slot) => slot.stripDay + of.restDays <= day);
  const able = problem.lots.filter((lot) => lot.clocks[material] && lot.totalG > 0);
  if (able.length === 0) return { cause: "no grain", why: `no lot can be made into ${name}` };
  if (slots.length === 0) {
    const first = problem.slotsByMalt[material]?.[0];
    return first && first.stripDay + of.restDays > day
      ? {
        cause: "no malt in time",
        why: `the first run of ${name} that can still be started is ready too late`,
      }
      : { cause: "nobody there", why: `no run of ${name} has all its hand-overs in staffed hours` };
  }
  const fitting = slots.filter((slot) => able.some((lot) => lotFits(problem, slot, lot.index)));
  if (fitting.length === 0) {
    const clocks = able.map((lot) => lot.clocks[material]);
    const blocked = (["awaiting result", "not awake", "too old"] as const).find((by) =>
      clocks.some((clock) => clock?.blockedBy === by)
    );
    const last = slots[slots.length - 1];
    const asleep = clocks.some((clock) =>
      clock?.firstDay !== null && (clock?.firstDay ?? Infinity) > (last?.steepDay ?? 0)
    );
    const cause = blocked ?? (asleep ? "not awake" : "too old");
    return { cause, why: `no lot for ${name} is fit for steeping in time: ${cause}` };
  }
  const crop = able[0]?.crop ?? 0;
  const free = fitting.filter((slot) => board.fits(slot, crop));
  if (free.length > 0) return { cause: "no grain", why: `the lots for ${name} are used up by then` };
  const names = ["steep full", "bed full", "kiln full"] as const;
  const refusals = names.map((_, stage) =>
    fitting.filter((slot) => board.refuses(slot, crop, stage as 0 | 1 | 2)).length
  );
  const worst = refusals.indexOf(Math.max(...refusals));
  const cause = names[worst] ?? "bed full";
  return {
    cause,
    why: `every start that would give ${name} in time finds the ${cause.replace(" full", "")} taken`,
  };
}
