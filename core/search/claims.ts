import type { LineTable } from "./lines.ts";
import type { Line, Problem } from "./problem.ts";
import type { ReadyMalt } from "./ready-malt.ts";

/** Home share aimed at above a promise, so that rounding does not break it. */
export const MARGIN = 5e-5;

/**
 * Sets what a brew claims: all that cannot be bought, and of home malt what its promise asks for, first of what it claims anyway,
 * then of what is most plentiful.
 */
export class Claims {
  /** By material: whether a promise may ask home malt of it. */
  private readonly mayBeHome: readonly boolean[];
  private readonly promise: Float64Array;
  /** By demand: home share to aim at above its promise, where nothing weighs the malts afterwards. */
  private readonly byWeight: Float64Array;
  /** Book weight of a brew that still has to be found for its promise, grams. */
  private open = 0;

  constructor(
    problem: Problem,
    private readonly table: LineTable,
    private readonly malts: readonly ReadyMalt[],
    private readonly rawFromLots: readonly boolean[],
  ) {
    this.mayBeHome = problem.materials.map((_, m) => !rawFromLots[m] && (table.homeable[m] as boolean));
    this.promise = Float64Array.from(problem.demands, (demand) => demand.promise);
    this.byWeight = marginsByWeight(problem);
  }

  /** Sets the claims of a demand's lines, and counts them with its malts; `asCounted` where no exact weights come after. */
  claim(demand: number, promised: boolean, asCounted: boolean): void {
    const { table } = this;
    const lines = table.linesOf[demand] as readonly number[];
    for (const line of lines) {
      table.claim[line] = table.least1[line] as number;
      table.homeClaim[line] = 0;
    }
    const promise = this.promise[demand] as number;
    const margin = asCounted ? this.byWeight[demand] as number : MARGIN;
    if (promised && promise > 0) this.claimHome(promise + margin, lines);
    for (const line of lines) {
      const malt = this.maltOf(line);
      malt.claimedG += table.claim[line] as number;
      malt.claimedHomeG += table.homeClaim[line] as number;
    }
  }

  private maltOf(line: number): ReadyMalt {
    return this.malts[this.table.material[line] as number] as ReadyMalt;
  }

  private isHome(line: number): boolean {
    return this.mayBeHome[this.table.material[line] as number] as boolean;
  }

  /** Claims home malt of a line, as far as it is still asked for. */
  private take(line: number, mostG: number): void {
    const { table } = this;
    const perBook = (table.need[line] as number) / (table.bookG[line] as number);
    const part = Math.min(mostG, this.open * perBook);
    const home = (table.homeClaim[line] as number) + part;
    table.homeClaim[line] = home;
    if (home > (table.claim[line] as number)) table.claim[line] = home;
    this.open -= part / perBook;
  }

  /** Home malt that is there and claimed by nobody else. */
  private spareHome(line: number): number {
    const malt = this.maltOf(line);
    return Math.max(0, malt.readyHomeG - malt.claimedHomeG - (this.table.homeClaim[line] as number));
  }

  private claimHome(share: number, lines: readonly number[]): void {
    const { table } = this;
    this.open = 0;
    for (const line of lines) {
      this.open += (table.bookG[line] as number) * share;
    }
    for (const line of lines) {
      if (this.rawFromLots[table.material[line] as number]) this.open -= table.bookG[line] as number;
    }
    for (const line of lines) {
      if (this.open <= 0) break;
      if (this.isHome(line) && (table.need[line] as number) > 0) {
        this.take(line, Math.min(table.claim[line] as number, this.spareHome(line)));
      }
    }
    for (let round = 0; round < lines.length && this.open > 0; round++) {
      let pick = -1;
      let most = 0;
      for (const line of lines) {
        if (!this.isHome(line)) continue;
        const malt = this.maltOf(line);
        const spare = Math.max(0, malt.readyG - malt.claimedG - (table.claim[line] as number));
        const room = (table.need[line] as number) - (table.homeClaim[line] as number);
        const part = Math.min(
          room,
          this.spareHome(line),
          (table.claim[line] as number) - (table.homeClaim[line] as number) + spare,
        );
        if (part > most + 1e-9) {
          most = part;
          pick = line;
        }
      }
      if (pick < 0) break;
      this.take(pick, most);
    }
    // What nothing has to spare for is claimed from the largest line, and the count decides who goes.
    for (let round = 0; round < lines.length && this.open > 1e-9; round++) {
      let pick = -1;
      let most = 1e-9;
      for (const line of lines) {
        const room = (table.need[line] as number) - (table.homeClaim[line] as number);
        if (!this.isHome(line) || room <= most) continue;
        most = room;
        pick = line;
      }
      if (pick < 0) break;
      this.take(pick, most);
    }
  }
}

/**
 * By demand, how far the share of home malt by weight may lie under the share by extract that the claims are counted in: the richer
 * home malt is, and the poorer what is bought beside it, the less of the weight it makes up.
 */
function marginsByWeight({ materials, lots, batches, demands }: Problem): Float64Array {
  const richest = materials.map(({ maltIndex, malt, made, extract, owner, index }) => {
    if (!malt) return 1;
    const able = made
      ? lots.filter((lot) => lot.clocks[maltIndex] && lot.lot.owner === owner && lot.totalG > 0)
      : [];
    const perG = [
      ...able.map(({ lot }) => (lot.maltExtractDb ?? malt.extractCoarseDb) * (1 - malt.maltMoistureWb)),
      ...batches.filter((one) => one.home && one.material === index).map((one) => one.extractAsIs),
    ];
    return Math.max(1, ...perG.map((one) => one / extract));
  });
  const poorest = materials.map(({ malt, offers, extract, index }) => {
    if (!malt) return 1;
    const held = batches.filter((one) => !one.home && one.material === index).map((one) => one.extractAsIs);
    return Math.min(1, ...[...held, ...offers.map((one) => one.extract)].map((one) => one / extract));
  });
  const extract = (material: number) => materials[material]?.extract ?? 1;
  // What stands in for a malt that nobody offers is counted with that malt's extract.
  const poorestFor = ({ material, substitutes }: Line) =>
    Math.min(
      poorest[material] as number,
      ...substitutes.map((one) => {
        const own = poorest[one.material] as number;
        return one.mostShare < 1 ? own : Math.min(own, own * extract(one.material) / extract(material));
      }),
    );
  const richestFor = ({ material, substitutes }: Line) =>
    Math.max(...[material, ...substitutes.map((one) => one.material)].map((one) => richest[one] as number));
  return Float64Array.from(demands, ({ promise, lines }) => {
    const home = Math.max(1, ...lines.map(richestFor));
    const bought = Math.min(1, ...lines.map(poorestFor));
    return MARGIN + promise * (1 - promise) * (home / bought - 1);
  });
}
