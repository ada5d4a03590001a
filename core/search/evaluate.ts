import type { Candidate, RunChoice } from "./candidate.ts";
import { LineTable } from "./lines.ts";
import { type Loads, loadsOf, maltOf } from "./loads.ts";
import { type Market, marketsOf } from "./markets.ts";
import type { Change, Want } from "./piles.ts";
import type { Demand, Problem } from "./problem.ts";
import { choosePromises, type Hurry } from "./promises.ts";
import { type Deficit, Server } from "./serve.ts";
import { RoughOrders } from "./rough-orders.ts";
import { stow } from "./stow.ts";
import type { Stowage } from "./stow-walk.ts";
import { gatherSupplies, heldSupplies, type Supply } from "./supply.ts";

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
  private readonly held: Supply[][];
  private readonly supplies: Supply[][];
  private readonly lotLeft: Float64Array;
  private readonly later: Float64Array;
  private readonly cut: Float64Array;
  private readonly rawFromLots: boolean[];
  private readonly orders: RoughOrders;
  /** Demands given up in this pass because the malt for them finds no place; and whether that is to be expected. */
  readonly hurry: Hurry;
  /** The last few stowages: most changes of the search leave the grain where it was. */
  private readonly stowed: { wants: Want[]; breadth: number; stowage: Stowage }[] = [];

  constructor(readonly problem: Problem, private readonly booked: readonly Change[]) {
    this.markets = marketsOf(problem);
    this.table = new LineTable(problem, this.markets);
    this.server = new Server(problem, this.table);
    this.held = heldSupplies(problem);
    this.supplies = problem.materials.map(() => []);
    this.lotLeft = new Float64Array(problem.lots.length);
    this.later = new Float64Array(problem.lots.length);
    this.cut = new Float64Array(problem.lots.length);
    this.orders = new RoughOrders(problem, this.markets, this.table);
    this.hurry = { barred: new Uint8Array(problem.demands.length), crowded: false };
    this.rawFromLots = problem.materials.map((material) =>
      material.malt === null && problem.lots.some((lot) => lot.raw && lot.lot.crop === material.crop)
    );
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
    this.cut.fill(0);
    let best = this.pass(candidate, breadth, worthwhile);
    if (!best) return null;
    // What is lost on moves is known only once the grain is stowed; the loads are then cut by it.
    for (let again = 0; again < 3 && best.stowage.short.size > 0; again++) {
      for (const [lot, massG] of best.stowage.short) this.cut[lot] = (this.cut[lot] as number) + massG;
      const next = this.pass(candidate, breadth, () => true);
      if (!next || next.score.broken > best.score.broken) break;
      best = next;
    }
    return best;
  }

  private pass(
    candidate: Candidate,
    breadth: number,
    worthwhile: (score: Score) => boolean,
  ): Evaluation | null {
    const { problem, table, server } = this;
    const { runs, day } = candidate;
    const order: number[] = [];
    for (let i = 0; i < day.length; i++) if ((day[i] as number) >= 0) order.push(i);
    order.sort((a, b) => (day[a] as number) - (day[b] as number) || a - b);
    table.refresh(order, day);

    const loads = loadsOf(problem, runs, this.cut, this.lotLeft, this.later);
    gatherSupplies(problem, this.held, runs, loads, this.supplies);
    const status = new Uint8Array(problem.demands.length);
    const lotLeft = this.lotLeft.slice();
    this.hurry.barred.fill(0);
    const serve = () => {
      this.lotLeft.set(lotLeft);
      choosePromises(problem, table, this.supplies, this.rawFromLots, order, day, status, this.hurry);
      const reserveCents = server.serve(this.supplies, order, day, status, this.lotLeft);
      return { reserveCents, ...this.orders.count(server.deficits, server) };
    };
    let served = serve();
    for (let again = 0; again < ROUNDS; again++) {
      // Elsewhere the exact weights may still give such a brew its grain.
      const given = this.hurry.crowded ? [...this.withoutOrigin(order, status)] : [];
      if (given.length === 0 && served.placesOver > 0) {
        given.push(...this.orders.crowding(server.deficits, server, served.span));
      }
      if (given.length === 0) break;
      for (const demand of given) this.hurry.barred[demand] = 1;
      served = serve();
    }
    const { deficits } = server;
    const { ordersCents, placesOver, reserveCents } = served;

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
    for (const massG of stowage.short.values()) score.broken += massG / 1e6;
    score.moneyCents += stowageCents(problem, stowage);
    return {
      score,
      loads,
      status,
      order,
      deficits: server.deficits,
      placeDays: served.placeDays,
      firstDayOver: server.firstDayOver,
      orders: () => this.orders.placed(deficits, served.span),
      rawWants: server.rawWants,
      homeG: server.home.slice(),
      namedG: server.named.slice(),
      stowage,
      maltG: (i) =>
        maltOf(problem, runs[i] as RunChoice, loads.drawG[i] as number, loads.draw2G[i] as number),
    };
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

/** Runs' costs, night turns and extra windows, for runs that are not under way. */
export function runsCents(problem: Problem, runs: readonly RunChoice[], loads: Loads): number {
  let cents = 0;
  let extras: Set<number> | null = null;
  runs.forEach((run, i) => {
    const drawn = (loads.drawG[i] as number) + (loads.draw2G[i] as number);
    const made = problem.materials[run.slot.malt]?.made;
    if (drawn <= 0 || !made || run.fixed?.standing === "under way") return;
    cents += made.runCents + made.perTonneCents * drawn * (1 - made.screeningLoss) / 1e6 +
      run.slot.nightCents;
    for (const extra of run.slot.extras) {
      extras ??= new Set();
      if (extras.has(extra)) continue;
      extras.add(extra);
      cents += problem.season.roster.extra[extra]?.costCents ?? 0;
    }
  });
  return cents;
}

/** All wants for grain: runs, seed and contracts, raw grain; in order of day. A run's key is its index. */
export function wantsOf(
  problem: Problem,
  runs: readonly RunChoice[],
  loads: Loads,
  raw: readonly Want[],
): Want[] {
  const wants: Want[] = [...raw];
  runs.forEach((run, key) => {
    const day = run.slot.steepDay;
    const first = loads.drawG[key] as number;
    const second = loads.draw2G[key] as number;
    if (run.fixed?.standing === "under way") return;
    if (run.fixed) {
      for (const draw of run.fixed.draws) {
        const store = problem.stores.findIndex((one) => one.id === draw.storeId);
        wants.push({ day, lot: draw.lot, massG: draw.massG, key, single: true, store });
      }
      return;
    }
    const two = second > 0;
    if (first > 0) wants.push({ day, lot: run.lot, massG: first, key, single: two, last: two });
    if (two) wants.push({ day, lot: run.lot2, massG: second, key, single: true });
  });
  for (const lot of problem.lots) {
    lot.firm.forEach((firm, i) =>
      wants.push({
        day: firm.day,
        lot: lot.index,
        massG: firm.massG,
        key: firmKey(lot.index, i),
        single: false,
      })
    );
  }
  return wants.sort((a, b) => a.day - b.day || a.lot - b.lot || a.key - b.key);
}

/** Key of a lot's i-th want for seed or a contract; below all others. */
export function firmKey(lot: number, i: number): number {
  return -1_000_000 - lot * 1000 - i;
}

/** What the stowing of grain adds to the money: moves, feed, and the worth of grain left at the end. */
export function stowageCents(problem: Problem, stowage: Stowage): number {
  let cents = stowage.movesCents + stowage.feedCents;
  for (const [lot, massG] of stowage.end) cents -= (problem.lots[lot]?.endCentsPerG ?? 0) * massG;
  return cents;
}

function sameWants(a: readonly Want[], b: readonly Want[]): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) {
    const one = a[i] as Want;
    const other = b[i] as Want;
    if (
      one.day !== other.day || one.lot !== other.lot || one.massG !== other.massG || one.key !== other.key
    ) return false;
  }
  return true;
}
