import type { Problem } from "./problem.ts";

/** Grain of one lot lying in one store. */
export interface Pile {
  lot: number;
  store: number;
  massG: number;
}

/** A wish for grain on a day: a run, a brew's raw grain, seed, or a contract. */
export interface Want {
  day: number;
  lot: number;
  massG: number;
  /** The caller's own number for it. */
  key: number;
  /** Taken from a single pile (one of two lots in a run). */
  single: boolean;
  /** Finishes the lot: takes along what rounding would leave of it, at most `ROUNDING_G`. */
  last?: boolean;
  /** The store it must come from, where a booking says so. */
  store?: number;
}

/** What may be left of a lot that is drawn empty, as each move's loss is rounded to the gram. */
export const ROUNDING_G = 2;

/** What a want got, pile by pile. */
export interface Taken {
  key: number;
  lot: number;
  store: number;
  massG: number;
}

interface Took extends Taken {
  before: Took | null;
}

/**
 * Something already decided that changes piles on a day: fills and booked moves first, then what runs and brews take, then moves
 * that clear a store of what is left, loads last.
 */
export interface Change {
  day: number;
  kind: "fill" | "move" | "clear" | "load";
  lot: number;
  store: number;
  toStore: number;
  massG: number;
  lossG: number;
}

const ORDER = { fill: 0, move: 1, clear: 2, load: 3 } as const;

/**
 * The piles at the end of a day, walked forward through wants and changes. Wants of a lot that lies in several stores
 * empty the smallest pile first, so that bins come free early.
 */
export class Piles {
  /** What was taken last; each knows what was taken before it, so that copies share it. */
  private last: Took | null = null;
  /** Grams wanted that were not there, by lot. */
  short = new Map<number, number>();
  private nextWant = 0;
  private nextChange = 0;

  private constructor(
    private readonly problem: Problem,
    private readonly wants: readonly Want[],
    public day: number,
    public piles: Pile[],
    public changes: Change[],
    /** First day on which an empty store may take another lot. */
    readonly freeDay: number[],
    private readonly first: "smallest" | "largest",
    /** By lot, the places of its wants in the list. */
    private readonly wantsOfLot: readonly (readonly number[])[],
  ) {}

  /** The piles as they lie at as-of; which pile of a lot is drawn on first. */
  static atAsOf(problem: Problem, wants: readonly Want[], first: "smallest" | "largest" = "smallest"): Piles {
    const piles = problem.lots.flatMap((lot) =>
      lot.stock.map((one) => ({ lot: lot.index, store: one.store, massG: one.massG }))
    );
    return new Piles(
      problem,
      wants,
      problem.asOfDay,
      piles,
      [],
      problem.stores.map((store) => store.freeDay),
      first,
      placesByLot(problem, wants),
    );
  }

  clone(): Piles {
    const piles: Pile[] = [];
    for (const pile of this.piles) piles.push({ lot: pile.lot, store: pile.store, massG: pile.massG });
    const copy = new Piles(
      this.problem,
      this.wants,
      this.day,
      piles,
      this.changes.slice(),
      this.freeDay.slice(),
      this.first,
      this.wantsOfLot,
    );
    copy.last = this.last;
    if (this.short.size > 0) copy.short = new Map(this.short);
    copy.nextWant = this.nextWant;
    copy.nextChange = this.nextChange;
    return copy;
  }

  /** As they will lie at the end of a later day. */
  at(day: number): Piles {
    const then = this.clone();
    then.advance(day);
    return then;
  }

  /** Adds a decided change; it must lie after the current day. */
  schedule(change: Change): void {
    const { changes } = this;
    let at = changes.length;
    for (; at > this.nextChange; at--) {
      const before = changes[at - 1] as Change;
      if (
        before.day < change.day || (before.day === change.day && ORDER[before.kind] <= ORDER[change.kind])
      ) break;
    }
    changes.splice(at, 0, change);
  }

  /** Walks to the end of `day`. */
  advance(day: number): void {
    for (;;) {
      const want = this.wants[this.nextWant];
      const change = this.changes[this.nextChange];
      const wantDue = want !== undefined && want.day <= day;
      const changeDue = change !== undefined && change.day <= day;
      if (!wantDue && !changeDue) break;
      const changeFirst = changeDue &&
        (!wantDue || change.day < want.day ||
          (change.day === want.day && ORDER[change.kind] < ORDER.clear));
      if (changeFirst) {
        this.nextChange++;
        this.apply(change);
      } else if (want) {
        this.nextWant++;
        this.take(want);
      }
    }
    this.day = Math.max(this.day, day);
  }

  private pileOf(lot: number, store: number): Pile | undefined {
    for (const pile of this.piles) if (pile.lot === lot && pile.store === store) return pile;
    return undefined;
  }

  private drop(pile: Pile, massG: number, day: number): void {
    pile.massG -= massG;
    if (pile.massG > 0) return;
    this.piles.splice(this.piles.indexOf(pile), 1);
    const store = this.problem.stores[pile.store];
    if (store && store.bags === 0) this.freeDay[pile.store] = day + store.turnaround;
  }

  private add(lot: number, store: number, massG: number): void {
    const pile = this.pileOf(lot, store);
    if (pile) pile.massG += massG;
    else this.piles.push({ lot, store, massG });
  }

  private apply(change: Change): void {
    if (change.kind === "fill") {
      this.add(change.lot, change.store, change.massG);
      return;
    }
    const pile = this.pileOf(change.lot, change.store);
    const massG = Math.min(change.massG, pile?.massG ?? 0);
    if (pile) this.drop(pile, massG, change.day);
    if (massG < change.massG) this.missing(change.lot, change.massG - massG);
    if (change.kind === "move" || change.kind === "clear") {
      this.add(change.lot, change.toStore, massG - change.lossG);
    }
  }

  private missing(lot: number, massG: number): void {
    this.short.set(lot, (this.short.get(lot) ?? 0) + massG);
  }

  private take(want: Want): void {
    const piles = this.pilesFor(want);
    let left = want.massG;
    if (piles.length === 1) left -= this.takeFrom(piles[0] as Pile, want, left);
    else {
      for (const pile of this.first === "smallest" ? smallestFirst(piles, want) : largestFirst(piles, want)) {
        left -= this.takeFrom(pile, want, left);
      }
    }
    if (left > 0) this.missing(want.lot, left);
  }

  /** Takes up to `left` grams for a want from one pile; returns how much it was. */
  private takeFrom(pile: Pile, want: Want, left: number): number {
    const finishing = want.last && pile.massG - left <= ROUNDING_G;
    const massG = finishing ? pile.massG : Math.min(left, pile.massG);
    if (massG <= 0) return 0;
    this.last = { key: want.key, lot: want.lot, store: pile.store, massG, before: this.last };
    this.drop(pile, massG, want.day);
    return massG;
  }

  /** Piles a want may be taken from, by weight, the smallest first. */
  private pilesFor(want: Want): Pile[] {
    const piles: Pile[] = [];
    for (const one of this.piles) {
      if (one.lot === want.lot && (want.store === undefined || one.store === want.store)) piles.push(one);
    }
    return piles.length > 1 ? piles.sort((a, b) => a.massG - b.massG || a.store - b.store) : piles;
  }

  /** What all wants got so far, in order. */
  get taken(): Taken[] {
    const taken: Taken[] = [];
    for (let one = this.last; one; one = one.before) {
      taken.push({ key: one.key, lot: one.lot, store: one.store, massG: one.massG });
    }
    return taken.reverse();
  }

  /** Grams of `lot` in a store at the end of the current day. */
  heldG(lot: number, store: number): number {
    return this.pileOf(lot, store)?.massG ?? 0;
  }

  /** Grams of `lot` wanted on `day` itself, if that day is still to come. */
  wantedOn(lot: number, day: number): number {
    return this.wantedAfter(lot, day - 1) - this.wantedAfter(lot, day);
  }

  /** Grams of `lot` wanted after `day`. */
  wantedAfter(lot: number, day: number): number {
    let sum = 0;
    for (const at of this.wantsOfLot[lot] as readonly number[]) {
      const want = this.wants[at] as Want;
      if (at >= this.nextWant && want.day > day) sum += want.massG;
    }
    return sum;
  }
}

function placesByLot(problem: Problem, wants: readonly Want[]): number[][] {
  const places: number[][] = problem.lots.map(() => []);
  wants.forEach((want, at) => places[want.lot]?.push(at));
  return places;
}

// A run may draw twice at most, so a third pile is never opened. Piles stand by weight, the smallest first.

function smallestFirst(piles: readonly Pile[], { massG, single }: Want): readonly Pile[] {
  const enough = piles.find((pile) => pile.massG >= massG);
  if (single) return enough ? [enough] : piles.slice(-1);
  return piles.length > 1 && piles[0] !== enough ? twoPiles(piles, massG) : piles.slice(0, 1);
}

function largestFirst(piles: readonly Pile[], { massG, single }: Want): readonly Pile[] {
  const largest = piles.slice(-1);
  if (single || (largest[0]?.massG ?? 0) >= massG) return largest;
  return piles.slice(-2).reverse();
}

/** The smallest pile, finished, and one that holds the rest; or the two largest. */
function twoPiles(piles: readonly Pile[], massG: number): Pile[] {
  const [smallest, ...others] = piles;
  if (!smallest) return [];
  const rest = others.find((pile) => pile.massG >= massG - smallest.massG);
  return rest ? [smallest, rest] : piles.slice(-2).reverse();
}
