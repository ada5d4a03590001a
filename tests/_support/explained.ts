import type { Explanation } from "../../core/explain/explanation.ts";
import { makeSeason } from "../../core/generate/make-season.ts";
import { makePlan } from "../../core/plan/make.ts";
import type { Plan } from "../../core/plan/plan.ts";
import { drawParts, partsOf } from "../../core/year/draw.ts";
import { shortfallsIn } from "../../core/year/shortfalls.ts";
import type { ExplainOrder } from "../../routes/_solver/explain-messages.ts";
import type { Explain } from "../../routes/_solver/explainer.ts";

/** A small season that falls short, with its plan. */
export const season = { ...makeSeason("micro", 7, "store"), id: "short-of-room" };
season.fixedAsOf = season.asOf;
const outcome = await makePlan(season, { seed: 1, iterations: 0, highs: null });
if (outcome.kind !== "planned") throw new Error("the season has no plan");
export const plan: Plan = outcome.plan;
const parts = partsOf(season, plan);
const [shortfall] = shortfallsIn(parts, drawParts(parts));
export const runId = plan.runs[0]!.id;

/** What might be known of that plan. */
export const explanation: Explanation = {
  format: "rickyard-explanation",
  version: 4,
  doing: "Another bed",
  done: 1,
  of: 9,
  breaksFirst: "What breaks first: the pale run may not slip.",
  slack: [{ runId, days: 2, isPressed: true, words: "may slip 2 days: the bed is wanted" }],
  reserves: ["pale: least on 3 Mar, 120 kg below its reserve of 400 kg"],
  limit: "The room for malt is the tightest limit.",
  limits: ["store"],
  shortfalls: [{
    what: shortfall!.what,
    words: "More room would end it.",
    chain: ["malt store full"],
    limits: ["store"],
    isFelt: true,
    fromDay: shortfall!.fromDay,
    toDay: shortfall!.toDay,
  }],
  remedies: [{
    id: "malt-places-1",
    words: "1 more place in the malt store",
    effect: "2 more brews",
    beers: "2 The pale beer more",
    money: "80 EUR better",
    cost: "cost not given",
    rank: "stands before the next at any cost",
    next: "after it nothing is binding",
    isNoise: false,
    isFirm: true,
    cautions: ["A bulk bag can fall, swing or burst."],
    brews: 2,
    moneyCents: 8000,
    costCents: null,
  }],
  acres: [],
  failing: [],
  years: [],
  odds: null,
  weeks: [],
};

/** An explanation that grows and ends when a test says so. */
export interface Job {
  readonly order: ExplainOrder;
  readonly told: (explanation: Explanation) => void;
  readonly end: (broke: string | null) => void;
  stops: number;
}

/** Explains nothing by itself: each order is put into `jobs`. */
export function explainInto(jobs: Job[]): Explain {
  return (order, told) => {
    let end: (broke: string | null) => void = () => {};
    const ended = new Promise<string | null>((resolve) => end = resolve);
    const job: Job = { order, told, end, stops: 0 };
    jobs.push(job);
    return { ended, stop: () => void job.stops++ };
  };
}
