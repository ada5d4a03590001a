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
const AFTER_TAKING: readonly Change["kind"][] = ["clear", "load"];

/**
 * The piles at the end of a day, walked forward through wants and changes. Wants of a lot that lies in several stores
 * empty the smallest pile first, so that bins come free early.
 */
export class Piles {
  taken: Taken[] = [];
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
    );
    copy.taken = this.taken.slice();
    if (this.short.size > 0) copy.short = new Map(this.short);
    copy.nextWant = this.nextWant;
    copy.nextChange = this.nextChange;
    return copy;
  }

  /** Adds a decided change; it must lie after the current day. */
  schedule(change: Change): void {
    this.changes.push(change);
    const done = this.changes.slice(0, this.nextChange);
    const open = this.changes.slice(this.nextChange).sort((a, b) =>
      a.day - b.day || ORDER[a.kind] - ORDER[b.kind]
    );
    this.changes = [...done, ...open];
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
          (change.day === want.day && !AFTER_TAKING.includes(change.kind)));
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
    return this.piles.find((pile) => pile.lot === lot && pile.store === store);
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
    let left = want.massG;
    const piles = this.piles
      .filter((one) => one.lot === want.lot && (want.store === undefined || one.store === want.store))
      .sort((a, b) => a.massG - b.massG || a.store - b.store);
    for (const pile of this.first === "smallest" ? smallestFirst(piles, want) : largestFirst(piles, want)) {
      const finishing = want.last && pile.massG - left <= ROUNDING_G;
      const massG = finishing ? pile.massG : Math.min(left, pile.massG);
      if (massG <= 0) continue;
      this.taken.push({ key: want.key, lot: want.lot, store: pile.store, massG });
      this.drop(pile, massG, want.day);
      left -= massG;
    }
    if (left > 0) this.missing(want.lot, left);
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
    for (let i = this.nextWant; i < this.wants.length; i++) {
      const want = this.wants[i] as Want;
      if (want.lot === lot && want.day > day) sum += want.massG;
    }
    return sum;
  }
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
