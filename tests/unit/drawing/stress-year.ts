import type { BrewMark } from "../../../core/year/brews-band.ts";
import type { PlantingMark } from "../../../core/year/fields-band.ts";
import type { Lack, MaltRow } from "../../../core/year/malt-band.ts";
import type { RunMark } from "../../../core/year/malthouse-band.ts";
import type { LotStay, MustLeave, StoreRow } from "../../../core/year/stores-band.ts";
import type { TankClash } from "../../../core/year/tanks-band.ts";
import type { Year } from "../../../core/year/year.ts";

import { shortDay, tonnes } from "../../../islands/_charts/words.ts";

/** The longest name that a drawing has to bear, and that no two things share. */
const LONG = 40;

/** A name as long as it may reasonably get. */
function long(name: string): string {
  const words = `${name} of the upper northern valley behind the old mill`;
  return words.slice(0, LONG).trimEnd().padEnd(LONG, "e");
}

/**
 * The fullest year that the section has to bear, made of another one: every name forty characters, seventy weeks with
 * 160 brews and more than 60 runs, three lots in one bin one after another, two harvests, every bin to be cleared, three
 * vessels full at once, every malt short again and again, three tank clashes.
 */
export function stressed(year: Year): Year {
  return {
    ...year,
    farm: long(year.farm),
    fields: {
      plantings: [...year.fields.plantings, ...year.fields.plantings.flatMap(earlierHarvest)].map((one) => ({
        ...one,
        fieldNames: one.fieldNames.map(long),
        leftOutG: one.binG.likely / 4,
      })),
      breaks: year.fields.breaks.map((one) => ({
        ...one,
        fieldName: long(one.fieldName),
        crop: long(one.crop),
      })),
    },
    stores: year.stores.map((row, index) => crowdedStore(row, index, year)),
    malthouse: {
      runs: manyRuns(year).map((run) => ({ ...run, maltName: long(run.maltName) })),
      vessels: year.malthouse.vessels.map((vessel, index) => ({
        ...vessel,
        name: long(vessel.name),
        closures: vessel.closures.map((one) => ({ ...one, reason: long(one.reason) })),
        full: [0, 120].map((start) => ({
          from: year.firstDay + start + index * 11,
          to: year.firstDay + start + 100 + index * 40,
          openWeeks: 12,
          words: `${long(vessel.name)} is full`,
          text: `${long(vessel.name)} is full: no further run beside those planned`,
        })),
      })),
      pauses: year.malthouse.pauses.map((one) => ({ ...one, reason: long(one.reason) })),
    },
    malt: { ...year.malt, rows: year.malt.rows.map((row) => shortMalt(row, year)) },
    brews: manyBrews(year).map((brew) => ({ ...brew, beerName: long(brew.beerName) })),
    tanks: { ...year.tanks, clashes: [10, 200, 420].map((start) => clash(year.firstDay + start, year)) },
  };
}

/** A harvest ten months before another: the same fields, cut in the first weeks of the axis. */
function earlierHarvest(one: PlantingMark): PlantingMark[] {
  const early = (day: number) => day - 300;
  const { harvest } = one;
  if (one.state === "harvested") return [];
  return [{
    ...one,
    id: `${one.id}-before`,
    harvestYear: one.harvestYear - 1,
    drillDay: early(one.drillDay),
    atRiskUntil: null,
    harvest: { early: early(harvest.early), likely: early(harvest.likely), late: early(harvest.late) },
  }];
}

/** Three lots follow one another in every second store, and whatever leaves has to. */
function crowdedStore(row: StoreRow, index: number, year: Year): StoreRow {
  const stays = row.stays.map((stay) => ({ ...stay, name: long(stay.name) }));
  const [stay] = stays;
  const split = index % 2 === 0 || stay === undefined || row.kind === "bags"
    ? stays
    : threeLots(stay, stays.slice(1));
  const notes = row.departures.filter(({ kind, day }) => kind !== "counted" && day > year.asOf);
  return {
    ...row,
    name: long(row.name),
    stays: split,
    mustLeave: [
      ...row.mustLeave,
      ...notes.map((event): MustLeave => ({
        kind: event.kind === "moved out" ? "move" : "feed",
        refId: event.refId,
        node: event.node,
        storeId: row.id,
        storeName: long(row.name),
        toStoreId: event.otherStoreId,
        toStoreName: event.otherStoreId === null ? null : long("Bin"),
        lotId: event.lotId,
        letter: event.letter,
        massG: event.massG,
        onDay: event.day,
        byDay: event.day + 4,
        forecast: true,
        standing: event.standing,
        nextLotId: "next",
        nextLetter: "H",
        nextDay: event.day + 8,
        nextForecast: true,
        nextMassG: 20_000_000,
        words: {
          by: `by about ${shortDay(event.day + 4)}`,
          go: `${tonnes(event.massG)} must leave ${row.name} by about ${shortDay(event.day + 4)}`,
          where: event.kind === "moved out" ? `over to ${long("Bin")}` : "to feed",
          comes: `H 20.0 t comes about ${shortDay(event.day + 8)}`,
        },
      })),
    ],
  };
}

function threeLots(stay: LotStay, rest: readonly LotStay[]): LotStay[] {
  const third = Math.floor((stay.to - stay.from) / 3);
  const parts = [0, 1, 2].map((part): LotStay => {
    const from = stay.from + part * third, to = from + third - 4;
    return {
      ...stay,
      from,
      to,
      letter: ["P", "Q", "R"][part]!,
      levelsG: stay.levelsG.slice(0, third - 3),
      stretches: [
        { state: "asleep", from, to: from + 20 },
        { state: "ready", from: from + 21, to: to - 20 },
        {
          state: "past",
          from: to - 19,
          to,
        },
      ],
      lastMaltingDay: { day: to - 20, reason: long("sprouted") },
    };
  });
  return [...parts, ...rest];
}

function manyRuns({ malthouse, lastDay }: Year): RunMark[] {
  const shown = malthouse.runs.filter(({ stages }) => (stages[0]?.start ?? Infinity) < lastDay);
  const more = shown.slice(0, Math.max(0, 66 - shown.length)).map((run): RunMark => ({
    ...run,
    id: `${run.id}-again`,
    stages: run.stages.map((stage) => ({ ...stage, start: stage.start + 3, end: stage.end + 3 })),
  }));
  return [...malthouse.runs, ...more];
}

function manyBrews({ brews, lastDay }: Year): BrewMark[] {
  const shown = brews.filter(({ day }) => day <= lastDay);
  return [...brews, ...shown.slice(0, Math.max(0, 160 - shown.length))];
}

/** Every malt falls short four times. */
function shortMalt(row: MaltRow, year: Year): MaltRow {
  const lacks = [180, 215, 260, 400].map((start, index): Lack => {
    const firstDay = year.firstDay + start, lastDay = firstDay + 9 * (index + 1);
    return {
      maltId: row.maltId ?? row.key,
      maltName: long(row.name),
      firstDay,
      lastDay,
      backDay: lastDay + 5,
      massG: 250_000 * (index + 1),
      askedG: 900_000,
      boughtG: 0,
      days: [{ day: firstDay, massG: 100_000 }, { day: lastDay, massG: 150_000 }],
      brewIds: [],
      forecast: true,
      when: `about ${shortDay(firstDay)}, back about ${shortDay(lastDay + 5)}`,
      words: `home ${long(row.name)} runs short about ${shortDay(firstDay)}, back about ${
        shortDay(lastDay + 5)
      }`,
      weight: `${250 * (index + 1)} of 900 kg lacking`,
      text: `home ${long(row.name)} runs short about ${shortDay(firstDay)}, back about ${
        shortDay(lastDay + 5)
      }: ${250 * (index + 1)} of 900 kg lacking`,
    };
  });
  return { ...row, name: long(row.name), lacks: row.made === "bought" ? [] : lacks };
}

function clash(from: number, year: Year): TankClash {
  return {
    from,
    to: from + 16,
    asked: 14,
    open: year.tanks.tanks.length,
    days: [],
    brewIds: [],
    moved: [],
    unbrewed: [],
    text: `14 tanks of ${year.tanks.tanks.length} are asked for, ${
      long("Fresh Hop")
    } among them: nothing moves`,
  };
}
