import { dayNumber, weekday } from "../calendar.ts";
import type { Contract } from "../season/brewing.ts";
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

/** The farm's malts, then crops, then the malts that customers have made of their own lots: each a material of its own. */
export function materialsOf(season: Season, offers: readonly Offer[]): Material[] {
  const malts = season.maltTypes.map((malt, index): Material => ({
    index,
    maltId: malt.id,
    maltIndex: index,
    owner: "farm",
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
    maltIndex: -1,
    owner: "farm",
    crop,
    malt: null,
    made: null,
    restDays: 0,
    shelfDays: 0,
    extract: 0,
    floorG: 0,
    offers: offers.filter((offer) => offer.material === malts.length + i),
  }));
  const customers = [...new Set(season.contracts.flatMap((one) => customerOf(season, one) ?? []))];
  const made = customers.flatMap((owner) => malts.map((malt) => ({ ...malt, owner, floorG: 0, offers: [] })));
  return [
    ...malts,
    ...grains,
    ...made.map((one, i) => ({ ...one, index: malts.length + grains.length + i })),
  ];
}

/** Whose lots a contract has malt made of; null where they are the farm's, or any will do. */
export function customerOf(season: Season, contract: Contract): string | null {
  if (contract.kind !== "sell-malt" || contract.lotIds === undefined) return null;
  return season.lots.find((lot) => contract.lotIds?.includes(lot.id) && lot.owner !== "farm")?.owner ?? null;
}
