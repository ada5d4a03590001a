import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Problem } from "../../../core/search/problem.ts";
import type { Slot } from "../../../core/search/slots.ts";
import { VesselBoard } from "../../../core/search/vessels.ts";

const CROPS = ["barley", "wheat", "rye"] as const;
const MOST_NIGHTS = 5;

/** Hours from one crop to the next, and from a crop to itself; odd ones, so that no two rules look alike. */
const hoursBetween = (vessel: number, from: number, to: number) =>
  from === to ? 2 + vessel : 5 + 7 * vessel + 3 * from + to;

/** Three vessels: the first steeps and holds a bed, the second is a bed turned by hand, the third a kiln and a bed. */
const problem = {
  season: {
    zone: "UTC",
    lots: [],
    vessels: [0, 1, 2].map((vessel) => ({
      id: `v${vessel}`,
      cleaningHours: 2 + vessel,
      changeOver: CROPS.flatMap((from, f) =>
        CROPS.flatMap((to, t) => f === t ? [] : [{ from, to, hours: hoursBetween(vessel, f, t) }])
      ),
      ...(vessel === 1 ? { turning: { by: "hand", mostNightTurnsPerWeek: MOST_NIGHTS } } : {}),
    })),
  },
  book: { runsEnded: [] },
} as unknown as Problem;

interface Load {
  slot: Slot;
  crop: number;
}

/** All loads of one vessel in order of time, a vessel kept from stage to stage as one stretch. */
function stretchesIn(vessel: number, loads: readonly Load[]) {
  return loads.flatMap(({ slot, crop }) => {
    const stages = [0, 1, 2].filter((stage) => slot.vessels[stage] === vessel);
    if (stages.length === 0) return [];
    return [{ from: slot.times[stages[0]!]!, to: slot.times[stages.at(-1)! + 1]!, crop }];
  }).sort((a, b) => a.from - b.from);
}

/** Whether these loads can stand together, looked at afresh. */
function standTogether(loads: readonly Load[]): boolean {
  for (let vessel = 0; vessel < 3; vessel++) {
    const list = stretchesIn(vessel, loads);
    for (let i = 1; i < list.length; i++) {
      const before = list[i - 1]!;
      const after = list[i]!;
      if (after.from < before.to + 60 * hoursBetween(vessel, before.crop, after.crop)) return false;
    }
  }
  for (let week = 0; week < 4; week++) {
    const nights = loads.filter(({ slot }) => slot.vessels[1] === 1).flatMap(({ slot }) => slot.nights)
      .filter(([of]) => of === week).reduce((sum, [, turns]) => sum + turns, 0);
    if (nights > MOST_NIGHTS) return false;
  }
  return true;
}

const loads = fc.record({
  vessels: fc.constantFrom<[number, number, number]>([0, 1, 2], [0, 0, 2], [0, 2, 2]),
  start: fc.integer({ min: 0, max: 400 }),
  hours: fc.tuple(...[1, 2, 3].map(() => fc.integer({ min: 1, max: 30 }))),
  crop: fc.integer({ min: 0, max: 2 }),
  nights: fc.integer({ min: 0, max: 3 }),
}).map(({ vessels, start, hours, crop, nights }): Load => {
  const times: number[] = [60 * start];
  for (const hour of hours) times.push(times.at(-1)! + 60 * hour);
  const week = Math.floor(start / 168);
  return {
    crop,
    slot: {
      vessels,
      times,
      nights: vessels[1] === 1 && nights > 0 ? [[week, nights]] : [],
    } as unknown as Slot,
  };
});
/** Each step tries a load; now and then one that stands is taken out first, named by its place modulo their number. */
const steps = fc.array(fc.record({ load: loads, out: fc.option(fc.nat(50), { freq: 2 }) }), {
  minLength: 5,
  maxLength: 40,
});

describe("the vessel board", () => {
  test("fits a load exactly when it can stand with all others, after any putting in and taking out", () => {
    fc.assert(
      fc.property(steps, (list) => {
        const board = new VesselBoard(problem);
        const standing: Load[] = [];
        for (const { load, out } of list) {
          if (out !== null && standing.length > 0) {
            const [gone] = standing.splice(out % standing.length, 1);
            board.remove(gone!.slot);
          }
          const fits = board.fits(load.slot, load.crop);
          expect(fits).toBe(standTogether([...standing, load]));
          if (!fits) continue;
          board.put(load.slot, load.crop);
          standing.push(load);
        }
      }),
      { numRuns: 300, seed: 51 },
    );
  });

  test("a run that is over still asks for its change-over", () => {
    const ended = {
      ...problem,
      season: { ...problem.season, lots: [{ id: "lot", crop: "wheat" }] },
      book: {
        runsEnded: [{
          draws: [{ lotId: "lot" }],
          vesselIds: { steep: "v0", bed: "v1", kiln: "v2" },
          steepInAt: "2027-01-01T00:00",
          castAt: "2027-01-02T00:00",
          kilnAt: "2027-01-03T00:00",
          stripAt: "2027-01-04T00:00",
        }],
      },
    } as unknown as Problem;
    const end = Date.UTC(2027, 0, 2) / 60_000;
    const free = end + 60 * hoursBetween(0, 1, 2);
    const at = (start: number) =>
      ({
        vessels: [0, 1, 2],
        times: [start, start + 9e4, start + 1e5, start + 2e5],
        nights: [],
      }) as unknown as Slot;
    const board = new VesselBoard(ended);
    expect(board.fits(at(free), 2)).toBe(true);
    expect(board.fits(at(free - 1), 2)).toBe(false);
    expect(board.refuses(at(free - 1), 2, 0)).toBe(true);
    expect(board.refuses(at(free - 1), 2, 1)).toBe(false);
  });
});
