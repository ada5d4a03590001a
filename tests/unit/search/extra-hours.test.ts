import { expect, test } from "vitest";
import { extraHoursCents } from "../../../core/search/extra-hours.ts";
import type { Problem } from "../../../core/search/problem.ts";
import type { Times } from "../../../core/search/slots.ts";

/** Extra windows of one day with their prices, and a weekly one from 500 to 600. Minutes; invented. */
function problemOf(windows: readonly { from: number; to: number; costCents: number }[]): Problem {
  const extra = windows.map((one, i) => ({ from: one.from, to: one.to, extra: i }));
  const staffed = [...extra, { from: 500, to: 600, extra: -1 }].sort((a, b) => a.from - b.from);
  return {
    season: { roster: { extra: windows.map(({ costCents }) => ({ on: "2027-01-04", costCents })) } },
    attendance: { staffed: { steepIn: staffed, castToBed: staffed, kilnLoading: staffed, strip: staffed } },
    book: { asOfMinute: 100 },
  } as unknown as Problem;
}
const run = (...times: [number, number, number, number]) => times as Times;

test.each<[string, { from: number; to: number; costCents: number }[], Times[], number]>([
  ["none in a weekly window", [{ from: 500, to: 700, costCents: 9 }], [run(500, 550, 560, 600)], 0],
  ["none for what is a fact", [{ from: 0, to: 99, costCents: 9 }], [run(50, 550, 560, 600)], 0],
  ["one for two hand-overs, once", [{ from: 600, to: 700, costCents: 9 }], [run(610, 620, 550, 560)], 9],
  [
    "one dear one rather than two that are cheaper each",
    [{ from: 601, to: 650, costCents: 6 }, { from: 651, to: 700, costCents: 6 }, {
      from: 601,
      to: 700,
      costCents: 10,
    }],
    [run(550, 550, 610, 660)],
    10,
  ],
  [
    "of two that hold the same the cheaper",
    [{ from: 601, to: 700, costCents: 10 }, { from: 601, to: 700, costCents: 4 }],
    [run(550, 550, 550, 660), run(550, 550, 610, 560)],
    4,
  ],
])("extra hours: %s", (_, windows, runs, cents) => {
  expect(extraHoursCents(problemOf(windows), runs)).toBe(cents);
});
