/** The book of a made season with one record more, in weights that can be added up by eye. */
import { describe, expect, test } from "vitest";
import { bookAt } from "../../../core/book/book.ts";
import { addDays, dayNumber } from "../../../core/calendar.ts";
import { microSeason } from "../../../core/generate/micro.ts";
import type { Season } from "../../../core/season/season.ts";

const base = microSeason(13, "plain");
const [lot] = base.lots, [batch] = base.opening.malt;
const today = base.asOf.slice(0, 10);
const on = addDays(today, -5), later = addDays(today, -4);

/** Ten days before as-of a tonne of one lot lay in bin one, and a tonne of one malt in the store. */
function opened(): Season {
  const season = structuredClone(base);
  season.positionAt = `${addDays(today, -10)}T06:00`;
  season.opening.grain = [{ lotId: lot!.id, storeId: "bin-one", massG: 1_000_000 }];
  season.opening.malt = [{ ...batch!, massG: 1_000_000 }];
  return season;
}

const at = (massG: number) => ({ lotId: lot!.id, storeId: "bin-one", massG });
const fill = (day: string, massG: number) => ({ id: `fill-${day}`, on: day, ...at(massG) });
const drawn = (day: string, massG: number) => ({
  id: `load-${day}`,
  pickupId: "any",
  on: day,
  items: [at(massG)],
});
const counted = (day: string, deltaG: number) => ({
  id: `count-${day}`,
  on: day,
  lotId: lot!.id,
  storeId: "bin-one",
  deltaG,
  reason: "weighed",
});

function binOne(change: (season: Season) => void) {
  const season = opened();
  change(season);
  const { grain, emptiedDay } = bookAt(season, season.asOf);
  return { massG: grain.get(lot!.id)?.get("bin-one"), emptiedDay: emptiedDay.get("bin-one") };
}

describe("grain", () => {
  test("filled and drawn on one day is the difference, in whichever order the records stand", () => {
    expect(binOne(({ opening, records }) => {
      opening.grain = [];
      records.fills.push(fill(on, 5_000_000));
      records.feedLoads.push(drawn(on, 1_000_000));
    })).toEqual({ massG: 4_000_000, emptiedDay: undefined });
  });

  test("an overdraw that a count sets right leaves nothing", () => {
    const short = ({ records }: Season) => void records.feedLoads.push(drawn(on, 1_050_000));
    expect(binOne(short)).toEqual({ massG: 0, emptiedDay: dayNumber(on) });
    expect(binOne((season) => {
      short(season);
      season.records.adjustments.push(counted(later, 50_000));
    })).toEqual({ massG: 0, emptiedDay: dayNumber(later) });
  });

  test("a bin is emptied by the end of a day, not between two records of it", () => {
    expect(binOne(({ records }) => {
      records.feedLoads.push(drawn(on, 1_000_000));
      records.fills.push(fill(on, 10));
    })).toEqual({ massG: 10, emptiedDay: undefined });
  });

  test("a bin that was emptied and filled with the same lot again holds it", () => {
    expect(binOne(({ records }) => {
      records.feedLoads.push(drawn(on, 1_000_000));
      records.fills.push(fill(later, 10));
    })).toEqual({ massG: 10, emptiedDay: undefined });
  });
});

test("malt that was delivered under a contract is gone from its batch from its day on", () => {
  const massG = (day: string, asOf = today) => {
    const season = opened();
    season.records.maltDeliveries = [
      { id: "delivery", contractId: "any", on: day, batchId: batch!.id, massG: 300_000 },
    ];
    return bookAt(season, `${asOf}T06:00`).batches.find((one) => one.id === batch!.id)?.massG;
  };
  expect([massG(on), massG(on, on), massG(later, on)]).toEqual([700_000, 700_000, 1_000_000]);
  // What went before the stocks were counted is in them.
  expect(massG(addDays(today, -11))).toBe(1_000_000);
});

test("a batch overdrawn and set right by a count is used up", () => {
  const season = opened(), [brew] = season.brews;
  season.records.brews.push({
    brewId: brew!.id,
    on,
    tanks: [{ tankId: "tank-two", volumeL: 500 }],
    grist: [{ lineId: "any", from: { kind: "batch", batchId: batch!.id }, massG: 1_050_000 }],
  });
  const count = { id: "count", on: later, batchId: batch!.id, deltaG: 50_000, reason: "weighed" };
  season.records.adjustments.push(count);
  expect(bookAt(season, season.asOf).batches).toEqual([]);
  count.deltaG = 50_001;
  season.records.adjustments = [count];
  expect(bookAt(season, season.asOf).batches.map(({ massG }) => massG)).toEqual([1]);
});
