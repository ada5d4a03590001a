/**
 * Dry matter from field to grist: what goes in comes out again, as something with a name. This is a second line behind
 * the rules on weights: it adds up what the plan itself says, and would show what those rules forgot.
 */
import type { Arrival } from "./arrivals.ts";
import { type Breach, breach } from "./breach.ts";
import type { Context } from "./context.ts";
import { heldG } from "./grain-book.ts";
import { takenG } from "./malt-book.ts";
import type { RunView } from "./run-view.ts";
import { dryShare } from "./runs.ts";
import { massWords, spoken } from "./words.ts";

/** Part of what goes in that may be missing at the end. */
const LIMIT = 0.001;
/** Whole grams on each step; a balance of a few kilograms is not judged on its rounding. */
const ROUNDING_G = 5;

function closes(inG: number, outG: number): boolean {
  return Math.abs(inG - outG) <= Math.max(LIMIT * inG, ROUNDING_G);
}

/**
 * Dry matter of one run: drawn, taken out by the screens, lost in steep and bed, culms, and malt. A run whose losses are
 * not known loses what is missing; that it makes no malt from grain is a breach of its own.
 */
function runBalance(view: RunView) {
  const { run, made, malt } = view, dry = dryShare(view);
  const drawnG = view.drawnG * dry, cleanG = run.cleanG * dry, screeningsG = run.screeningsG * dry;
  const culmsG = run.culmsG * (1 - (made?.culmMoistureWb ?? 0));
  const maltG = run.outputs.reduce((sum, out) => sum + out.massG, 0) * (1 - (malt?.maltMoistureWb ?? 0));
  const lostG = made === undefined
    ? drawnG - screeningsG - culmsG - maltG
    : cleanG * (made.steepLossDm + made.respirationLossDm);
  return { drawnG, screeningsG, lostG, culmsG, maltG };
}

function message(what: string, inG: number, outG: number): string {
  return `The dry matter of ${what} does not close: ${massWords(Math.round(inG))} go in, ` +
    `${massWords(Math.round(outG))} come out, ${spoken((outG - inG) / Math.max(inG, 1) * 100, 3)} %.`;
}

function oneRun(view: RunView): Breach[] {
  if (view.made === undefined || view.lots.includes(undefined)) return [];
  const { drawnG, screeningsG, lostG, culmsG, maltG } = runBalance(view);
  const outG = screeningsG + lostG + culmsG + maltG, { id } = view.run;
  if (closes(drawnG, outG)) return [];
  const is = massWords(Math.round(outG)), should = massWords(Math.round(drawnG));
  return [breach("dry-matter-run", id, view.day.strip, is, should, message(`run ${id}`, drawnG, outG))];
}

/** What a lot gets and what becomes of it, in grams of dry matter, from the end of the day before as-of on. */
interface LotFlow {
  /** Lying there, cut, and bought. */
  readonly inG: number;
  /** Named losses on the way to the bin, and what was left out. */
  readonly beforeBinG: number;
  /** Losses of moves. */
  readonly movedG: number;
  /** What leaves for runs that are planned. */
  readonly steepedG: number;
  /** What leaves for feed, seed, buyers, and into the mash as raw grain. */
  readonly goneG: number;
  readonly mashedG: number;
  /** What lies there when all is done, see `left`. */
  readonly leftG: number;
}

type Flows = Map<string, LotFlow>;

/** What is left of a stock in the end, not counted below nothing, unless records of later days than as-of leave less than nothing. */
function left(factsG: number, endG: number): number {
  return Math.max(Math.min(0, factsG), endG);
}

function factsG(events: readonly { deltaG: number; planned: boolean }[]): number {
  return events.reduce((sum, event) => event.planned ? sum : sum + event.deltaG, 0);
}

function lotFlows(ctx: Context): Flows {
  const { plan, season } = ctx;
  const sums = <T>(items: readonly T[], lotOf: (item: T) => string, massOf: (item: T) => number) => {
    const by = new Map<string, number>();
    for (const item of items) by.set(lotOf(item), (by.get(lotOf(item)) ?? 0) + massOf(item));
    return (lotId: string) => by.get(lotId) ?? 0;
  };
  const mass = (item: { massG: number }) => item.massG, lot = (item: { lotId: string }) => item.lotId;
  const leftOut = sums(plan.leftOut, lot, mass);
  const moved = sums(plan.moves, lot, (move) => move.lossG);
  const steeped = sums(
    ctx.runs.filter((view) => view.record === undefined).flatMap(({ run }) => run.draws),
    lot,
    mass,
  );
  const fed = sums(plan.feedLoads.flatMap((load) => load.items), lot, mass);
  const sown = sums(plan.seedTaken, lot, mass), sold = sums(plan.grainDeliveries, lot, mass);
  const mashed = sums(
    plan.brews.flatMap((brew) =>
      brew.grist.flatMap(({ from, massG }) => from.kind === "lot" ? [{ lotId: from.lotId, massG }] : [])
    ),
    lot,
    mass,
  );
  const flows: Flows = new Map();
  for (const { id, moistureWb } of season.lots) {
    const dry = 1 - moistureWb, holdings = ctx.grain.ofLot(id);
    const arrivals = ctx.arrivals.filter((arrival) => arrival.lotId === id);
    // A lot whose moisture is written differently in its planting has its harvest counted at its own.
    const asLot = ({ moistureWb }: Arrival) => moistureWb < 1 ? dry / (1 - moistureWb) : 1;
    const cutG = arrivals.reduce((sum, arrival) => sum + arrival.cutDmG * asLot(arrival), 0);
    const lostG = arrivals.reduce(
      (sum, arrival) => sum + (arrival.handlingDmG + arrival.intakeDmG) * asLot(arrival),
      0,
    );
    flows.set(id, {
      inG: factsG(holdings.flatMap((holding) => holding.events)) * dry + cutG,
      beforeBinG: lostG + leftOut(id) * dry,
      movedG: moved(id) * dry,
      steepedG: steeped(id) * dry,
      goneG: (fed(id) + sown(id) + sold(id)) * dry,
      mashedG: mashed(id) * dry,
      leftG: dry * holdings.reduce(
        (sum, holding) => sum + left(factsG(holding.events), heldG(holding, Infinity)),
        0,
      ),
    });
  }
  return flows;
}

function outOf(flow: LotFlow): number {
  return flow.beforeBinG + flow.movedG + flow.steepedG + flow.goneG + flow.mashedG + flow.leftG;
}

function oneLot(lotId: string, flow: LotFlow): Breach[] {
  const outG = outOf(flow);
  if (closes(flow.inG, outG)) return [];
  const is = massWords(Math.round(outG)), should = massWords(Math.round(flow.inG));
  return [breach("dry-matter-lot", lotId, null, is, should, message(`lot ${lotId}`, flow.inG, outG))];
}

/** Malt in and out of the store in grams of dry matter, malt of the plan's own runs coming in from the runs. */
function maltFlow(ctx: Context) {
  const made = new Set(ctx.runs.flatMap(({ run }) => run.outputs.map((out) => out.batchId)));
  const drummed = new Set(ctx.plan.drums.map((drum) => drum.batchId));
  let inG = 0, outG = 0;
  for (const batch of ctx.malt.batches.values()) {
    const dry = 1 - batch.moistureWb;
    const facts = batch.takings.reduce((sum, taking) => taking.planned ? sum : sum + taking.massG, 0);
    const plannedG = takenG(batch, Infinity) - facts;
    outG += (left(batch.massG - facts, batch.massG - facts - plannedG) + plannedG) * dry;
    // What records took has left already, also where they name a batch that the plan has yet to make.
    inG -= facts * dry;
    // What drums take goes out; what they give back comes in again, and the rest is their named loss.
    if (drummed.has(batch.id)) outG -= batch.massG * dry;
    else if (!made.has(batch.id)) inG += batch.massG * dry;
  }
  return { inG, outG };
}

function season(ctx: Context, flows: Flows): Breach[] {
  const lots = [...flows.values()], malt = maltFlow(ctx);
  const runs = ctx.runs.map((view) => ({ view, balance: runBalance(view) }));
  const inVesselsG = runs.filter(({ view }) => view.record !== undefined)
    .reduce((sum, { balance }) => sum + balance.drawnG, 0);
  const inG = lots.reduce((sum, flow) => sum + flow.inG, 0) + inVesselsG + malt.inG;
  // Grain steeped comes out as screenings, losses, culms and malt; that malt is then in the store's own sums.
  const lostG = runs.reduce(
    (sum, { balance }) => sum + balance.screeningsG + balance.lostG + balance.culmsG,
    0,
  );
  const outG = lots.reduce((sum, flow) => sum + outOf(flow) - flow.steepedG, 0) + lostG + malt.outG;
  if (closes(inG, outG)) return [];
  const is = massWords(Math.round(outG)), should = massWords(Math.round(inG));
  return [breach("dry-matter-season", ctx.season.id, null, is, should, message("the season", inG, outG))];
}

/** Every run, every lot, and the season as a whole. */
export function dryMatter(ctx: Context): Breach[] {
  const flows = lotFlows(ctx);
  return [
    ...ctx.runs.flatMap((view) => oneRun(view)),
    ...[...flows].flatMap(([lotId, flow]) => oneLot(lotId, flow)),
    ...season(ctx, flows),
  ];
}
