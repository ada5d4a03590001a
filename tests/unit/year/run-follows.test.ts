import { expect, test } from "vitest";
import { makeNaivePlan } from "../../../core/plan/make.ts";
import { followsWords } from "../../../core/year/run-follows.ts";
import { dayWords } from "../../../core/year/words.ts";
import type { RunMark } from "../../../core/year/malthouse-band.ts";
import type { Year } from "../../../core/year/year.ts";
import { demoSeason } from "../../_support/demo.ts";
import { drawnYear } from "../../_support/drawn-year.ts";

const run = (number: number, start: number, more: Partial<RunMark> = {}) =>
  ({
    id: `run-${number}`,
    number,
    standing: "not booked",
    lotIds: ["lot"],
    stages: [
      { stage: "steep", vesselId: "steep", start, end: start + 2 },
      { stage: "bed", vesselId: "bed", start: start + 2, end: start + 6 },
    ],
    ...more,
  }) as unknown as RunMark;
const stay = (awake: number) => ({
  lotId: "lot",
  letter: "B",
  stretches: [{ state: "asleep", from: awake - 50, to: awake - 1 }, {
    state: "ready",
    from: awake,
    to: awake + 99,
  }],
});
const year = (runs: RunMark[], awake = 0) =>
  ({ malthouse: { runs }, stores: [{ stays: [stay(awake)] }] }) as unknown as Year;

test("a run follows the one before it in its bed, and the waking of its lot, where they are near", () => {
  const first = run(11, 100), next = run(12, 106);
  expect(followsWords(year([first, next]), next)).toBe(`follows run 11, in the bed until ${dayWords(106)}`);
  expect(followsWords(year([first, next], 105), next)).toBe(
    `follows run 11, in the bed until ${dayWords(106)} and the waking of lot B on ${dayWords(105)}`,
  );
});

test("nothing is said of a run that follows nothing closely, or that has begun", () => {
  const first = run(11, 100), late = run(12, 120), begun = run(13, 106, { standing: "under way" });
  expect(followsWords(year([first, late]), late)).toBe("");
  expect(followsWords(year([first, begun]), begun)).toBe("");
});

test("in the demo some run follows the waking of a lot, and none a run that comes after it", async () => {
  const season = demoSeason();
  const drawn = drawnYear(season, await makeNaivePlan(season, { seed: 1, iterations: 0, highs: null }));
  const told = drawn.malthouse.runs.map((one) => followsWords(drawn, one)).filter((words) => words !== "");
  expect(told.length).toBeGreaterThan(10);
  for (const one of drawn.malthouse.runs) {
    const before = /follows run (\d+)/.exec(followsWords(drawn, one))?.[1];
    if (before !== undefined) expect(Number(before)).toBeLessThan(one.number);
  }
});
