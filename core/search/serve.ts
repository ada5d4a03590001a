import type { LineTable } from "./lines.ts";
import { type Deficit, MaltFlow } from "./malt-flow.ts";
import type { FlowRecord } from "./flow-record.ts";
import type { Want } from "./piles.ts";
import { PlaceCount } from "./place-count.ts";
import type { Demand, Problem, ProblemLot } from "./problem.ts";
import type { Supply } from "./supply.ts";

/** Key of a raw-grain want: the line it is for, as -2 - line. */
export const rawKey = (line: number) => -2 - line;

/** Gives stock to brews, day by day and first in, first out, and keeps count of what is under the floor and in the store. */
export class Server {
  /** Home-grown extract given to each line. */
  readonly home: Float64Array;
  /** Extract given to each line from lots that its brew asks for by name. */
  readonly named: Float64Array;
  /** Needs that are not met, by the material that is bought for them, each in order of day. Used again by the next `serve`. */
  readonly deficits: Deficit[] = [];
  rawWants: Want[] = [];
  readonly places: PlaceCount;
  private readonly flows: readonly MaltFlow[];
  private readonly uses: number[][];
  /** By material, the raw lots that can meet it. */
  private readonly rawLots: readonly (readonly ProblemLot[])[];
  private readonly written: Deficit[] = [];
  /** Whether something else is bought for a need than its own material. */
  private anyOther = false;

  constructor(private readonly problem: Problem, private readonly table: LineTable) {
    this.home = new Float64Array(table.length);
    this.named = new Float64Array(table.length);
    this.uses = problem.materials.map(() => []);
    this.places = new PlaceCount(problem);
    this.flows = problem.materials.map(({ floorG }) => new MaltFlow(problem, table, floorG));
    this.rawLots = problem.materials.map(({ malt, crop }) =>
      malt === null ? problem.lots.filter((lot) => lot.raw && lot.lot.crop === (crop ?? "")) : []
    );
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
    this.places.clear();
    this.deficits.length = 0;
    this.anyOther = false;
    this.rawWants = [];
    let underGDays = 0;
    for (const list of uses) list.length = 0;
    for (const demand of order) {
      if (status[demand] === 0) continue;
      for (const line of table.linesOf[demand] as readonly number[]) {
        if ((table.need[line] as number) > 0) (uses[table.material[line] as number] as number[]).push(line);
      }
    }
    for (const material of problem.materials) {
      const list = supplies[material.index] as readonly Supply[];
      const lines = uses[material.index] as number[];
      if (list.length === 0 && lines.length === 0 && material.floorG === 0) continue;
      if (material.malt === null) this.serveRaw(material.index, lines, day, list, lotLeft);
      else {
        const flow = (this.flows[material.index] as MaltFlow).serve(list, lines, day);
        underGDays += flow.underGDays;
        this.take(material.index, flow);
      }
    }
    if (this.anyOther) this.deficits.sort((a, b) => a.bought - b.bought || a.day - b.day);
    return underGDays / 1e6 * problem.season.costs.reservePerTonneDayCents;
  }

  /** Takes over what the flow of a malt came to. */
  private take(material: number, flow: FlowRecord): void {
    for (let i = 0; i < flow.useCount; i++) {
      const line = flow.useLine[i] as number;
      this.home[line] = flow.homeG[i] as number;
      this.named[line] = flow.namedG[i] as number;
      const lackG = flow.lackG[i] as number;
      if (lackG > 1e-6) this.lacks(line, material, flow.useDay[i] as number, lackG);
    }
    for (let i = 0; i < flow.changeCount; i++) {
      this.places.change(
        flow.changeSettled[i] as boolean,
        flow.changeDay[i] as number,
        flow.changePlaces[i] as number,
      );
    }
  }

  /** Notes a need that is not met. */
  private lacks(line: number, material: number, day: number, extractG: number): void {
    const { deficits, written } = this;
    const bought = this.table.boughtAs(line, day);
    if (bought !== material) this.anyOther = true;
    const one = written[deficits.length] ?? { line, material, bought, day, extractG };
    one.line = line;
    one.material = material;
    one.bought = bought;
    one.day = day;
    one.extractG = extractG;
    written[deficits.length] = one;
    deficits.push(one);
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
    for (const line of table.linesOf[demand] as readonly number[]) {
      if ((table.need[line] as number) <= 0) continue;
      good += (table.bookG[line] as number) * (givenG[line] as number) / (table.need[line] as number);
      total += table.bookG[line] as number;
    }
    return total > 0 ? good / total : 0;
  }

  /** Raw grain: from the farm's own raw lots, else from held bags; counted by weight, whole grams. */
  private serveRaw(
    material: number,
    lines: readonly number[],
    day: Int32Array,
    list: readonly Supply[],
    lotLeft: Float64Array,
  ): void {
    const { problem, table } = this;
    const lots = this.rawLots[material] as readonly ProblemLot[];
    const bags = list.map((one) => one.extractG);
    const { placeG } = problem.season.maltStore;
    const placesOf = (massG: number) => Math.ceil((massG - 1e-6) / placeG);
    for (const one of list) this.places.change(one.settled, one.arrives, placesOf(one.extractG));
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
      for (let i = 0; i < list.length; i++) {
        const one = list[i] as Supply;
        if (one.ready > on || one.last < on) continue;
        // A brew asks for the extract: of poorer grain it takes more than the book says.
        const perBook = one.rawExtract ? table.rawExtract(line) / one.rawExtract : 1;
        const hadG = bags[i] as number;
        const partG = Math.min(hadG, open * perBook);
        bags[i] = hadG - partG;
        open -= partG / perBook;
        this.places.change(one.settled, on, placesOf(hadG - partG) - placesOf(hadG));
      }
      if (open > 1e-6) this.lacks(line, material, on, open);
    }
  }
}
