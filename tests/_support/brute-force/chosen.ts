import { isoDate } from "../../../core/calendar.ts";
import type { Brew, FeedPickup, SupplyOffer } from "../../../core/season/brewing.ts";
import type { LinearModel } from "../../../core/solve/linear.ts";
import type { OrderColumns, RunColumns } from "./batches.ts";
import type { BrewColumns, TankColumns } from "./brew-rows.ts";
import type { RunOption } from "./run-options.ts";
import type { GrainColumns } from "./grain-rows.ts";

/** All columns of one model. */
export interface Columns {
  readonly model: LinearModel;
  readonly runs: readonly RunColumns[];
  readonly orders: readonly OrderColumns[];
  readonly brews: readonly BrewColumns[];
  readonly tanks: readonly TankColumns[];
  readonly grain: GrainColumns;
}

/** A weight out of a store, or into one. */
export interface Taken {
  readonly lotId: string;
  readonly storeId: string;
  readonly massKg: number;
}

/** What a solved model says is done. Weights are kilograms, days are day numbers. */
export interface Chosen {
  readonly runs: readonly { readonly option: RunOption; readonly draws: readonly Taken[] }[];
  readonly orders: readonly { readonly offer: SupplyOffer; readonly day: number; readonly packs: number }[];
  readonly feed: readonly {
    readonly pickup: FeedPickup;
    readonly day: number;
    readonly items: readonly Taken[];
  }[];
  readonly seed: readonly (Taken & { readonly reserveId: string; readonly day: number })[];
  readonly moves: readonly (Taken & { readonly toStoreId: string; readonly day: number })[];
  readonly fills: readonly (Taken & { readonly day: number })[];
  readonly brews: readonly {
    readonly brew: Brew;
    readonly day: number;
    readonly held: boolean;
    readonly tankIds: readonly string[];
    readonly uses: readonly { readonly lineId: string; readonly group: string; readonly massKg: number }[];
  }[];
}

/** A use below this is the solver's dust. */
const DUST_KG = 1e-4;

/** Reads a solution. */
export function chosenOf(values: Float64Array, { runs, orders, brews, tanks, grain }: Columns): Chosen {
  const value = (column: number) => values[column]!;
  const on = (column: number) => value(column) > 0.5;
  const taken = <T extends { column: number }>(all: readonly T[]) =>
    all.filter(({ column }) => value(column) > DUST_KG).map((one) => ({ ...one, massKg: value(one.column) }));
  return {
    runs: runs.filter((run) => on(run.made)).map(({ option, draws }) => ({ option, draws: taken(draws) })),
    orders: orders.filter((order) => on(order.placed))
      .map(({ offer, day, packs }) => ({ offer, day, packs: Math.round(value(packs)) })),
    feed: grain.feed.filter((load) => on(load.fetched))
      .map(({ pickup, day, items }) => ({ pickup, day, items: taken(items) })),
    seed: taken(grain.seed),
    moves: taken(grain.moves).map((move) => ({ ...move, storeId: move.fromStoreId })),
    fills: taken(grain.fills),
    brews: brews.flatMap(({ brew, days, held, uses }) => {
      const day = days.find(({ column }) => on(column))?.day;
      if (day === undefined) return [];
      const inTanks = tanks.find((way) => way.brewId === brew.id && way.day === day && on(way.column))!;
      return [{
        brew,
        day,
        held: on(held),
        tankIds: inTanks.tankIds,
        uses: uses.filter((use) => use.day === day && value(use.column) > DUST_KG).map((use) => ({
          lineId: use.lineId,
          group: use.batch.group,
          massKg: value(use.column),
        })),
      }];
    }),
  };
}

/** Runs, orders, feed, moves, fills and brew days in one line. */
export function inWords({ runs, orders, feed, moves, fills, brews }: Chosen): string {
  const kg = (massKg: number) => `${massKg.toFixed(1)} kg`;
  return [
    ...runs.map(({ option, draws }) =>
      `run ${option.name}: ${draws.map((draw) => `${draw.storeId} ${kg(draw.massKg)}`).join(" + ")}`
    ),
    ...orders.map(({ offer, day, packs }) => `order ${isoDate(day)} ${offer.id}: ${packs} packs`),
    ...feed.map(({ pickup, day, items }) =>
      `feed ${isoDate(day)} ${pickup.id}: ${
        items.map((item) => `${item.lotId} ${item.storeId} ${kg(item.massKg)}`).join(" + ")
      }`
    ),
    ...moves.map((move) =>
      `move ${isoDate(move.day)} ${move.lotId}: ${kg(move.massKg)} from ${move.storeId} to ${move.toStoreId}`
    ),
    ...fills.map((fill) => `fill ${isoDate(fill.day)} ${fill.storeId}: ${fill.lotId} ${kg(fill.massKg)}`),
    ...brews.map(({ brew, day, held }) => `${brew.id} ${isoDate(day)}${held ? "" : " home-short"}`),
  ].join("; ");
}
