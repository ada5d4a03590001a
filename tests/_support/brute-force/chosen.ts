import { isoDate } from "../../../core/calendar.ts";
import type { Brew, FeedPickup, SupplyOffer } from "../../../core/season/brewing.ts";
import type { LinearModel } from "../../../core/solve/linear.ts";
import type { OrderColumns, RunColumns } from "./batches.ts";
import type { BrewColumns, TankColumns } from "./brew-rows.ts";
import type { RunOption } from "./run-options.ts";
import type { FeedColumns } from "./stock-rows.ts";

/** All columns of one model. */
export interface Columns {
  readonly model: LinearModel;
  readonly runs: readonly RunColumns[];
  readonly orders: readonly OrderColumns[];
  readonly brews: readonly BrewColumns[];
  readonly tanks: readonly TankColumns[];
  readonly feed: readonly FeedColumns[];
  /** Money of doing nothing, in whole currency units. */
  readonly baseMoney: number;
}

/** What a solved model says is done. Weights are kilograms, days are day numbers. */
export interface Chosen {
  readonly runs: readonly { readonly option: RunOption; readonly drawsKg: readonly number[] }[];
  readonly orders: readonly { readonly offer: SupplyOffer; readonly day: number; readonly packs: number }[];
  readonly feed: readonly {
    readonly pickup: FeedPickup;
    readonly day: number;
    readonly items: readonly { readonly lotId: string; readonly massKg: number }[];
  }[];
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
export function chosenOf(values: Float64Array, { runs, orders, brews, tanks, feed }: Columns): Chosen {
  const value = (column: number) => values[column]!;
  const on = (column: number) => value(column) > 0.5;
  return {
    runs: runs.filter((run) => on(run.made))
      .map(({ option, draws }) => ({ option, drawsKg: draws.map(value) })),
    orders: orders.filter((order) => on(order.placed))
      .map(({ offer, day, packs }) => ({ offer, day, packs: Math.round(value(packs)) })),
    feed: feed.filter((load) => on(load.fetched)).map(({ pickup, day, byLot }) => ({
      pickup,
      day,
      items: [...byLot].map(([lotId, column]) => ({ lotId, massKg: value(column) })),
    })),
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

/** Runs, orders, feed and brew days in one line. */
export function inWords({ runs, orders, feed, brews }: Chosen): string {
  const kg = (massKg: number) => `${massKg.toFixed(1)} kg`;
  return [
    ...runs.map(({ option, drawsKg }) => `run ${option.name}: ${drawsKg.map(kg).join(" + ")}`),
    ...orders.map(({ offer, day, packs }) => `order ${isoDate(day)} ${offer.id}: ${packs} packs`),
    ...feed.map(({ pickup, day, items }) =>
      `feed ${isoDate(day)} ${pickup.id}: ${
        items.map((item) => `${item.lotId} ${kg(item.massKg)}`).join(" + ")
      }`
    ),
    ...brews.map(({ brew, day, held }) => `${brew.id} ${isoDate(day)}${held ? "" : " home-short"}`),
  ].join("; ");
}
