import { dateOf, dayNumber } from "../calendar.ts";
import type { Book } from "../book/book.ts";
import { latestEnergy, lotClock } from "../season/clocks.ts";
import { forecastFills } from "../season/forecast.ts";
import { CROPS } from "../season/quantity.ts";
import { donPpmOf, holdsTreatedSeed, isLocked } from "../season/lock.ts";
import type { Season } from "../season/season.ts";
import type { GrainSale } from "./grain-sales.ts";
import type { Material, ProblemLot } from "./problem.ts";

/** Lots with their stock, clocks, firm wants and worth at the end. */
export function lotsOf(
  season: Season,
  book: Book,
  asOf: string,
  endDay: number,
  materials: readonly Material[],
  sales: readonly GrainSale[],
): ProblemLot[] {
  const asOfDay = dayNumber(dateOf(asOf));
  const fills = forecastFills(season, asOf);
  return season.lots.map((lot, index) => {
    const stock = [...(book.grain.get(lot.id) ?? [])].filter(([, massG]) => massG > 0).map((
      [storeId, massG],
    ) => ({
      store: season.stores.findIndex((store) => store.id === storeId),
      massG,
    }));
    const coming = fills.filter((fill) => fill.lotId === lot.id);
    const held = stock.reduce((sum, one) => sum + one.massG, 0);
    const don = donPpmOf(season, lot) ?? 0;
    const clocks = materials.slice(0, season.maltTypes.length).map((material) => {
      if (!material.malt || !material.made) return null;
      const clock = lotClock(season, lot, material.malt, asOf);
      return clock.blockedBy === "not suitable" ? null : clock;
    });
    const firm = [
      ...season.seedReserves.filter((one) => one.lotId === lot.id && dayNumber(one.on) >= asOfDay).map((
        one,
      ) => ({
        day: dayNumber(one.on),
        massG: one.massG,
        id: one.id,
        kind: "seed" as const,
      })),
      ...sales.flatMap(({ contract, day, massG }) =>
        contract.lotId === lot.id && day !== null
          ? [{ day, massG, id: contract.id, kind: "sale" as const }]
          : []
      ),
    ].sort((a, b) => a.day - b.day);
    const fit = clocks.some((clock) => clock !== null && clock.firstDay !== null && clock.lastDay > endDay);
    // A customer's grain is not the farm's to sell.
    const best = lot.owner !== "farm"
      ? 0
      : season.feedPickups.filter((one) =>
        one.crops.includes(lot.crop) && don <= one.donPpmMost && !holdsTreatedSeed(season, lot)
      )
        .reduce((most, one) => Math.max(most, one.perTonneCents), 0);
    return {
      index,
      id: lot.id,
      lot,
      crop: CROPS.indexOf(lot.crop),
      home: lot.origin === "own",
      stock,
      totalG: held + coming.reduce((sum, one) => sum + one.massG, 0),
      fromDay: held > 0 ? asOfDay : Math.max(asOfDay, ...coming.map((one) => one.day)),
      clocks,
      raw: lot.use === "raw" && lot.owner === "farm" && !isLocked(season, lot),
      endCentsPerG: fit ? best / 1e6 : 0,
      energy: latestEnergy(lot),
      firm,
      firmG: firm.reduce((sum, one) => sum + one.massG, 0),
    };
  });
}
