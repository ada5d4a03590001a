import type { Highs } from "highs";
import { LinearModel, solveLinear } from "../../../core/solve/linear.ts";
import { addOrders, addRun, openingBatches, runBatch, type RunColumns } from "./batches.ts";
import { addBrew, addBrewhouseAndTanks } from "./brew-rows.ts";
import { type Chosen, chosenOf, type Columns } from "./chosen.ts";
import type { Ground } from "./ground.ts";
import { goTogether, type RunOption } from "./run-options.ts";
import { addGrain } from "./grain-rows.ts";
import { addBatches, addPlaces, addReserve } from "./malt-rows.ts";

/** The best that can be done, by the goals in order. */
export interface Best {
  readonly made: readonly [number, number, number];
  readonly promisesHeld: number;
  readonly moneyCents: number;
  readonly chosen: Chosen;
}

/** With places to spare no plan of a micro season fills the store: five runs of two places, an old batch and some orders. */
const PLACES_TO_SPARE = 12;

/** What a brew of each class, and a held promise, weigh while goals are counted; at most four of each, so none outweighs the next. */
const CLASS_WEIGHT = [1000, 100, 10] as const;
const HELD_WEIGHT = 1;

/**
 * The best plan made of some of `options`. `forced`, when given, says which runs are made, so that trying all sets of
 * runs leaves HiGHS only what is weighed inside one set. `grainOf` is the way in which grain is stowed. Null when the set cannot be made.
 */
export function bestPlan(
  highs: Highs,
  ground: Ground,
  options: readonly RunOption[],
  forced: "all" | "some" = "some",
  atLeast = -Infinity,
  grainOf = addGrain,
): Best | null {
  const columns = columnsOf(ground, options, grainOf);
  const { model, runs, brews, grain } = columns;
  if (forced === "all") { for (const { made } of runs) model.lower[made] = 1; }
  const score = brews.flatMap(({ brew, days, held }) => [
    ...days.map(({ column }) => [column, CLASS_WEIGHT[brew.class - 1]!] as const),
    [held, HELD_WEIGHT] as const,
  ]);
  const money = [...model.cost];
  model.cost.fill(0);
  for (const [column, weight] of score) model.cost[column] = -weight;
  const counted = solveLinear(highs, model);
  if (counted.values === null) return null;
  if (!counted.optimal) throw new Error("The goals were not counted to the end.");
  const reached = Math.round(-counted.objective);
  if (reached < atLeast) return null;
  model.cost.splice(0, money.length, ...money);
  model.row(reached - 0.5, Infinity, score);
  const priced = solveLinear(highs, model, { relativeGap: 1e-5, seconds: 60 });
  if (priced.values === null || !priced.optimal) throw new Error("The money was not weighed to the end.");
  const values = priced.values;
  const on = (column: number) => values[column]! > 0.5;
  const made: [number, number, number] = [0, 0, 0];
  for (const { brew, days } of brews) {
    if (days.some(({ column }) => on(column))) made[brew.class - 1]! += 1;
  }
  return {
    made,
    promisesHeld: brews.filter(({ held }) => on(held)).length,
    moneyCents: Math.round((priced.objective + grain.baseMoney) * 100),
    chosen: chosenOf(values, columns),
  };
}

/** The goals before money as one number, more is better. */
export function scoreOf({ made, promisesHeld }: Pick<Best, "made" | "promisesHeld">): number {
  return made.reduce((sum, count, place) => sum + count * CLASS_WEIGHT[place]!, 0) +
    promisesHeld * HELD_WEIGHT;
}

function columnsOf(ground: Ground, options: readonly RunOption[], grainOf: typeof addGrain): Columns {
  const { season } = ground;
  const model = new LinearModel();
  const runs = options.map((option) => addRun(model, ground, option));
  addRunRows(model, ground, runs);
  const { orders, batches: bought } = addOrders(model, ground, mostMaltKg(ground));
  const batches = [...openingBatches(ground), ...runs.map((run) => runBatch(ground, run)), ...bought];
  const brews = ground.brews.map((brew) => addBrew(model, ground, brew, batches));
  const tanks = addBrewhouseAndTanks(model, ground, brews);
  const uses = brews.flatMap((brew) => brew.uses);
  addBatches(model, batches, uses);
  addReserve(model, ground, batches, uses);
  if (season.maltStore.places < PLACES_TO_SPARE) addPlaces(model, ground, batches, uses);
  const grain = grainOf(model, ground, runs);
  return { model, runs, orders, brews, tanks, grain };
}

/** More malt than four brews and the floors can ever use. */
function mostMaltKg({ season, ctx, floorKg }: Ground): number {
  const brewsKg = season.brews.reduce((sum, brew) => {
    const beer = ctx.beers.get(brew.beerId)!;
    return sum + (brew.volumeL ?? beer.volumeL) * beer.gravityP / 100 * 1.2 / beer.brewhouseEfficiency / 0.7;
  }, 0);
  return brewsKg + [...floorKg.values()].reduce((sum, one) => sum + one, 0);
}

/** Runs that cannot be made together, and the week's night turns. */
function addRunRows(model: LinearModel, ground: Ground, runs: readonly RunColumns[]): void {
  const days = new Map<number, number[]>();
  runs.forEach((one, place) => {
    days.set(one.option.startDay, [...days.get(one.option.startDay) ?? [], one.made]);
    for (const other of runs.slice(place + 1)) {
      if (one.option.startDay === other.option.startDay) continue;
      if (!goTogether(ground, one.option, other.option)) {
        model.row(-Infinity, 1, [[one.made, 1], [other.made, 1]]);
      }
    }
  });
  for (const columns of days.values()) model.row(-Infinity, 1, columns.map((column) => [column, 1]));
  const turning = ground.season.vessels.find((vessel) => vessel.stages.includes("bed"))!.turning;
  if (turning?.by !== "hand") return;
  for (const week of new Set(runs.flatMap(({ option }) => [...option.nights.keys()]))) {
    const turns = runs.map(({ option, made }) => [made, option.nights.get(week) ?? 0] as const);
    model.row(-Infinity, turning.mostNightTurnsPerWeek, turns);
  }
}
