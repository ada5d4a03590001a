import { describe, expect, test } from "vitest";
import { bookAt } from "../../../core/book/book.ts";
import { dateOf, dayNumber } from "../../../core/calendar.ts";
import { demoSeason } from "../../_support/demo.ts";

const season = demoSeason();
const { opening, records } = season;

/** Moments before, between and on the days of the demo's records. */
const MOMENTS = [
  "2026-08-31T00:00",
  "2026-09-08T07:59",
  "2026-09-08T08:00",
  "2026-09-21T12:00",
  "2026-09-22T12:00",
  "2026-11-15T09:30",
  "2026-12-31T20:00",
  season.asOf,
];

/** Opening stock of a lot in a store less what the records took from it by the end of `day`. */
function grainG(lotId: string, storeId: string, day: string): number {
  const here = (one: { lotId?: string | undefined; storeId?: string | undefined }) =>
    one.lotId === lotId && one.storeId === storeId;
  let massG = 0;
  for (const one of opening.grain) if (here(one)) massG += one.massG;
  for (const run of records.runs) {
    if (dateOf(run.steepInAt) > day) continue;
    for (const draw of run.draws) if (here(draw)) massG -= draw.massG;
  }
  for (const brew of records.brews) {
    if (brew.on > day) continue;
    for (const { from, massG: usedG } of brew.grist) if (from.kind === "lot" && here(from)) massG -= usedG;
  }
  for (const one of records.deliveries) if (one.on <= day && here(one)) massG -= one.massG;
  for (const one of records.adjustments) if (one.on <= day && here(one)) massG += one.deltaG;
  for (const one of season.seedReserves) {
    const from = opening.grain.find((pile) => pile.lotId === one.lotId)?.storeId;
    // Today's seed is still to be taken: it stands in the plan.
    if (one.on < day && one.lotId === lotId && from === storeId) massG -= one.massG;
  }
  return massG;
}

/** Weight of every batch at `asOf`: opening, stripped and bought, less what brews and stocktakes took. */
function batchesG(asOf: string): Record<string, number> {
  const massG: Record<string, number> = {};
  for (const one of opening.malt) massG[one.id] = one.massG;
  for (const run of records.runs) {
    if (
      run.stripAt === undefined || run.stripAt > asOf || run.outcome === "dumped" || run.outcome === "feed"
    ) {
      continue;
    }
    for (const output of run.outputs) massG[output.batchId] = output.massG;
  }
  for (const order of records.orders) {
    massG[order.batchId] = order.packs * season.supplyOffers.find((one) => one.id === order.offerId)!.packG;
  }
  for (const brew of records.brews) {
    if (brew.on > dateOf(asOf)) continue;
    for (const use of brew.grist) if (use.from.kind === "batch") massG[use.from.batchId]! -= use.massG;
  }
  for (const one of records.adjustments) {
    if (one.batchId !== undefined && one.on <= dateOf(asOf)) massG[one.batchId]! += one.deltaG;
  }
  return Object.fromEntries(Object.entries(massG).filter(([, left]) => left > 0));
}

describe("the demo farm's book", () => {
  test("holds records of these kinds only, or the sums below are not the whole", () => {
    const { feedLoads, moves, mixes, fills } = records;
    expect([feedLoads, moves, mixes, fills]).toEqual([[], [], [], []]);
    expect(records.runs.every((run) => run.steepInAt >= season.positionAt)).toBe(true);
  });

  test.each(MOMENTS)("at %s every store holds its opening stock less what was recorded by then", (asOf) => {
    const { grain } = bookAt(season, asOf);
    const held = [...grain].flatMap(([lot, stores]) => [...stores].map(([store, g]) => [lot, store, g]));
    expect(held.length).toBeGreaterThanOrEqual(opening.grain.length);
    expect(held).toEqual(
      held.map(([lot, store]) => [lot, store, grainG(String(lot), String(store), dateOf(asOf))]),
    );
  });

  test.each(MOMENTS)("at %s every batch weighs what came less what was brewed", (asOf) => {
    const { batches } = bookAt(season, asOf);
    expect(Object.fromEntries(batches.map((batch) => [batch.id, batch.massG]))).toEqual(batchesG(asOf));
  });

  test("bin 5 is delivered, malted and swept empty on 22 September, and not before", () => {
    const at = (asOf: string) => {
      const { grain, emptiedDay } = bookAt(season, asOf);
      return [grain.get("lot-z")!.get("bin-5"), emptiedDay.get("bin-5")];
    };
    // Two runs of 1,040 kg, 1,100 kg sold and 20 kg of sweepings out of 3,200 kg.
    expect(at("2026-09-21T23:59")).toEqual([1_120_000, undefined]);
    expect(at("2026-09-22T00:00")).toEqual([0, dayNumber("2026-09-22")]);
  });

  test("malt comes in when it is stripped, rests, and is home-made of its lots", () => {
    const batch = (asOf: string) => bookAt(season, asOf).batches.find((one) => one.id === "pale-run-01");
    expect(batch("2026-09-08T07:59")).toBeUndefined();
    const pale = season.maltTypes.find((one) => one.id === "pale")!;
    const strip = dayNumber("2026-09-08");
    expect(batch("2026-09-08T08:00")).toMatchObject({
      massG: 825_300,
      home: true,
      lots: [{ lotId: "lot-z", share: 1 }],
      arrivesDay: strip,
      readyDay: strip + pale.restDays,
      lastDay: strip + pale.shelfLifeDays,
    });
  });

  test("malt of two lots has them in it by the weight drawn of each", () => {
    const farm = structuredClone(season);
    const run = farm.records.runs.find((one) => one.outputs.some((out) => out.batchId === "pale-run-01"))!;
    const [draw] = run.draws;
    run.draws = [{ ...draw!, massG: draw!.massG * 0.75 }, {
      ...draw!,
      lotId: "lot-a",
      massG: draw!.massG / 4,
    }];
    const { batches } = bookAt(farm, "2026-09-08T08:00");
    expect(batches.find((one) => one.id === "pale-run-01")!.lots).toEqual([
      { lotId: "lot-z", share: 0.75 },
      { lotId: "lot-a", share: 0.25 },
    ]);
  });

  test("a tank is free when the last of its beers, and the cleaning after it, is over", () => {
    const { tankFree } = bookAt(season, season.asOf);
    for (const tank of season.tanks) {
      const days = opening.tanks.filter((one) => one.tankId === tank.id).map((one) => dayNumber(one.freeOn));
      for (const record of records.brews) {
        if (!record.tanks.some((one) => one.tankId === tank.id)) continue;
        const brew = season.brews.find((one) => one.id === record.brewId)!;
        const beer = season.beers.find((one) => one.id === brew.beerId)!;
        days.push(dayNumber(record.on) + beer.tankDays + tank.turnaroundDays);
      }
      expect([tank.id, tankFree.get(tank.id)]).toEqual([
        tank.id,
        days.length > 0 ? Math.max(...days) : undefined,
      ]);
    }
    expect(tankFree.size).toBeGreaterThan(0);
  });

  test("runs are over when they are stripped or given up", () => {
    const { runsEnded, runsUnderWay } = bookAt(season, season.asOf);
    const ends = records.runs.map((run) => ({ id: run.id, end: run.endedAt ?? run.stripAt ?? "to come" }));
    expect(ends.filter((one) => one.end === "to come")).not.toEqual([]);
    expect(runsEnded.map((run) => run.id)).toEqual(
      ends.filter((one) => one.end <= season.asOf).map((one) => one.id),
    );
    expect(runsUnderWay.map((run) => run.id)).toEqual(
      ends.filter((one) => one.end > season.asOf).map((one) => one.id),
    );
  });
});
