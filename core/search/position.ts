import { byStart, type Candidate, copyOf, type RunChoice } from "./candidate.ts";
import type { Chance } from "./chance.ts";
import { DateBoard } from "./dates.ts";
import type { Problem } from "./problem.ts";
import type { Slot } from "./slots.ts";
import type { TankBoard } from "./tanks.ts";
import type { VesselBoard } from "./vessels.ts";

/** Takes a change back. */
export type Undo = () => void;

/** Where the search stands: the runs and brew days it changes in place, with the boards that say what is legal beside them. */
export class Position {
  runs: RunChoice[];
  readonly dates: DateBoard;
  readonly substituted: Uint8Array;
  /** Demands that may be brewed on more than one day. */
  readonly moving: readonly number[];
  private readonly slotsOfDay = new Map<number, Slot[]>();

  constructor(
    readonly problem: Problem,
    readonly board: VesselBoard,
    tanks: TankBoard,
    readonly chance: Chance,
    /** The malt store is so small that runs may be loaded less. */
    readonly crowded: boolean,
    start: Candidate,
  ) {
    this.runs = start.runs.slice();
    this.substituted = start.substituted.slice();
    this.dates = new DateBoard(problem, tanks, start.day);
    for (const slot of problem.slots) {
      const list = this.slotsOfDay.get(slot.steepDay) ?? [];
      list.push(slot);
      this.slotsOfDay.set(slot.steepDay, list);
    }
    this.moving = problem.demands.filter((demand) => demand.days.length > 1 && !demand.booked).map((demand) =>
      demand.index
    );
  }

  /** As a candidate that goes on changing with the position. */
  get candidate(): Candidate {
    return { runs: this.runs, day: this.dates.day, substituted: this.substituted };
  }

  /** As a candidate that stays as it is. */
  copy(): Candidate {
    return copyOf(this.candidate);
  }

  /** What may be steeped in on a day. */
  slotsOn(day: number): readonly Slot[] {
    return this.slotsOfDay.get(day) ?? [];
  }
}

/** Sets the runs, in order of their start. */
export function replace(here: Position, runs: RunChoice[]): void {
  here.runs = runs.sort(byStart);
}
