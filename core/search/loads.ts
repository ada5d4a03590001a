import { CROPS } from "../season/quantity.ts";
import type { RunChoice } from "./candidate.ts";
import { ROUNDING_G, type Taken } from "./piles.ts";
import type { Problem } from "./problem.ts";
import { drawsOf } from "./supply.ts";

/** Grams drawn by each run from its first and its second lot; both 0 when the run makes no sense and is left out. */
export interface Loads {
  drawG: number[];
  draw2G: number[];
}

/** Grams to draw so that `cleanG` is left after screening, or to move so that so much arrives. */
export function drawnFor(cleanG: number, screeningLoss: number): number {
  let drawn = Math.max(0, Math.floor(cleanG / (1 - screeningLoss)) - 1);
  while (drawn - Math.round(drawn * screeningLoss) < cleanG) drawn++;
  return drawn;
}

/** The most grams to draw so that no more than `cleanG` is left after screening. */
export function mostDrawnFor(cleanG: number, screeningLoss: number): number {
  let drawn = Math.floor(cleanG / (1 - screeningLoss)) + 1;
  while (drawn > 0 && drawn - Math.round(drawn * screeningLoss) > cleanG) drawn--;
  return drawn;
}

/** The run loaded so that it draws so many grams, as far as the vessels take them. */
export function loadedWith(problem: Problem, run: RunChoice, drawG: number): RunChoice {
  const loss = problem.materials[run.slot.malt]?.made?.screeningLoss ?? 0;
  const crop = problem.lots[run.lot]?.crop ?? 0;
  const least = drawnFor(run.slot.leastG[crop] as number, loss);
  const full = mostDrawnFor(run.slot.greatestG[crop] as number, loss);
  if (full <= least) return { ...run, loadShare: 1 };
  // Half a gram more, as shares are rounded down to grams.
  const share = drawG > least ? (drawG - least + 0.5) / (full - least) : 0;
  return { ...run, loadShare: Math.min(1, share) };
}

/** Loads runs by stock, for one candidate after another. */
export class Loader {
  private readonly drawG: number[] = [];
  private readonly draw2G: number[] = [];
  /** By lot: least loads of the runs that are still to come. */
  private readonly later: Float64Array;
  /** Grams to draw for the least and for the most of a slot and a crop; worked out when first asked for. */
  private readonly least: Float64Array;
  private readonly most: Float64Array;

  constructor(private readonly problem: Problem) {
    this.later = new Float64Array(problem.lots.length);
    this.least = new Float64Array(problem.slots.length * CROPS.length).fill(NaN);
    this.most = this.least.slice();
  }

  /**
   * As much as the vessels take, or the share of it that is asked for, but never so much that a later run of the lot falls under its
   * least load. `cutG` is what each lot loses on moves; `lotLeft` receives what is left of each lot. The loads are used again by the
   * next call.
   */
  load(runs: readonly RunChoice[], cutG: Float64Array, lotLeft: Float64Array): Loads {
    const { problem, later, drawG, draw2G } = this;
    for (const lot of problem.lots) {
      lotLeft[lot.index] = lot.totalG - lot.firmG - (cutG[lot.index] as number);
      later[lot.index] = 0;
    }
    for (let i = 0; i < runs.length; i++) {
      const run = runs[i] as RunChoice;
      if (!run.fixed) later[run.lot] = (later[run.lot] as number) + this.leastOf(run);
      else if (run.fixed.standing === "booked") {
        for (const draw of run.fixed.draws) lotLeft[draw.lot] = (lotLeft[draw.lot] as number) - draw.massG;
      }
    }
    drawG.length = runs.length;
    draw2G.length = runs.length;
    for (let i = 0; i < runs.length; i++) {
      const run = runs[i] as RunChoice;
      if (run.fixed) {
        drawG[i] = run.fixed.draws.reduce((sum, draw) => sum + draw.massG, 0);
        draw2G[i] = 0;
        continue;
      }
      const least = this.leastOf(run);
      const full = this.mostOf(run);
      const most = least + Math.floor((run.loadShare ?? 1) * Math.max(0, full - least));
      later[run.lot] = (later[run.lot] as number) - least;
      const left = Math.floor(lotLeft[run.lot] as number);
      let first: number;
      let second = 0;
      if (run.lot2 >= 0) {
        // The first lot must be finished, and the second makes up the load.
        first = left > 0 && left <= most ? left : 0;
        second = first > 0
          ? Math.max(
            0,
            Math.min(Math.max(least, most - ROUNDING_G) - first, Math.floor(lotLeft[run.lot2] as number)),
          )
          : 0;
        if (first + second < least) first = second = 0;
      } else {
        first = Math.min(most, Math.floor(left - Math.max(0, later[run.lot] as number)));
        if (first < least) first = left >= least ? least : 0;
      }
      lotLeft[run.lot] = (lotLeft[run.lot] as number) - first;
      if (second > 0) lotLeft[run.lot2] = (lotLeft[run.lot2] as number) - second;
      drawG[i] = first;
      draw2G[i] = second;
    }
    return { drawG, draw2G };
  }

  /** Lowers the loads last given to what was there for them; a free run that cannot have its least load is left out. */
  limit(runs: readonly RunChoice[], taken: readonly Taken[]): void {
    const { drawG, draw2G } = this;
    const gotG = new Float64Array(runs.length);
    const got2G = new Float64Array(runs.length);
    for (const { key, lot, massG } of taken) {
      const run = runs[key];
      if (!run) continue;
      const got = lot === run.lot2 ? got2G : gotG;
      got[key] = (got[key] as number) + massG;
    }
    for (let i = 0; i < runs.length; i++) {
      const run = runs[i] as RunChoice;
      if (run.fixed) continue;
      const first = Math.min(drawG[i] as number, gotG[i] as number);
      const second = Math.min(draw2G[i] as number, got2G[i] as number);
      const enough = first + second >= this.leastOf(run) && (run.lot2 < 0 || first === drawG[i]);
      drawG[i] = enough ? first : 0;
      draw2G[i] = enough ? second : 0;
    }
  }

  private leastOf({ slot, lot }: RunChoice): number {
    const crop = this.problem.lots[lot]?.crop ?? 0;
    const at = slot.index * CROPS.length + crop;
    const known = this.least[at] as number;
    if (known === known) return known;
    return this.least[at] = drawnFor(slot.leastG[crop] as number, this.screeningLoss(slot.malt));
  }

  private mostOf({ slot, lot }: RunChoice): number {
    const crop = this.problem.lots[lot]?.crop ?? 0;
    const at = slot.index * CROPS.length + crop;
    const known = this.most[at] as number;
    if (known === known) return known;
    return this.most[at] = mostDrawnFor(slot.greatestG[crop] as number, this.screeningLoss(slot.malt));
  }

  private screeningLoss(malt: number): number {
    return this.problem.materials[malt]?.made?.screeningLoss ?? 0;
  }
}

/** Malt weight, grams as is, that these draws give, all outputs together; unrounded. */
export function maltOf(problem: Problem, run: RunChoice, drawG: number, draw2G: number): number {
  const malt = problem.materials[run.slot.malt]?.malt;
  const made = problem.materials[run.slot.malt]?.made;
  if (!malt || !made) return 0;
  const dry = (lot: number) => 1 - (problem.lots[lot]?.lot.moistureWb ?? 0);
  let dryMatter = 0;
  if (run.fixed) { for (const draw of run.fixed.draws) dryMatter += draw.massG * dry(draw.lot); }
  else dryMatter = drawG * dry(run.lot) + (draw2G > 0 ? draw2G * dry(run.lot2) : 0);
  const kept = (1 - made.screeningLoss) *
    (1 - made.steepLossDm - made.respirationLossDm - made.rootletLossDm);
  return dryMatter * kept / (1 - malt.maltMoistureWb);
}

/** The same in whole grams, screenings and malt rounded as in the books: else a gram that nobody counted on takes a place of the malt store. */
export function wholeMaltG(problem: Problem, run: RunChoice, drawG: number, draw2G: number): number {
  const malt = problem.materials[run.slot.malt]?.malt;
  const made = problem.materials[run.slot.malt]?.made;
  if (!malt || !made) return 0;
  const dryOf = (lot: number) => 1 - (problem.lots[lot]?.lot.moistureWb ?? 0);
  const cleanOf = (drawnG: number) => drawnG - Math.round(drawnG * made.screeningLoss);
  let dryG: number;
  if (!run.fixed && draw2G <= 0) dryG = cleanOf(drawG) * dryOf(run.lot);
  else {
    const draws = drawsOf(run, drawG, draw2G).filter((draw) => draw.massG > 0);
    const drawnG = draws.reduce((sum, draw) => sum + draw.massG, 0);
    const cleanG = cleanOf(drawnG);
    // In the order of the books' own sum, so that a half is rounded the same way.
    dryG = draws.reduce((sum, draw) => sum + draw.massG / drawnG * cleanG * dryOf(draw.lot), 0);
  }
  return Math.round(
    dryG * (1 - made.steepLossDm - made.respirationLossDm - made.rootletLossDm) / (1 - malt.maltMoistureWb),
  );
}
