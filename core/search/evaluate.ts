import type { Candidate, RunChoice } from "./candidate.ts";
import { LineTable } from "./lines.ts";
import { Loader, type Loads, maltOf } from "./loads.ts";
import { type Market, marketsOf } from "./markets.ts";
import type { Deficit } from "./malt-flow.ts";
import type { Change, Taken, Want } from "./piles.ts";
import type { Demand, Problem } from "./problem.ts";
import { type Hurry, Promises } from "./promises.ts";
import { runsCents, stowageCents } from "./rough-money.ts";
import { type RoughCount, RoughOrders } from "./rough-orders.ts";
import { Server } from "./serve.ts";
import { stow } from "./stow.ts";
import type { Stowage } from "./stow-walk.ts";
import type { Supply } from "./supply.ts";
import { SupplyBoard } from "./supply-board.ts";
import { sameWants, wantsOf } from "./wants.ts";

/** How good a candidate is. `broken` > 0 means that it breaks a rule the search only prices: it is never kept as best. */
export interface Score {
  /** Demands made inside the horizon by class 1 to 3, then the tail. */
  made: [number, number, number, number];
  promises: number;
  moneyCents: number;
  broken: number;
}

/** Everything worked out on the way to a score. */
export interface Evaluation {
  score: Score;
  loads: Loads;
  /** Per demand: 0 not made, 1 made, 2 made with its home-share promise held. */
  status: Uint8Array;
  /** Dated demands in order of day. */
  order: number[];
  deficits: Deficit[];
  /** Days times places of the malt store that are taken. */
  placeDays: number;
  /** First day on which the malt store is over its limit with malt of free runs there, or null. */
  firstDayOver: number | null;
  /** Orders for the deficits, as they were counted. */
  orders: () => { offer: number; day: number; packs: number }[];
  rawWants: Want[];
  /** Home-grown extract (weight, for raw grain) given to each line. */
  homeG: Float64Array;
  /** The same from lots that the line's brew asks for by name. */
  namedG: Float64Array;
  stowage: Stowage;
  /** By lot: grams that runs were not given, as the stores do not yield them. */
  cutG: Float64Array;
  /** Malt of run `i`, grams as is, all outputs together. */
  maltG(i: number): number;
}

/** Times that demands are given up and the rest served anew: what they leave may crowd others, or serve them. */
const ROUNDS = 4;

/** Scores candidates of one problem. Holds buffers, so one evaluator serves one search at a time. */
export class Evaluator {
  readonly markets: Market[];
  readonly table: LineTable;
  readonly server: Server;
  private readonly loader: Loader;
  private readonly supplies: SupplyBoard;
  private readonly promises: Promises;
  /** Grams left of each lot by the loads, and after raw grain too. */
  private readonly lotLeft: Float64Array;
  private readonly rawLeft: Float64Array;
  private readonly cut: Float64Array;
  private readonly status: Uint8Array;
  /** Dated demands in order of day. */
  private readonly order: number[] = [];
  private readonly inOrder: Uint8Array;
  private readonly orders: RoughOrders;
  /** Demands given up in this pass because the malt for them finds no place; and whether that is to be expected. */
  readonly hurry: Hurry;
  /** Whether runs may count on grain they do not get, for a price: a search sees farther that way, and exact weights mend it. */
  lenient = false;
  /** Grain that runs count on and do not get weighs by how many brews it might have made. */
  private readonly smallestGristG: number;
  /** The last few stowages: most changes of the search leave the grain where it was. */
  private readonly stowed: { wants: Want[]; breadth: number; stowage: Stowage }[] = [];

  constructor(readonly problem: Problem, private readonly booked: readonly Change[]) {
    this.markets = marketsOf(problem);
    this.table = new LineTable(problem, this.markets);
    this.server = new Server(problem, this.table);
    this.loader = new Loader(problem);
    this.supplies = new SupplyBoard(problem);
    const rawFromLots = problem.materials.map((material) =>
      material.malt === null && problem.lots.some((lot) => lot.raw && lot.lot.crop === material.crop)
    );
    this.promises = new Promises(problem, this.table, rawFromLots);
    this.lotLeft = new Float64Array(problem.lots.length);
    this.rawLeft = new Float64Array(problem.lots.length);
    this.status = new Uint8Array(problem.demands.length);
    this.inOrder = new Uint8Array(problem.demands.length);
    this.cut = new Float64Array(problem.lots.length);
    this.orders = new RoughOrders(problem, this.markets, this.table);
    const grists = problem.demands.filter(({ kind }) => kind === "brew")
      .map(({ lines }) => lines.reduce((sum, line) => sum + line.bookMassG, 0));
    this.smallestGristG = Math.min(1e6, ...grists.filter((massG) => massG > 0));
    this.hurry = { barred: new Uint8Array(problem.demands.length), crowded: false };
  }

  /** Loads, malt, brews, orders and stores in one pass each. `breadth` is handed to the stowing of grain. */
  evaluate(candidate: Candidate, breadth: number): Evaluation {
    return this.evaluateIf(candidate, breadth, () => true) as Evaluation;
  }

  /**
   * The same, but asks `worthwhile` before the grain is stowed, which costs most; the score it is shown leaves out what
   * stowing decides (moves, feed, grain at the end). Null when it was not worthwhile.
   */
  evaluateIf(
    candidate: Candidate,
    breadth: number,
    worthwhile: (score: Score) => boolean,
  ): Evaluation | null {
    if (candidate.cutG) this.cut.set(candidate.cutG);
    else this.cut.fill(0);
    let best = this.pass(candidate, breadth, worthwhile);
    if (!best) return null;
    // What is lost on moves is known only once the grain is stowed; the loads are then cut by it.
    for (let again = 0; again < 3 && best.stowage.short.size > 0; again++) {
      for (const [lot, massG] of best.stowage.short) this.cut[lot] = (this.cut[lot] as number) + massG;
      const next = this.pass(candidate, breadth, () => true);
      if (!next || next.score.broken > best.score.broken) break;
      best = next;
    }
    // The rest is taken off the very runs that go short.
    for (let again = 0; again < 3 && !this.lenient && best.stowage.short.size > 0; again++) {
      const { taken, short } = best.stowage;
      const next = this.pass(candidate, breadth, () => true, taken);
      if (!next || next.score.broken >= best.score.broken) break;
      for (const [lot, massG] of short) this.cut[lot] = (this.cut[lot] as number) + massG;
      best = { ...next, cutG: this.cut.slice() };
    }
    return best;
  }

  private pass(
    candidate: Candidate,
    breadth: number,
    worthwhile: (score: Score) => boolean,
    taken: readonly Taken[] | null = null,
  ): Evaluation | null {
    const { problem, table, server, status } = this;
    const { runs, day, substituted } = candidate;
    const order = this.ordered(day);
    table.refresh(order, day, substituted);
    const loads = this.loader.load(runs, this.cut, this.lotLeft);
    if (taken) this.loader.limit(runs, taken);
    const supplies = this.supplies.gather(runs, loads);
    this.hurry.barred.fill(0);
    status.fill(0);
    let served = this.serve(supplies, order, day);
    for (let again = 0; again < ROUNDS; again++) {
      // Elsewhere the exact weights may still give such a brew its grain.
      const given = this.hurry.crowded ? [...this.withoutOrigin(order, status)] : [];
      if (given.length === 0 && served.placesOver > 0) {
        given.push(...this.orders.crowding(server.deficits, server.places, served.spans));
      }
      if (given.length === 0) break;
      for (const demand of given) this.hurry.barred[demand] = 1;
      served = this.serve(supplies, order, day);
    }
    const { ordersCents, placesOver, reserveCents, spans } = served;

    // A claim that what was ready could not meet after all cannot be bought either.
    for (const { line, extractG } of server.deficits) {
      if (extractG > (table.need[line] as number) - (table.least1[line] as number) + 1) {
        status[table.demand[line] as number] = 0;
      }
    }

    const score: Score = { made: [0, 0, 0, 0], promises: 0, moneyCents: 0, broken: placesOver };
    let salesCents = 0;
    for (const demand of problem.demands) {
      if (status[demand.index] === 0) continue;
      if (
        status[demand.index] === 2 && demand.promise > 0 &&
        server.homeShare(demand.index) + 1e-9 < demand.promise
      ) {
        status[demand.index] = 1;
      }
      score.made[demand.class - 1] = (score.made[demand.class - 1] as number) + 1;
      if (status[demand.index] === 2 && demand.kind === "brew" && demand.class < 4) score.promises++;
      salesCents += demand.saleCents;
    }
    score.moneyCents = runsCents(problem, runs, loads) + ordersCents + reserveCents -
      salesCents;
    if (!worthwhile(score)) return null;
    const stowage = this.stow(wantsOf(problem, runs, loads, server.rawWants), breadth);
    for (const massG of stowage.short.values()) {
      score.broken += massG / (this.lenient ? 1e6 : this.smallestGristG);
    }
    score.moneyCents += stowageCents(problem, stowage);
    const deficits = server.deficits.map((one) => ({ ...one }));
    const drawn = { drawG: [...loads.drawG], draw2G: [...loads.draw2G] };
    return {
      score,
      loads: drawn,
      status: status.slice(),
      order: [...order],
      deficits,
      placeDays: served.placeDays,
      firstDayOver: server.places.firstDayOver,
      orders: () => this.orders.placed(deficits, spans),
      rawWants: server.rawWants,
      homeG: server.home.slice(),
      namedG: server.named.slice(),
      stowage,
      cutG: this.cut.slice(),
      maltG: (i) =>
        maltOf(problem, runs[i] as RunChoice, drawn.drawG[i] as number, drawn.draw2G[i] as number),
    };
  }

  /** Sets promises, gives out malt, and counts orders for what is lacking, with the demands that are given up left out. */
  private serve(
    supplies: readonly (readonly Supply[])[],
    order: readonly number[],
    day: Int32Array,
  ): RoughCount & { reserveCents: number } {
    const { server, status, hurry } = this;
    this.rawLeft.set(this.lotLeft);
    this.promises.choose(supplies, order, day, status, hurry);
    const reserveCents = server.serve(supplies, order, day, status, this.rawLeft);
    return { reserveCents, ...this.orders.count(server.deficits, server.places) };
  }

  /** The dated demands in order of day; nearly as they stood last time. */
  private ordered(day: Int32Array): readonly number[] {
    const { order } = this;
    let dated = 0;
    for (let demand = 0; demand < day.length; demand++) {
      const is = (day[demand] as number) >= 0;
      if (is) dated++;
      if (is === (this.inOrder[demand] === 1)) continue;
      this.inOrder[demand] = is ? 1 : 0;
      if (is) order.push(demand);
    }
    if (dated < order.length) {
      let kept = 0;
      for (const demand of order) if (this.inOrder[demand] === 1) order[kept++] = demand;
      order.length = kept;
    }
    sortByDay(order, day);
    return order;
  }

  /** Brews that ask for grain of named origin and are served too little of it. */
  private *withoutOrigin(order: readonly number[], status: Uint8Array): Generator<number> {
    for (const demand of order) {
      const { requires, kind } = this.problem.demands[demand] as Demand;
      if (status[demand] === 0 || requires.length === 0 || kind !== "brew") continue;
      const least = requires.reduce((most, one) => Math.max(most, one.leastShare), 0);
      if (this.server.namedShare(demand) + 1e-9 < least) yield demand;
    }
  }

  private stow(wants: Want[], breadth: number): Stowage {
    const known = this.stowed.find((one) => one.breadth === breadth && sameWants(one.wants, wants));
    if (known) return known.stowage;
    const stowage = stow(this.problem, wants, this.booked, breadth);
    this.stowed.unshift({ wants, breadth, stowage });
    this.stowed.length = Math.min(this.stowed.length, 4);
    return stowage;
  }
}

/** By day, then as they stand in the season. */
function sortByDay(order: number[], day: Int32Array): void {
  for (let i = 1; i < order.length; i++) {
    const one = order[i] as number;
    const on = day[one] as number;
    let at = i;
    for (; at > 0; at--) {
      const before = order[at - 1] as number;
      const was = day[before] as number;
      if (was < on || (was === on && before < one)) break;
      order[at] = before;
    }
    order[at] = one;
  }
}
