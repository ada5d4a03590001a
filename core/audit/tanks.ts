/** Fermenters: room, shares, one beer at a time, not closed. */
import { dayNumber } from "../calendar.ts";
import type { Tank } from "../season/brewing.ts";
import { instant, instantOf } from "../zone.ts";
import { type Breach, breach } from "./breach.ts";
import { wortL } from "./brews.ts";
import type { Context } from "./context.ts";
import { dayWords, spoken } from "./words.ts";

/** Volumes are whole millilitres. */
const TOLERANCE_L = 0.001 + 1e-9;

interface TankStay {
  readonly brewId: string;
  readonly start: number;
  /** First day another beer may go in. */
  readonly end: number;
  readonly planned: boolean;
}

function volumes(ctx: Context): Breach[] {
  const found: Breach[] = [];
  for (const brew of ctx.plan.brews) {
    const day = dayNumber(brew.on), should = wortL(ctx, brew);
    const sum = brew.tanks.reduce((all, fill) => all + fill.volumeL, 0);
    if (should !== undefined && Math.abs(sum - should) > TOLERANCE_L) {
      const message = `The tanks of brew ${brew.id} take ${spoken(sum, 3)} L of its ${spoken(should, 3)} L.`;
      const is = `${spoken(sum, 3)} L`, limit = `${spoken(should, 3)} L`;
      found.push(breach("tank-shares", brew.id, day, is, limit, message));
    }
    for (const fill of brew.tanks) {
      const tank = ctx.tanks.get(fill.tankId);
      if (tank === undefined || fill.volumeL <= tank.volumeL + 1e-9) continue;
      const is = `${spoken(fill.volumeL, 3)} L`, limit = `${spoken(tank.volumeL, 3)} L`;
      const message = `Brew ${brew.id} puts ${is} into ${tank.name}, which holds ${limit}.`;
      found.push(breach("tank-volume", brew.id, day, is, limit, message));
    }
  }
  return found;
}

function staysByTank(ctx: Context): Map<string, TankStay[]> {
  const byTank = new Map<string, TankStay[]>();
  const add = (tankId: string, stay: TankStay) => {
    const list = byTank.get(tankId);
    if (list === undefined) byTank.set(tankId, [stay]);
    else list.push(stay);
  };
  const beerOf = new Map(ctx.season.brews.map((brew) => [brew.id, brew.beerId]));
  const enter = (
    brew: { tanks: readonly { tankId: string }[]; on: string },
    id: string,
    beerId: string | undefined,
    planned: boolean,
  ) => {
    const start = dayNumber(brew.on), days = ctx.beers.get(beerId ?? "")?.tankDays ?? 0;
    for (const { tankId } of brew.tanks) {
      const end = start + days + (ctx.tanks.get(tankId)?.turnaroundDays ?? 0);
      add(tankId, { brewId: id, start, end, planned });
    }
  };
  for (const brew of ctx.season.records.brews) enter(brew, brew.brewId, beerOf.get(brew.brewId), false);
  for (const brew of ctx.plan.brews) enter(brew, brew.id, brew.beerId, true);
  for (const { tankId, what, freeOn } of ctx.season.opening.tanks) {
    add(tankId, { brewId: what, start: -Infinity, end: dayNumber(freeOn), planned: false });
  }
  for (const list of byTank.values()) list.sort((a, b) => a.start - b.start || a.end - b.end);
  return byTank;
}

function oneTank(ctx: Context, tank: Tank, stays: readonly TankStay[]): Breach[] {
  const found: Breach[] = [];
  let before: TankStay | undefined;
  for (const stay of stays) {
    if (before !== undefined && stay.start < before.end && (stay.planned || before.planned)) {
      const thing = stay.planned ? stay.brewId : before.brewId;
      const limit = `${dayWords(before.end)} or later`;
      const message = `Brew ${stay.brewId} goes into ${tank.name} on ${dayWords(stay.start)}, which ` +
        `${before.brewId} leaves clean on ${dayWords(before.end)}.`;
      found.push(breach("tank-taken", thing, stay.start, dayWords(stay.start), limit, message));
    }
    if (before === undefined || stay.end > before.end) before = stay;
  }
  for (const closure of tank.closures) {
    const from = instant(ctx.zone, closure.from), to = instant(ctx.zone, closure.to);
    for (const stay of stays) {
      if (!stay.planned) continue;
      if (instantOf(ctx.zone, stay.start, 0) >= to || from >= instantOf(ctx.zone, stay.end, 0)) continue;
      const message = `${tank.name} is closed from ${closure.from} to ${closure.to} (${closure.reason}), ` +
        `but brew ${stay.brewId} has it from ${dayWords(stay.start)} to ${dayWords(stay.end)}.`;
      const limit = `closed to ${closure.to}`;
      found.push(breach("tank-closed", stay.brewId, stay.start, dayWords(stay.start), limit, message));
    }
  }
  return found;
}

/** Every tank and every brew's share of it. */
export function tanksHold(ctx: Context): Breach[] {
  const stays = staysByTank(ctx);
  return [
    ...volumes(ctx),
    ...ctx.season.tanks.flatMap((tank) => oneTank(ctx, tank, stays.get(tank.id) ?? [])),
  ];
}
