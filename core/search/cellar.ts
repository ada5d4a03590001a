import type { Material, Problem } from "./problem.ts";

/** A batch that brews can draw on, in whole grams. */
export interface CellarBatch {
  id: string;
  /** As keyOf names its source. */
  key: string;
  material: number;
  arrives: number;
  ready: number;
  last: number;
  massG: number;
  leftG: number;
  /** Grams that rounding owes the next use. */
  carryG: number;
  perG: number;
  home: boolean;
  /** Share of the batch from each lot index; null when bought. */
  share: ReadonlyMap<number, number> | null;
  /** Held, booked or under way: it comes into the store whatever the plan does. */
  settled: boolean;
}

/** What one grist line drew. */
export interface Drawn {
  batch: CellarBatch;
  massG: number;
}

/** Extract that may stay open on a line: less than the gram a line may be off for each use. */
export const OPEN_G = 0.95;

/** What one use may make good of what rounding owed the uses before, so that it stays within `OPEN_G` itself. */
const MOST_OWED_G = 0.5;

/** Batches by material, handed out first in, first out, in whole grams. */
export class Cellar {
  private readonly byMaterial: CellarBatch[][];
  /** Extract that rounding owes the next use of a material, of bought and of home-grown malt: many uses together are met as exactly as one. */
  private readonly carried: readonly [Float64Array, Float64Array];
  /** The same as it was before the brew that is being filled. */
  private readonly before: readonly [Float64Array, Float64Array];

  constructor(problem: Problem, batches: readonly CellarBatch[]) {
    const none = () => new Float64Array(problem.materials.length);
    this.carried = [none(), none()];
    this.before = [none(), none()];
    this.byMaterial = problem.materials.map((material) =>
      batches.filter((batch) => batch.material === material.index).sort((a, b) =>
        a.ready - b.ready || a.last - b.last
      )
    );
  }

  /**
   * Takes up to `extractG` of a material's extract for a brew day, from home-grown or other batches; the grams are rounded so
   * that what is drawn meets the extract to within a gram for every batch used. Returns what was drawn and what is missing.
   */
  take(
    material: Material,
    home: boolean,
    extractG: number,
    day: number,
  ): { drawn: Drawn[]; missingG: number } {
    const drawn: Drawn[] = [];
    const carried = this.carried[Number(home)] as Float64Array;
    const owedG = carried[material.index] as number;
    let givenG = 0;
    for (const batch of this.byMaterial[material.index] as CellarBatch[]) {
      const open = extractG + owedG - givenG;
      if (open < batch.perG / 2) break;
      if (batch.home !== home || batch.ready > day || batch.last < day || batch.leftG <= 0) continue;
      const massG = Math.min(batch.leftG, Math.round(open / batch.perG));
      if (massG <= 0) continue;
      batch.leftG -= massG;
      givenG += massG * batch.perG;
      drawn.push({ batch, massG });
      // What rounding left open the next use takes from the same batch: a gram of another one would begin it too early.
      if (batch.leftG > 0) break;
    }
    const missingG = extractG - givenG;
    const owed = missingG < OPEN_G ? owedG + missingG : drawn.length === 0 ? owedG : 0;
    carried[material.index] = Math.max(-MOST_OWED_G, Math.min(MOST_OWED_G, owed));
    return { drawn, missingG: missingG < OPEN_G ? 0 : missingG };
  }

  /** The same from one batch; what it lacks is left to the caller. */
  takeFrom(material: Material, key: string, extractG: number, day: number): Drawn[] {
    const batch = (this.byMaterial[material.index] as CellarBatch[]).find((one) => one.key === key);
    if (!batch || batch.ready > day || batch.last < day) return [];
    // What rounding gave or took is carried to the batch's next use, so that its last use leaves it empty.
    const wanted = extractG / batch.perG;
    const near = (massG: number) => Math.abs(massG - wanted) * batch.perG < OPEN_G;
    const rounded = Math.round(wanted + batch.carryG);
    const massG = near(batch.leftG)
      ? batch.leftG
      : Math.min(batch.leftG, near(rounded) ? rounded : Math.round(wanted));
    batch.carryG += wanted - massG;
    if (massG <= 0) return [];
    batch.leftG -= massG;
    return [{ batch, massG }];
  }

  /**
   * Takes up to `massG` of a malt for a sale, from the batch of that key (null: any, home-grown first, first in, first out; "bought": any
   * that is not home-grown).
   */
  takeMass(material: Material, key: string | "bought" | null, massG: number, day: number): Drawn[] {
    const drawn: Drawn[] = [];
    let open = massG;
    const batches = this.byMaterial[material.index] as CellarBatch[];
    for (const batch of [...batches].sort((a, b) => Number(b.home) - Number(a.home))) {
      if (key === "bought" ? batch.home : key !== null && batch.key !== key) continue;
      if (batch.ready > day || batch.last < day || batch.leftG <= 0 || open <= 0) continue;
      const takenG = Math.min(batch.leftG, open);
      batch.leftG -= takenG;
      open -= takenG;
      drawn.push({ batch, massG: takenG });
    }
    return drawn;
  }

  /** Extract in a gram of the batch of that key; 0 when there is none. */
  perGOf(material: Material, key: string): number {
    return (this.byMaterial[material.index] as CellarBatch[]).find((one) => one.key === key)?.perG ?? 0;
  }

  /** Begins a brew, of which all may be given back. */
  begin(): void {
    this.carried.forEach((one, home) => (this.before[home] as Float64Array).set(one));
  }

  /** Puts back what was drawn for the brew that was begun last. */
  giveBack(drawn: readonly Drawn[]): void {
    this.before.forEach((one, home) => (this.carried[home] as Float64Array).set(one));
    for (const { batch, massG } of drawn) batch.leftG += massG;
  }
}
