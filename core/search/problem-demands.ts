import { dateOf, dayNumber, weekday } from "../calendar.ts";
import type { Ingredient } from "../season/brewing.ts";
import { descends } from "../season/ancestry.ts";
import { maltDueG } from "../season/malt-deliveries.ts";
import { gristNeed } from "../season/need.ts";
import type { Season } from "../season/season.ts";
import { allBrewsToPlan } from "../season/tail.ts";
import type { Demand } from "./problem.ts";
import { customerOf } from "./problem-supply.ts";

/** Brews to plan, those of the tail, and malt contracts. */
export function demandsOf(
  season: Season,
  asOf: string,
  freeDay: number,
  endDay: number,
  materialOf: (maltId: string | null, crop: string | null, owner?: string) => number,
): Demand[] {
  const demands: Demand[] = [];
  const indexOf = (ingredient: Ingredient) =>
    ingredient.kind === "malt" ? materialOf(ingredient.maltId, null) : materialOf(null, ingredient.crop);
  const shut = season.brewhouse.closed.map((one) => [dayNumber(one.from), dayNumber(one.to)] as const);
  const open = (day: number) =>
    season.brewhouse.brewWeekdays.includes(weekday(day)) &&
    !shut.some(([from, to]) => day >= from && day <= to);
  const horizonDay = dayNumber(season.horizonEnd);
  // A booking may lie in the held days, but not in the past, on a closed day or outside the brew's window.
  const mayStand = (day: number, brew: { earliest: string; latest: string }) =>
    day >= dayNumber(dateOf(asOf)) && day >= dayNumber(brew.earliest) && day <= dayNumber(brew.latest) &&
    open(day);
  for (const brew of allBrewsToPlan(season, asOf)) {
    const beer = season.beers.find((one) => one.id === brew.beerId);
    if (!beer) continue;
    const booking = season.bookings.brews.find((one) => one.brewId === brew.id);
    const booked = booking && mayStand(dayNumber(booking.on), brew) ? dayNumber(booking.on) : null;
    const wanted = booked ?? dayNumber(brew.on);
    const days: number[] = [];
    const last = Math.min(dayNumber(brew.latest), endDay);
    for (let day = Math.max(dayNumber(brew.earliest), freeDay); day <= last; day++) {
      if (open(day)) days.push(day);
    }
    days.sort((a, b) => Math.abs(a - wanted) - Math.abs(b - wanted) || a - b);
    demands.push({
      index: demands.length,
      id: brew.id,
      kind: "brew",
      beerId: beer.id,
      class: brew.id.startsWith("tail-") && dayNumber(brew.on) > horizonDay ? 4 : brew.class,
      wanted,
      days: booked ? [booked] : days,
      lines: gristNeed(season, brew).filter((need) => need.extractG > 0).map((need) => ({
        lineId: need.lineId,
        material: indexOf(need.ingredient),
        extractG: need.extractG,
        bookMassG: need.bookMassG,
        substitutes: beer.substitutes.filter((one) => one.forLine === need.lineId).map((one) => ({
          material: indexOf(one.ingredient),
          mostShare: one.mostShare,
        })),
      })),
      volumeL: brew.volumeL ?? beer.volumeL,
      tankDays: beer.tankDays,
      promise: beer.homeSharePromise,
      requires: beer.requires.filter((one) => one.leastShare > 0).map((one) => ({
        leastShare: one.leastShare,
        unmixed: one.unmixed,
        counts: season.lots.map((lot) => descends(season, lot.id, one.kind, one.ids, one.unmixed)),
      })),
      booked: booked !== null,
      saleCents: 0,
    });
  }
  for (const contract of season.contracts) {
    // One that begins after the horizon is the next plan's.
    if (contract.kind !== "sell-malt" || contract.to < dateOf(asOf)) continue;
    if (contract.from > season.horizonEnd) continue;
    const massG = maltDueG(season, contract);
    if (massG <= 0) continue;
    const material = materialOf(contract.maltId, null, customerOf(season, contract) ?? "farm");
    const days: number[] = [];
    for (
      let day = Math.max(dayNumber(contract.from), freeDay);
      day <= Math.min(dayNumber(contract.to), endDay);
      day++
    ) days.push(day);
    const malt = season.maltTypes.find((one) => one.id === contract.maltId);
    if (!malt || material < 0) continue;
    demands.push({
      index: demands.length,
      id: contract.id,
      kind: "sale",
      beerId: "",
      class: contract.class,
      wanted: dayNumber(contract.to),
      days: days.reverse(),
      lines: [{
        lineId: "malt",
        material,
        extractG: massG * malt.extractCoarseDb * (1 - malt.maltMoistureWb),
        bookMassG: massG,
        substitutes: [],
      }],
      volumeL: 0,
      tankDays: 0,
      promise: 0,
      requires: contract.lotIds === undefined ? [] : [{
        leastShare: 1,
        unmixed: true,
        counts: season.lots.map((lot) => contract.lotIds?.includes(lot.id) ?? false),
      }],
      booked: false,
      saleCents: Math.round(contract.perTonneCents * massG / 1e6),
    });
  }
  return demands;
}
