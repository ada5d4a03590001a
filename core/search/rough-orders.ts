import type { LineTable } from "./lines.ts";
import type { Market } from "./markets.ts";
import { lastArrival, SPARE_EXTRACT_G } from "./orders.ts";
import type { Offer, Problem } from "./problem.ts";
import type { Deficit, Server } from "./serve.ts";

/**
 * Days of need that one order covers: the search's rough count tries few large orders first and more small ones when the malt
 * store would overflow; the exact orders come later.
 */
const ORDER_DAYS = [180, 40, 8, 0] as const;

/** What bought malt costs and how far it overfills the malt store, with orders that each cover `span` days. */
export interface RoughCount {
  ordersCents: number;
  placesOver: number;
  /** Place-days taken in all. */
  placeDays: number;
  span: number;
}

/** An order for the deficits `from` to before `to`; the order before it gives `carriedG` of extract to the first of them. */
interface Order {
  from: number;
  to: number;
  packs: number;
  carriedG: number;
}

/** What one order's arrival, or a use of it, leaves in the malt store from a day on. */
interface Step {
  order: number;
  /** Days from as-of. */
  d: number;
  places: number;
}

/** Counts orders for what home and held stock does not meet. Deficits stand material by material, each in order of day. */
export class RoughOrders {
  /** Change in places by day from as-of. */
  private readonly change: Int16Array;
  private steps: Step[] | null = null;

  constructor(
    private readonly problem: Problem,
    private readonly markets: readonly Market[],
    private readonly table: LineTable,
  ) {
    this.change = new Int16Array(problem.endDay - problem.asOfDay + 2);
  }

  /** The largest orders the malt store holds; the ones that overfill it least when none fits. */
  count(deficits: readonly Deficit[], server: Server): RoughCount {
    let best: RoughCount = { ordersCents: 0, placesOver: Infinity, placeDays: 0, span: 0 };
    for (const span of ORDER_DAYS) {
      this.change.fill(0);
      let ordersCents = 0;
      this.split(deficits, span, (order) => {
        const market = this.marketOf(deficits, order.from);
        ordersCents += market.freightCents + order.packs * market.packExtractG * market.centsPerExtractG;
        this.store(deficits, order, 0);
      });
      const placesOver = server.placesOver(this.change);
      if (placesOver < best.placesOver) best = { ordersCents, placesOver, placeDays: server.placeDays, span };
      if (placesOver === 0) break;
    }
    return best;
  }

  /** The malt orders of a count, each with the cheapest offer that can arrive for its first need; none where no offer can. */
  placed(deficits: readonly Deficit[], span: number): { offer: number; day: number; packs: number }[] {
    const { problem } = this;
    const placed: { offer: number; day: number; packs: number }[] = [];
    this.split(deficits, span, ({ from, packs }) => {
      const { material, day } = deficits[from] as Deficit;
      const market = this.marketOf(deficits, from);
      const of = problem.materials[material];
      if (!of?.malt) return;
      const cents = (one: Offer) => one.packCents / (one.packG * one.extract);
      for (const offer of [...of.offers].sort((a, b) => cents(a) - cents(b))) {
        const arrives = lastArrival(offer, day);
        if (arrives === null) continue;
        const extractG = packs * market.packExtractG;
        const count = Math.max(offer.leastPacks, Math.ceil(extractG / (offer.packG * offer.extract) - 1e-9));
        placed.push({ offer: offer.index, day: arrives, packs: count });
        break;
      }
    });
    return placed;
  }

  /**
   * Demands to give up so that the orders fit into the room that is left in the malt store: day by day the order that gives least
   * for its places goes, and all it is for. Days on which home malt alone is over are the runs' doing, not the orders'.
   */
  crowding(deficits: readonly Deficit[], server: Server, span: number): Set<number> {
    const { problem, table } = this;
    const orders: { from: number; to: number; worth: number; places: number; gone: boolean }[] = [];
    this.steps = [];
    this.split(deficits, span, (order) => {
      const { from, to } = order;
      const demands = new Set<number>();
      for (let i = from; i < to; i++) demands.add(table.demand[(deficits[i] as Deficit).line] as number);
      let worth = 0;
      for (const demand of demands) worth += WORTH[(problem.demands[demand]?.class ?? 4) - 1] as number;
      this.store(deficits, order, orders.length);
      orders.push({ from, to, worth, places: 0, gone: false });
    });
    const steps = this.steps.sort((a, b) => a.d - b.d || a.order - b.order);
    this.steps = null;
    const room = server.roomByDay();
    const given = new Set<number>();
    for (let d = 0, next = 0; d < room.length; d++) {
      for (; next < steps.length && (steps[next] as Step).d <= d; next++) {
        const step = steps[next] as Step;
        (orders[step.order] as typeof orders[number]).places = step.places;
      }
      const free = room[d] as number;
      if (free < 0) continue;
      const here = orders.filter((one) => one.places > 0 && !one.gone);
      let used = here.reduce((sum, one) => sum + one.places, 0);
      while (used > free) {
        const worst = here.filter((one) => !one.gone).reduce((a, b) =>
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

  private marketOf(deficits: readonly Deficit[], at: number): Market {
    return this.markets[(deficits[at] as Deficit).material] as Market;
  }

  /** Orders for the deficits, none for more than `span` days of them beside what its packs hold in any case. */
  private split(deficits: readonly Deficit[], span: number, take: (order: Order) => void): void {
    let carriedG = 0;
    for (let at = 0; at < deficits.length;) {
      const { material, day } = deficits[at] as Deficit;
      const market = this.marketOf(deficits, at);
      let end = at;
      let extractG = -carriedG;
      for (; end < deficits.length; end++) {
        const deficit = deficits[end] as Deficit;
        if (deficit.material !== material || deficit.day > day + span) break;
        // Something on top of each need, so that whole grams never run short.
        extractG += deficit.extractG + SPARE_EXTRACT_G;
      }
      const packs = Math.max(market.leastPacks, Math.ceil(extractG / market.packExtractG));
      // What the packs hold beyond that serves the needs behind it.
      let left = packs * market.packExtractG - extractG;
      for (; end < deficits.length; end++) {
        const deficit = deficits[end] as Deficit;
        if (deficit.material !== material || deficit.extractG > left) break;
        left -= deficit.extractG;
      }
      take({ from: at, to: end, packs, carriedG });
      carriedG = deficits[end]?.material === material ? left : 0;
      at = end;
    }
  }

  /** Places that one order takes from its arrival until its uses, and the first use of the next, have emptied them. */
  private store(deficits: readonly Deficit[], { from, to, packs, carriedG }: Order, order: number): void {
    const { placeG } = this.problem.season.maltStore;
    const market = this.marketOf(deficits, from);
    const perG = market.packExtractG / market.packG;
    let left = packs * market.packG + carriedG / perG;
    let places = 0;
    const leave = (d: number, now: number) => {
      if (d >= this.change.length) return;
      if (this.steps) this.steps.push({ order, d, places: now });
      else this.change[d] = (this.change[d] as number) + now - places;
      places = now;
    };
    const dayOf = (at: number) => Math.max(0, (deficits[at] as Deficit).day - this.problem.asOfDay);
    leave(market.arrived[dayOf(from)] as number, Math.ceil(packs * market.packG / placeG));
    for (let i = from; i < to; i++) {
      left -= (deficits[i] as Deficit).extractG / perG;
      leave(dayOf(i), Math.ceil(Math.max(0, left - 1) / placeG));
    }
    if (deficits[to]?.material === deficits[from]?.material) leave(dayOf(to), 0);
  }
}

/** What a demand of class 1 to 4 counts for when an order has to go. */
const WORTH = [12, 6, 3, 1] as const;
