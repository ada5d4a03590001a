import { expect, test } from "vitest";
import { dayNumber } from "../../../core/calendar.ts";
import { batchesOf } from "../../../core/year/batches.ts";
import type { OrderFact } from "../../../core/year/journal.ts";
import { handSeason } from "../audit/_hand-season.ts";

test("an order that came before the opening position is in its stocks, one of that day is not", () => {
  const season = handSeason();
  const order = (id: string, on: string) => ({
    id,
    offerId: season.supplyOffers[0]!.id,
    batchId: `${id}-malt`,
    massG: 100_000,
    arriveDay: dayNumber(on),
  });
  const orders = [order("older", "2027-01-03"), order("newer", "2027-01-04")] as unknown as OrderFact[];
  const ids = [...batchesOf(season, null, [], orders).keys()];
  expect(ids).not.toContain("older-malt");
  expect(ids).toContain("newer-malt");
});
