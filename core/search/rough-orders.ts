import type { LineTable } from "./lines.ts";
import { byPrice, type Market } from "./markets.ts";
import { lastArrival, SPARE_EXTRACT_G } from "./orders.ts";
import type { Problem } from "./problem.ts";
import type { Deficit } from "./malt-flow.ts";
import type { PlaceCount } from "./place-count.ts";

/**
 * Days of need that one order covers: the search's rough count tries few large orders first and more small ones when the malt
 * store would overflow; the exact orders come later.
 */
const ORDER_DAYS = [180, 40, 8, 0] as const;
/** What saves less than half of it is rounding. */
const A_CENT = 1;
/** What the orders of one material may cover beyond that, in the room that all others leave. */
const WIDER_DAYS = [180, 110, 70, 40, 20, 8] as const;

/** Days of need that one order covers, by material. */
export type Spans = readonly number[];

/** What bought malt costs and how far it overfills the malt store, with orders that each cover so many days. */
export interface RoughCount {
  ordersCents: number;
  placesOver: number;
  /** Place-days taken in all. */
  placeDays: number;
  spans: Spans;
}

/** An order for the deficits `from` to before `to`; the order before it gives `carriedG` of extract to the first of them. */
interface Order {
  from: number;
  to: number;
  packs: number;
  carriedG: number;
  /** Last day on which its malt is good. */
  lastDay: number;
}

/** An order while the ones to give up are chosen. */
interface Weighed {
  from: number;
  to: number;
  worth: number;
  places: number;
  gone: boolean;
}

/** What one order's arrival, or a use of it, leaves in the malt store from a day on. */
interface Step {
  order: number;
  /** Days from as-of. */
  d: number;
  places: number;
}

/** Counts orders for what home and held stock does not meet. Deficits stand by the material that is bought, each in order of day. */
export class RoughOrders {
  /** Change in places by day from as-of. */
  private readonly change: Int16Array;
  private steps: Step[] | null = null;
  /** Orders of the last split, of which the first `orderCount` are meant. */
  private readonly orders: Order[] = [];
  private orderCount = 0;
  /** Places that the order being stored still takes, and whether they are put in or taken out. */
  private left = 0;
  private sign: 1 | -1 = 1;

  constructor(
    private readonly problem: Problem,
    private readonly markets: readonly Market[],
    private readonly table: LineTable,
  ) {
    this.change = new Int16Array(problem.endDay - problem.asOfDay + 2);
  }

  /**
   * Large orders that the malt store holds: of as many days for all materials as fit, then of each material of as many more as do. The ones that
   * overfill it least when none fits.
   */
  count(deficits: readonly Deficit[], taken: PlaceCount): RoughCount {
    let best = { ordersCents: 0, placesOver: Infinity, placeDays: 0, span: 0 };
    for (const span of ORDER_DAYS) {
      this.change.fill(0);
      let ordersCents = 0;
      for (let at = 0; at < deficits.length; at = this.behind(deficits, at)) {
        ordersCents += this.put(deficits, at, span, 1);
      }
      const placesOver = taken.over(this.change);
      if (placesOver < best.placesOver) best = { ordersCents, placesOver, placeDays: taken.placeDays, span };
      if (placesOver === 0) break;
    }
    const spans = this.problem.materials.map(() => best.span);
    const savedCents = best.placesOver === 0 && best.span < ORDER_DAYS[0]
      ? this.widen(deficits, taken, spans)
      : 0;
    return {
      ordersCents: best.ordersCents - savedCents,
      placesOver: best.placesOver,
      placeDays: savedCents > 0 ? taken.placeDays : best.placeDays,
      spans,
    };
  }

  /** Widens the spans of the orders that stand, material by material, as long as they fit; returns the cents saved. */
  private widen(deficits: readonly Deficit[], taken: PlaceCount, spans: number[]): number {
    let savedCents = 0;
    for (let at = 0, next = 0; at < deficits.length; at = next) {
      next = this.behind(deficits, at);
      const material = (deficits[at] as Deficit).bought;
      const span = spans[material] as number;
      const { day } = deficits[at] as Deficit;
      if ((deficits[next - 1] as Deficit).day <= day + span) continue;
      const cents = this.put(deficits, at, span, -1);
      const wider = WIDER_DAYS.find((days) => {
        if (days <= span) return false;
        const saves = cents - this.put(deficits, at, days, 1);
        if (saves > A_CENT / 2 && taken.over(this.change) === 0) {
          savedCents += saves;
          return true;
        }
        this.put(deficits, at, days, -1);
        return false;
      });
      if (wider === undefined) this.put(deficits, at, span, 1);
      else spans[material] = wider;
    }
    taken.over(this.change);
    return savedCents;
  }

  /** Puts the orders of the material that stands at `at` into the store, or takes them out of it again; returns what they cost. */
  private put(deficits: readonly Deficit[], at: number, span: number, sign: 1 | -1): number {
    let cents = 0;
    this.orderCount = 0;
    this.sign = sign;
    this.split(deficits, at, span);
    for (let i = 0; i < this.orderCount; i++) {
      const order = this.orders[i] as Order;
      const market = this.marketOf(deficits, order.from);
      cents += market.freightCents + order.packs * market.packExtractG * market.centsPerExtractG;
      this.store(deficits, order, i);
    }
    return cents;
  }

  /** Sets the orders for all deficits. */
  private splitAll(deficits: readonly Deficit[], spans: Spans): void {
    this.orderCount = 0;
    this.sign = 1;
    for (let at = 0; at < deficits.length; at = this.behind(deficits, at)) {
      this.split(deficits, at, spans[(deficits[at] as Deficit).bought] as number);
    }
  }

  /** Behind the deficits of the material that stands at `at`. */
  private behind(deficits: readonly Deficit[], at: number): number {
    const { bought } = deficits[at] as Deficit;
    let end = at + 1;
    while (end < deficits.length && (deficits[end] as Deficit).bought === bought) end++;
    return end;
  }

  /** The orders of a count, of malt and of raw grain, each with the cheapest offer that can arrive for its first need; none where no offer can. */
  placed(deficits: readonly Deficit[], spans: Spans): { offer: number; day: number; packs: number }[] {
    const { problem } = this;
    const placed: { offer: number; day: number; packs: number }[] = [];
    this.splitAll(deficits, spans);
    for (const { from, packs } of this.orders.slice(0, this.orderCount)) {
      const { bought: material, day } = deficits[from] as Deficit;
      const market = this.marketOf(deficits, from);
      const of = problem.materials[material];
      if (!of) continue;
      for (const offer of byPrice(of.offers)) {
        const arrives = lastArrival(offer, day);
        if (arrives === null) continue;
        const extractG = packs * market.packExtractG;
        const count = Math.max(
          offer.leastPacks,
          Math.ceil(extractG / (offer.packG * (of.malt ? offer.extract : 1)) - 1e-9),
        );
        placed.push({ offer: offer.index, day: arrives, packs: count });
        break;
      }
    }
    return placed;
  }

  /**
   * Demands to give up so that the orders fit into the room that is left in the malt store: day by day the order that gives least
   * for its places goes, and all it is for. Days on which home malt alone is over are the runs' doing, not the orders'.
   */
  crowding(deficits: readonly Deficit[], taken: PlaceCount, spans: Spans): Set<number> {
    const { table } = this;
    this.steps = [];
    this.splitAll(deficits, spans);
    const orders = this.orders.slice(0, this.orderCount).map((order, i): Weighed => {
      this.store(deficits, order, i);
      return { from: order.from, to: order.to, worth: this.worth(deficits, order), places: 0, gone: false };
    });
    const steps = this.steps.sort((a, b) => a.d - b.d || a.order - b.order);
    this.steps = null;
    const room = taken.roomByDay();
    const given = new Set<number>();
    let used = 0;
    for (let d = 0, next = 0; d < room.length; d++) {
      for (; next < steps.length && (steps[next] as Step).d <= d; next++) {
        const step = steps[next] as Step;
        const order = orders[step.order] as Weighed;
        if (!order.gone) used += step.places - order.places;
        order.places = step.places;
      }
      const free = room[d] as number;
      while (free >= 0 && used > free) {
        const worst = orders.filter((one) => one.places > 0 && !one.gone).reduce((a, b) =>
          b.worth * a.places < a.worth * b.places ? b : a
        );
        worst.gone = true;
        used -= worst.places;
        for (let i = worst.from; i < worst.to; i++) {
          given.add(table.demand[(deficits[i] as Deficit).line] as number);
        }
      }
    }
    return given;
  }

  /** What the demands that an order is for count for. */
  private worth(deficits: readonly Deficit[], { from, to }: Order): number {
    const demands = new Set<number>();
    for (let i = from; i < to; i++) demands.add(this.table.demand[(deficits[i] as Deficit).line] as number);
    let worth = 0;
    for (const demand of demands) worth += WORTH[(this.problem.demands[demand]?.class ?? 4) - 1] as number;
    return worth;
  }

  private marketOf(deficits: readonly Deficit[], at: number): Market {
    return this.markets[(deficits[at] as Deficit).bought] as Market;
  }

  /** Adds the orders for the deficits of the material that stands at `first`, none for more than `span` days of them beside what its packs hold in any case. */
  private split(deficits: readonly Deficit[], first: number, span: number): void {
    let carriedG = 0;
    const { bought } = deficits[first] as Deficit;
    for (let at = first; at < deficits.length && (deficits[at] as Deficit).bought === bought;) {
      const { day } = deficits[at] as Deficit;
      const market = this.marketOf(deficits, at);
      const d = this.dayOf(deficits, at);
      const lastDay = this.problem.asOfDay + (market.lastGood[d] as number);
      let end = at;
      let extractG = -carriedG;
      for (; end < deficits.length; end++) {
        const deficit = deficits[end] as Deficit;
        const isBehind = deficit.day > day + span || deficit.day > lastDay;
        if (deficit.bought !== bought || (end > at && isBehind)) break;
        // Something on top of each need, so that whole grams never run short.
        extractG += deficit.extractG + SPARE_EXTRACT_G;
      }
      const packs = Math.max(market.leastPacks, Math.ceil(extractG / market.packExtractG));
      // What the packs hold beyond that serves the needs behind it.
      let left = packs * market.packExtractG - extractG;
      for (; end < deficits.length; end++) {
        const deficit = deficits[end] as Deficit;
        if (deficit.bought !== bought || deficit.day > lastDay || deficit.extractG > left) break;
        left -= deficit.extractG;
      }
      const order = this.orders[this.orderCount++];
      if (order) {
        order.from = at;
        order.to = end;
        order.packs = packs;
        order.carriedG = carriedG;
        order.lastDay = lastDay;
      } else this.orders.push({ from: at, to: end, packs, carriedG, lastDay });
      carriedG = this.isCarried(deficits, at, end, lastDay) ? left : 0;
      at = end;
    }
  }

  /** Whether the first need behind an order is for its malt, while that is still good. */
  private isCarried(deficits: readonly Deficit[], from: number, to: number, lastDay: number): boolean {
    const next = deficits[to];
    return next !== undefined && next.bought === (deficits[from] as Deficit).bought && next.day <= lastDay;
  }

  /** Places that one order takes from its arrival until its uses, and the first use of the next, have emptied them. */
  private store(
    deficits: readonly Deficit[],
    { from, to, packs, carriedG, lastDay }: Order,
    order: number,
  ): void {
    const { placeG } = this.problem.season.maltStore;
    const market = this.marketOf(deficits, from);
    const perG = market.packExtractG / market.packG;
    let left = packs * market.packG + carriedG / perG;
    this.left = 0;
    this.leave(
      order,
      market.arrived[this.dayOf(deficits, from)] as number,
      Math.ceil(packs * market.packG / placeG),
    );
    for (let i = from; i < to; i++) {
      left -= (deficits[i] as Deficit).extractG / perG;
      this.leave(order, this.dayOf(deficits, i), Math.ceil(Math.max(0, left - 1) / placeG));
    }
    if (this.isCarried(deficits, from, to, lastDay)) this.leave(order, this.dayOf(deficits, to), 0);
  }

  /** Days from as-of. */
  private dayOf(deficits: readonly Deficit[], at: number): number {
    return Math.max(0, (deficits[at] as Deficit).day - this.problem.asOfDay);
  }

  /** From day `d` on an order takes so many places, where it took `left` before. */
  private leave(order: number, d: number, places: number): void {
    if (d >= this.change.length) return;
    if (this.steps) this.steps.push({ order, d, places });
    else this.change[d] = (this.change[d] as number) + this.sign * (places - this.left);
    this.left = places;
  }
}

/** What a demand of class 1 to 4 counts for when an order has to go. */
const WORTH = [12, 6, 3, 1] as const;
