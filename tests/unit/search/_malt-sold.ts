import { addDays } from "../../../core/calendar.ts";
import type { Season } from "../../../core/season/season.ts";
import { FIRST_DAY, fourTonneHouse } from "../outside/planner/_four-tonne-house.ts";

export const T = 1_000_000;

/** Ten tonnes of pale in store, six of them sold, of which so much has gone. */
export function soldOf(deliveredG: readonly number[]): Season {
  const season = fourTonneHouse({ germinationHours: 96, cleaningHours: 0 });
  return {
    ...season,
    brews: [],
    opening: {
      ...season.opening,
      malt: [{
        id: "old-pale",
        ingredient: { kind: "malt", maltId: "pale" },
        massG: 10 * T,
        home: true,
        lotIds: ["barley"],
        madeOn: addDays(FIRST_DAY, -60),
        readyOn: addDays(FIRST_DAY, -30),
        bestBefore: addDays(FIRST_DAY, 300),
        extractAsIs: 0.79,
      }],
    },
    contracts: [{
      kind: "sell-malt",
      id: "sale",
      party: "a brewer down the road",
      maltId: "pale",
      massG: 6 * T,
      from: FIRST_DAY,
      to: addDays(FIRST_DAY, 60),
      perTonneCents: 100_000,
      class: 1,
    }],
    records: {
      ...season.records,
      maltDeliveries: deliveredG.map((massG, i) => ({
        id: `delivery-${i}`,
        contractId: "sale",
        on: FIRST_DAY,
        batchId: "old-pale",
        massG,
      })),
    },
  };
}
