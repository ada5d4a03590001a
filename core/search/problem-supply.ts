import { dayNumber, weekday } from "../calendar.ts";
import { reserveFloorG } from "../season/need.ts";
import { CROPS } from "../season/quantity.ts";
import type { Season } from "../season/season.ts";
import type { Material, Offer } from "./problem.ts";

/** Supply offers with the days on which an order could arrive. */
export function offersOf(season: Season, asOfDay: number, endDay: number): Offer[] {
  return season.supplyOffers.map((offer, index) => {
    const { ingredient } = offer;
    const arrivals: number[] = [];
    const last = Math.min(dayNumber(offer.to), endDay - offer.leadDays);
    for (let day = Math.max(dayNumber(offer.from), asOfDay); day <= last; day++) {
      if (offer.orderWeekdays.includes(weekday(day))) arrivals.push(day + offer.leadDays);
    }
    return {
      id: offer.id,
      index,
      material: ingredient.kind === "malt"
        ? season.maltTypes.findIndex((malt) => malt.id === ingredient.maltId)
        : season.maltTypes.length + CROPS.indexOf(ingredient.crop),
      packG: offer.packG,
      leastPacks: offer.leastPacks,
      packCents: offer.packCents,
      freightCents: offer.freightCents,
      extract: offer.extractAsIs,
      shelfDays: offer.shelfLifeDays,
      leadDays: offer.leadDays,
      arrivals,
    };
  });
}

/** Malts, then crops. */
export function materialsOf(season: Season, offers: readonly Offer[]): Material[] {
  const malts = season.maltTypes.map((malt, index): Material => ({
    index,
    maltId: malt.id,
    crop: null,
    malt,
    made: malt.made.from === "grain" ? malt.made : null,
    restDays: malt.restDays,
    shelfDays: malt.shelfLifeDays,
    extract: malt.extractCoarseDb * (1 - malt.maltMoistureWb),
    floorG: reserveFloorG(season, malt),
    offers: offers.filter((offer) => offer.material === index),
  }));
  const grains = CROPS.map((crop, i): Material => ({
    index: malts.length + i,
    maltId: null,
    crop,
    malt: null,
    made: null,
    restDays: 0,
    shelfDays: 0,
    extract: 0,
    floorG: 0,
    offers: offers.filter((offer) => offer.material === malts.length + i),
  }));
  return [...malts, ...grains];
}
