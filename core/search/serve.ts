import type { LineTable } from "./lines.ts";
import type { Want } from "./piles.ts";
import { goodPart } from "./origin.ts";
import { keptAfter, Pool } from "./pool.ts";
import type { Demand, Problem } from "./problem.ts";
import type { Supply } from "./supply.ts";

/** A need that home and held stock does not meet: grams of extract (weight, for raw grain) of a material on a day. */
export interface Deficit {
  line: number;
  material: number;
  day: number;
  extractG: number;
}

/** Key of a raw-grain want: the line it is for, as -2 - line. */
export const rawKey = (line: number) => -2 - line;

/** Gives stock to brews, day by day and first in, first out, and keeps count of what is under the floor and in the store. */
export class Server {
  /** Home-grown extract given to each line. */
  readonly home: Float64Array;
  /** Extract given to each line from lots that its brew asks for by name. */
  readonly named: Float64Array;
  deficits: Deficit[] = [];
  rawWants: Want[] = [];
  private readonly uses: number[][];
  private readonly places: Int16Array;
  /** Places of what lies there whatever the plan does. */
  private readonly settledPlaces: Int16Array;
  private underGDays = 0;

  constructor(private readonly problem: Problem, private readonly table: LineTable) {
    this.home = new Float64Array(table.length);
    this.named = new Float64Array(table.length);
    this.uses = problem.materials.map(() => []);
    this.places = new Int16Array(problem.endDay - problem.asOfDay + 800);
    this.settledPlaces = new Int16Array(this.places.length);
  }

  /** Serves all materials; returns the reserve's price in cents. */
  serve(
    supplies: readonly (readonly Supply[])[],
    order: readonly number[],
    day: Int32Array,
    status: Uint8Array,
    lotLeft: Float64Array,
  ): number {
    const { problem, table, uses } = this;
    this.home.fill(0);
    this.named.fill(0);
    this.places.fill(0);
    this.settledPlaces.fill(0);
    this.deficits = [];
    this.rawWants = [];
    this.underGDays = 0;
    for (const list of uses) list.length = 0;
    for (const demand of order) {
      if (status[demand] === 0) continue;
      for (let line = table.first[demand] as number; line < (table.first[demand + 1] as number); line++) {
        (uses[table.material[line] as number] as number[]).push(line);
      }
    }
    for (const material of problem.materials) {
      const list = supplies[material.index] as readonly Supply[];
      const lines = uses[material.index] as number[];
      if (list.length === 0 && lines.length === 0 && material.floorG === 0) continue;
      if (material.malt === null) {
        this.serveRaw(material.index, material.crop ?? "", lines, day, list, lotLeft);
      } else this.flow(material.index, material.floorG, list, lines, day);
    }
    return this.underGDays / 1e6 * problem.season.costs.reservePerTonneDayCents;
  }

  /** Home-grown share of a demand's grist, by weight at book extracts. */
  homeShare(demand: number): number {
    return this.shareOf(this.home, demand);
  }

  /** Share of a demand's grist from lots it asks for by name, by weight at book extracts. */
  namedShare(demand: number): number {
    return this.shareOf(this.named, demand);
  }

  private shareOf(givenG: Float64Array, demand: number): number {
    const { table } = this;
    let good = 0;
    let total = 0;
    for (let line = table.first[demand] as number; line < (table.first[demand + 1] as number); line++) {
      good += (table.bookG[line] as number) * (givenG[line] as number) / (table.need[line] as number);
      total += table.bookG[line] as number;
    }
    return total > 0 ? good / total : 0;
  }

  /** Place-days that `placesOver` found taken in all. */
  placeDays = 0;

  /** First day that `placesOver` found over the limit with malt of free runs there, or null. */
  firstDayOver: number | null = null;

  /**
   * Place-days above the malt store's limit, with `extra` places by day from as-of added for bought malt; days on which only what is
   * settled lies there are nobody's doing.
   */
  placesOver(extra: Int16Array): number {
    const { problem } = this;
    let used = 0;
    let settled = 0;
    let made = 0;
    let over = 0;
    let allowed = problem.season.maltStore.places;
    this.firstDayOver = null;
    this.placeDays = 0;
    for (let d = 0; d <= problem.endDay - problem.asOfDay; d++) {
      settled += this.settledPlaces[d] as number;
      made += this.places[d] as number;
      used += (this.places[d] as number) + (extra[d] as number);
      this.placeDays += used;
      if (d === 0) allowed = Math.max(allowed, settled);
      if (used <= allowed || used === settled) continue;
      over += used - allowed;
      if (made > settled) this.firstDayOver ??= problem.asOfDay + d;
    }
    return over;
  }

  /** Places left for bought malt by day from as-of, below 0 where home malt of the plan is over. */
  roomByDay(): number[] {
    const { problem } = this;
    let settled = 0;
    let made = 0;
    let allowed = problem.season.maltStore.places;
    return Array.from({ length: problem.endDay - problem.asOfDay + 1 }, (_, d) => {
      settled += this.settledPlaces[d] as number;
      made += this.places[d] as number;
      if (d === 0) allowed = Math.max(allowed, settled);
      return made === settled ? Math.max(0, allowed - made) : allowed - made;
    });
  }

  private countPlace({ settled }: Supply, day: number, change: number): void {
    const d = Math.max(0, day - this.problem.asOfDay);
    if (d >= this.places.length) return;
    this.places[d] = (this.places[d] as number) + change;
    if (settled) this.settledPlaces[d] = (this.settledPlaces[d] as number) + change;
  }

  /** One malt through time. */
  private flow(
    material: number,
    floorG: number,
    list: readonly Supply[],
    lines: readonly number[],
    day: Int32Array,
  ): void {
    const { problem, table } = this;
    const placeG = problem.season.maltStore.placeG;
    const uses = lines.map((line) => {
      const on = day[table.demand[line] as number] as number;
      return { line, day: on, claimG: table.claim[line] as number, homeG: table.homeClaim[line] as number };
    });
    const homeList = list.filter((one) => one.home);
    const bought = new Pool(homeList.length < list.length ? list.filter((one) => !one.home) : []);
    const home = new Pool(homeList);
    const keep = keptAfter(list, uses);
    const keepHome = keptAfter(homeList, uses.map((use) => ({ day: use.day, claimG: use.homeG })));

    for (const one of list) this.countPlace(one, one.arrives, Math.ceil(one.extractG / one.perG / placeG));
    let clock = problem.asOfDay + 1;
    const lastShown = problem.horizonDay + 1;
    const pass = (to: number) => {
      const until = to < lastShown ? to : lastShown;
      if (until > clock) {
        const stockG = home.stockG + bought.stockG;
        if (stockG < floorG) this.underGDays += (floorG - stockG) * (until - clock);
        clock = until;
      }
    };
    const toDay = (on: number) => {
      for (;;) {
        const atHome = home.nextDay(on), atBought = bought.nextDay(on);
        const next = atHome < atBought ? atHome : atBought;
        if (next === Infinity) return;
        pass(next);
        (atHome <= atBought ? home : bought).step(on);
      }
    };
    for (let i = 0; i < uses.length; i++) {
      const { line, day: on, claimG, homeG } = uses[i] as typeof uses[number];
      toDay(on);
      pass(on);
      const { requires } = problem.demands[table.demand[line] as number] as Demand;
      const free = (one: Supply, had: number, rest: number) => {
        if (requires.length > 0) {
          const part = Math.min(...requires.map((asked) => goodPart(asked, one.share)));
          this.named[line] = (this.named[line] as number) + (had - rest) * part;
        }
        const freed = Math.ceil((had - 1e-6) / one.perG / placeG) -
          Math.ceil((rest - 1e-6) / one.perG / placeG);
        if (freed > 0) this.countPlace(one, on, -freed);
      };
      const asked = table.need[line] as number;
      const can = Math.max(0, Math.min(asked, home.extractG + bought.extractG - (keep[i] as number)));
      // What a promise counts on is home malt; for all else bought malt that lies there goes first.
      const claimed = Math.min(homeG, can, home.extractG);
      const held = Math.min(can - claimed, bought.extractG);
      // A brew that can be made of nothing else goes before later promises.
      const spare = Math.max(0, home.extractG - claimed - (keepHome[i] as number), claimG - claimed - held);
      const fromHome = claimed + Math.min(can - claimed - held, spare);
      bought.take(held, free);
      this.home[line] = home.take(fromHome, free);
      const lacking = asked - fromHome - held;
      if (lacking > 1e-6) this.deficits.push({ line, material, day: on, extractG: lacking });
    }
    toDay(problem.endDay + 1);
    pass(lastShown);
  }

  /** Raw grain: from the farm's own raw lots, else from held bags; counted by weight, whole grams. */
  private serveRaw(
    material: number,
    crop: string,
    lines: readonly number[],
    day: Int32Array,
    list: readonly Supply[],
    lotLeft: Float64Array,
  ): void {
    const { problem, table } = this;
    const lots = problem.lots.filter((lot) => lot.raw && lot.lot.crop === crop);
    const bags = list.map((one) => one.extractG);
    for (const line of lines) {
      const on = day[table.demand[line] as number] as number;
      const asked = table.need[line] as number;
      let open = asked;
      const lot = lots.find((one) => on >= one.fromDay && (lotLeft[one.index] as number) >= Math.ceil(asked));
      if (lot) {
        const massG = Math.ceil(asked);
        lotLeft[lot.index] = (lotLeft[lot.index] as number) - massG;
        this.rawWants.push({ day: on, lot: lot.index, massG, key: rawKey(line), single: true });
        if (lot.home) this.home[line] = asked;
        const { requires } = problem.demands[table.demand[line] as number] as Demand;
        if (requires.every((one) => one.counts[lot.index])) this.named[line] = asked;
        continue;
      }
      list.forEach((one, i) => {
        if (one.ready > on || one.last < on) return;
        const part = Math.min(bags[i] as number, open);
        bags[i] = (bags[i] as number) - part;
        open -= part;
      });
      if (open > 1e-6) this.deficits.push({ line, material, day: on, extractG: open });
    }
  }
}
