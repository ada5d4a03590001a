import { askedExtractG } from "../../../core/audit/grists.ts";
import { dayNumber, weekday } from "../../../core/calendar.ts";
import type { Brew } from "../../../core/season/brewing.ts";
import type { LinearModel } from "../../../core/solve/linear.ts";
import type { Batch, Term } from "./batches.ts";
import type { Ground } from "./ground.ts";

/** Kilograms of a batch that go into a brew of a day. */
export interface Use {
  readonly batch: Batch;
  readonly lineId: string;
  readonly day: number;
  readonly column: number;
}

export interface BrewColumns {
  readonly brew: Brew;
  /** 1 on the day it is brewed. */
  readonly days: readonly { readonly day: number; readonly column: number }[];
  /** 1 when the promise is held. */
  readonly held: number;
  readonly uses: readonly Use[];
}

/** Days on which the brewhouse can make a brew. */
export function brewDays({ season, ctx }: Ground, brew: Brew): number[] {
  const { brewWeekdays, closed } = season.brewhouse;
  const days: number[] = [];
  const first = Math.max(dayNumber(brew.earliest), ctx.firstFreeDay);
  for (let day = first; day <= dayNumber(brew.latest); day++) {
    const isClosed = closed.some(({ from, to }) => dayNumber(from) <= day && day <= dayNumber(to));
    if (brewWeekdays.includes(weekday(day)) && !isClosed) days.push(day);
  }
  return days;
}

/** Adds one brew: its day, its grist line by line, its promise and the lots it asks for. */
export function addBrew(
  model: LinearModel,
  ground: Ground,
  brew: Brew,
  batches: readonly Batch[],
): BrewColumns {
  const beer = ground.ctx.beers.get(brew.beerId)!;
  const asked = askedExtractG(ground.ctx, beer, brew.volumeL ?? beer.volumeL);
  const uses: Use[] = [];
  const days = brewDays(ground, brew).map((day) => {
    const column = model.column(0, 0, 1, true);
    const fit = batches.filter((batch) => batch.readyDay <= day && day <= batch.bestDay);
    for (const line of beer.grist) {
      const askedKg = asked.get(line.id)! / 1000;
      const filled: Term[] = [[column, -askedKg]];
      const fill = (ingredient: { kind: string; maltId?: string }) =>
        fit.filter((batch) => ingredient.kind === "malt" && batch.maltId === ingredient.maltId).map(
          (batch) => {
            const use = {
              batch,
              lineId: line.id,
              day,
              column: model.column(0, 0, askedKg / batch.extractAsIs),
            };
            uses.push(use);
            return [use.column, batch.extractAsIs] as const;
          },
        );
      filled.push(...fill(line.ingredient));
      for (const instead of beer.substitutes.filter((one) => one.forLine === line.id)) {
        const terms = fill(instead.ingredient);
        filled.push(...terms);
        model.row(-Infinity, 0, [...terms, [column, -askedKg * instead.mostShare]]);
      }
      model.row(0, 0, filled);
    }
    return { day, column };
  });
  const made = days.map(({ column }) => [column, 1] as const);
  model.row(-Infinity, 1, made);
  const held = model.column(0, 0, 1, true);
  model.row(-Infinity, 0, [[held, 1], ...made.map(([column]) => [column, -1] as const)]);
  const promise = beer.homeSharePromise;
  if (promise > 0) {
    const least = Math.min(1, ...batches.map((batch) => batch.extractAsIs));
    const mostKg = promise * [...asked.values()].reduce((sum, one) => sum + one, 0) / 1000 / least;
    const terms = uses.map((use) => [use.column, (use.batch.home ? 1 : 0) - promise] as const);
    model.row(-mostKg, Infinity, [...terms, [held, -mostKg]]);
  }
  for (const { kind, ids, leastShare } of beer.requires) {
    if (kind !== "lot") throw new Error(`Beer ${beer.id} asks for fields, which the oracle does not trace.`);
    const terms = uses.map(({ batch, column }) => {
      const counts = ids.reduce((sum, lotId) => sum + (batch.lotShares.get(lotId) ?? 0), 0);
      return [column, Math.min(1, counts) - leastShare] as const;
    });
    model.row(0, Infinity, terms);
  }
  return { brew, days, held, uses };
}

/** 1 when a brew of a day goes into these tanks. */
export interface TankColumns {
  readonly brewId: string;
  readonly day: number;
  readonly tankIds: readonly string[];
  readonly column: number;
}

/** One brew a day where the brewhouse makes one, and every brew's tanks for as long as it needs them. */
export function addBrewhouseAndTanks(
  model: LinearModel,
  ground: Ground,
  brews: readonly BrewColumns[],
): TankColumns[] {
  const { season, ctx } = ground;
  const byDay = new Map<number, Term[]>();
  const found: TankColumns[] = [];
  const taken = new Map<string, { from: number; to: number; column: number }[]>();
  for (const { brew, days } of brews) {
    const beer = ctx.beers.get(brew.beerId)!, volumeL = brew.volumeL ?? beer.volumeL;
    for (const { day, column } of days) {
      byDay.set(day, [...byDay.get(day) ?? [], [column, 1]]);
      const free = season.tanks.filter((tank) =>
        season.opening.tanks.every((old) => old.tankId !== tank.id || dayNumber(old.freeOn) <= day)
      );
      const ways = [
        ...free.filter((tank) => tank.volumeL >= volumeL).map((tank) => [tank]),
        ...free.flatMap((tank, place) =>
          free.slice(place + 1).filter((other) => tank.volumeL + other.volumeL >= volumeL)
            .map((other) => [tank, other])
        ),
      ];
      const ways01 = ways.map((tanks) => {
        const way = model.column(0, 0, 1, true);
        found.push({ brewId: brew.id, day, tankIds: tanks.map((tank) => tank.id), column: way });
        for (const tank of tanks) {
          const stay = { from: day, to: day + beer.tankDays + tank.turnaroundDays, column: way };
          taken.set(tank.id, [...taken.get(tank.id) ?? [], stay]);
        }
        return [way, 1] as const;
      });
      model.row(0, 0, [...ways01, [column, -1]]);
    }
  }
  for (const terms of byDay.values()) model.row(-Infinity, season.brewhouse.brewsPerDay, terms);
  for (const stays of taken.values()) {
    // A tank is fullest on some day on which a brew goes in.
    for (const day of new Set(stays.map((stay) => stay.from))) {
      const there = stays.filter((stay) => stay.from <= day && day < stay.to);
      model.row(-Infinity, 1, there.map((stay) => [stay.column, 1]));
    }
  }
  return found;
}
