/** Rows that keep runs of one vessel apart, against a board that takes them one by one. */
import fc from "fast-check";
import { expect, test } from "vitest";
import type { RunChoice } from "../../../core/search/candidate.ts";
import type { Problem } from "../../../core/search/problem.ts";
import { addClashRows } from "../../../core/search/run-clashes.ts";
import type { Slot } from "../../../core/search/slots.ts";
import { VesselBoard } from "../../../core/search/vessels.ts";
import { LinearModel } from "../../../core/solve/linear.ts";

const MOST_NIGHTS = 4;

/** Three vessels with odd hours between crops; the second is a bed turned by hand. A lot for each crop. */
const problem = {
  season: {
    zone: "UTC",
    lots: [],
    vessels: [0, 1, 2].map((vessel) => ({
      id: `v${vessel}`,
      cleaningHours: 2 + vessel,
      changeOver: [
        { from: "barley", to: "wheat", hours: 9 + vessel },
        { from: "wheat", to: "barley", hours: 1 },
      ],
      ...(vessel === 1 ? { turning: { by: "hand", mostNightTurnsPerWeek: MOST_NIGHTS } } : {}),
    })),
  },
  lots: [0, 1, 2].map((crop) => ({ crop })),
  book: { runsEnded: [] },
} as unknown as Problem;

const choices = fc.record({
  vessels: fc.constantFrom<[number, number, number]>([0, 1, 2], [0, 0, 2], [1, 1, 2], [0, 2, 2]),
  start: fc.integer({ min: 0, max: 160 }),
  hours: fc.tuple(...[1, 2, 3].map(() => fc.integer({ min: 1, max: 30 }))),
  lot: fc.integer({ min: 0, max: 2 }),
  nights: fc.integer({ min: 0, max: 3 }),
}).map(({ vessels, start, hours, lot, nights }): RunChoice => {
  const times: number[] = [60 * start];
  for (const one of hours) times.push((times.at(-1) as number) + 60 * one);
  return {
    slot: { vessels, times, nights: nights > 0 ? [[start > 80 ? 1 : 0, nights]] : [] } as unknown as Slot,
    ...{ lot, lot2: -1, fixed: null },
  };
});

/** Whether these runs, each at 1, keep all rows. */
function keepsRows(model: LinearModel, made: readonly boolean[]): boolean {
  return model.rowUpper.every((most, row) => {
    let sum = 0;
    for (let at = model.start[row]!; at < model.start[row + 1]!; at++) {
      if (made[model.index[at]!]) sum += model.value[at]!;
    }
    return sum <= most;
  });
}

test("runs keep the rows just where their vessels take them all", () => {
  fc.assert(
    fc.property(fc.array(choices, { minLength: 1, maxLength: 7 }), (runs) => {
      const model = new LinearModel();
      addClashRows(
        model,
        problem,
        runs.map((run) => ({ run, column: model.column(0, 0, 1), perUnit: 1, isKept: false })),
      );
      for (let code = 0; code < 1 << runs.length; code++) {
        const made = runs.map((_, i) => (code & (1 << i)) > 0);
        const board = new VesselBoard(problem);
        const standTogether = runs.filter((_, i) => made[i])
          .toSorted((a, b) => a.slot.times[0] - b.slot.times[0])
          .every((run) => {
            const crop = problem.lots[run.lot]!.crop;
            const fits = board.fits(run.slot, crop);
            board.put(run.slot, crop);
            return fits;
          });
        expect(keepsRows(model, made)).toBe(standTogether);
      }
    }),
    { numRuns: 400, seed: 11 },
  );
});

test("two that are kept are known to stand together, and fixed runs have had their night turns", () => {
  const slot = (from: number, turns: number) =>
    ({ vessels: [1, 1, 1], times: [from, from, from, from + 60], nights: [[0, turns]] }) as unknown as Slot;
  const [first, second] = [slot(0, 1), slot(30, 2)].map((one): RunChoice => ({
    slot: one,
    lot: 0,
    lot2: -1,
    fixed: null,
  }));
  const rowsOf = (isKept: boolean, turns: number) => {
    const model = new LinearModel();
    const list = [first!, second!].map((run) => ({ run, column: model.column(0, 0, 1), perUnit: 1, isKept }));
    addClashRows(model, problem, list, [{ slot: slot(5000, turns), lot: 0, lot2: -1, fixed: null }]);
    return model.rowUpper;
  };
  expect(rowsOf(false, 0)).toEqual([1, MOST_NIGHTS]);
  expect(rowsOf(true, 0)).toEqual([MOST_NIGHTS]);
  expect(rowsOf(true, 3)).toEqual([MOST_NIGHTS - 3]);
});

test("a load counts for the part of a run that it is", () => {
  const model = new LinearModel();
  const slot = { vessels: [0, 1, 2], times: [0, 60, 120, 180], nights: [] } as unknown as Slot;
  const run: RunChoice = { slot, lot: 0, lot2: -1, fixed: null };
  addClashRows(model, problem, [
    { run, column: model.column(0, 0, 1), perUnit: 1, isKept: false },
    { run, column: model.column(0, 0, 4), perUnit: 1 / 4, isKept: false },
  ]);
  expect([...new Set(model.rowUpper)]).toEqual([1]);
  expect(model.value.filter((_, at) => model.index[at] === 1)).toEqual([0.25, 0.25, 0.25]);
});
