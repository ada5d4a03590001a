import type { RunChoice } from "./candidate.ts";
import { type Loads, wholeMaltG } from "./loads.ts";
import type { FixedRun, Problem } from "./problem.ts";
import { blendOf, drawsOf, heldSupplies, outputsOf, type Supply } from "./supply.ts";

type Output = ReturnType<typeof outputsOf>[number];

/** What is ready of each material from when, for one candidate after another: batches held, and what the runs give. */
export class SupplyBoard {
  private readonly lists: Supply[][];
  private readonly held: readonly (readonly Supply[])[];
  /** Batches that are written anew for each candidate, of which the first `used` are meant. */
  private readonly written: Supply[] = [];
  private used = 0;
  private readonly fixed = new Map<FixedRun, readonly { material: number; supply: Supply }[]>();
  /** By malt and lot: what a run gives. */
  private readonly outputs: Output[][] = [];
  /** By lot: all of it. */
  private readonly whole: readonly ReadonlyMap<number, number>[];

  constructor(private readonly problem: Problem) {
    this.held = heldSupplies(problem);
    this.lists = problem.materials.map(() => []);
    this.whole = problem.lots.map((lot) => new Map([[lot.index, 1]]));
  }

  /** By material, in order of readiness; used again by the next `gather`. */
  gather(runs: readonly RunChoice[], { drawG, draw2G }: Loads): readonly (readonly Supply[])[] {
    const { lists } = this;
    this.used = 0;
    for (let m = 0; m < lists.length; m++) {
      const list = lists[m] as Supply[];
      list.length = 0;
      for (const one of this.held[m] as readonly Supply[]) list.push(one);
    }
    for (let i = 0; i < runs.length; i++) {
      const run = runs[i] as RunChoice;
      const first = drawG[i] as number;
      const second = draw2G[i] as number;
      if (first + second <= 0) continue;
      if (run.fixed) {
        for (const one of this.fixedOf(run, run.fixed)) lists[one.material]?.push(one.supply);
      } else this.give(run, first, second);
    }
    for (const list of lists) sortByReadiness(list);
    return lists;
  }

  private fixedOf(run: RunChoice, fixed: FixedRun) {
    const known = this.fixed.get(fixed);
    if (known) return known;
    const given = this.outputsOf(run).flatMap(({ material }, output) => {
      const supply: Supply = { ...BLANK };
      return this.write(supply, run, 0, 0, output) ? [{ material, supply }] : [];
    });
    this.fixed.set(fixed, given);
    return given;
  }

  private give(run: RunChoice, drawG: number, draw2G: number): void {
    const outputs = this.outputsOf(run);
    for (let output = 0; output < outputs.length; output++) {
      let supply = this.written[this.used];
      if (!supply) this.written.push(supply = { ...BLANK });
      if (!this.write(supply, run, drawG, draw2G, output)) continue;
      this.used++;
      this.lists[(outputs[output] as Output).material]?.push(supply);
    }
  }

  private outputsOf(run: RunChoice): readonly Output[] {
    const { problem } = this;
    const lot = run.fixed?.draws[0]?.lot ?? run.lot;
    const at = run.slot.malt * problem.lots.length + lot;
    return this.outputs[at] ??= outputsOf(problem, run);
  }

  /** Grams that a run gives as one of its outputs: of the first, what rounding leaves of the others. */
  private outputG(run: RunChoice, drawG: number, draw2G: number, output: number): number {
    const outputs = this.outputsOf(run);
    const maltG = wholeMaltG(this.problem, run, drawG, draw2G);
    const partG = (at: number) => Math.round(maltG * (outputs[at] as Output).share);
    if (output > 0) return partG(output);
    let restG = maltG;
    for (let at = 1; at < outputs.length; at++) restG -= partG(at);
    return restG;
  }

  /** Writes one output of a run; false when that is nothing. */
  private write(supply: Supply, run: RunChoice, drawG: number, draw2G: number, output: number): boolean {
    const { problem } = this;
    const { material, share } = this.outputsOf(run)[output] as Output;
    const of = problem.materials[material];
    if (!of?.malt || share <= 0) return false;
    const book = of.malt.extractCoarseDb;
    let extractDb = book;
    if (!run.fixed && draw2G <= 0) {
      const lot = problem.lots[run.lot] as Problem["lots"][number];
      const own = lot.lot.maltExtractDb;
      if (own !== undefined) extractDb = drawG * own / drawG;
      supply.home = lot.home;
      supply.share = this.whole[run.lot] as ReadonlyMap<number, number>;
    } else {
      const blend = blendOf(problem, drawsOf(run, drawG, draw2G), book);
      extractDb = blend.extractDb;
      supply.home = blend.home;
      supply.share = blend.share;
    }
    const perG = extractDb * (1 - of.malt.maltMoistureWb);
    supply.arrives = run.slot.stripDay;
    supply.ready = run.fixed?.locked ? Infinity : run.slot.stripDay + of.restDays;
    supply.last = run.slot.stripDay + of.shelfDays;
    supply.extractG = this.outputG(run, drawG, draw2G, output) * perG;
    supply.perG = perG;
    supply.settled = run.fixed !== null;
    return true;
  }
}

const BLANK: Supply = {
  arrives: 0,
  ready: 0,
  last: 0,
  extractG: 0,
  perG: 1,
  home: false,
  share: null,
  settled: false,
};

/** By readiness, then by the last day; nearly sorted already, and equals keep their order. */
function sortByReadiness(list: Supply[]): void {
  for (let i = 1; i < list.length; i++) {
    const one = list[i] as Supply;
    let at = i;
    for (; at > 0; at--) {
      const before = list[at - 1] as Supply;
      if (before.ready < one.ready || (before.ready === one.ready && before.last <= one.last)) break;
      list[at] = before;
    }
    list[at] = one;
  }
}
