import { describe, expect, test } from "vitest";
import { addDays, dayNumber } from "../../../core/calendar.ts";
import { makeSeason } from "../../../core/generate/make-season.ts";
import { makePlan } from "../../../core/plan/make.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import { bestWords } from "../../../core/year/best-words.ts";
import { offerWords } from "../../../core/year/offer-words.ts";
import { dayWords } from "../../../core/year/words.ts";

const season = makeSeason("small", 3);

const outcome = await makePlan(season, { seed: 1, iterations: 0, highs: null });
if (outcome.kind !== "planned") throw new Error(outcome.kind);
const present = outcome.plan;

const dayLater = (local: string) => addDays(local.slice(0, 10), 1) + local.slice(10);
const isFree = (one: { standing: string }) => one.standing === "not booked";
const firstRun = present.runs.findIndex(isFree), firstBrew = present.brews.findIndex(isFree);

/** The same with a run and a brew a day later, a little more in another run, and 224 euros saved. By hand: no planner made it. */
const found: Plan = {
  ...present,
  runs: present.runs.map((run, i) => {
    if (i === firstRun) return { ...run, steepInAt: dayLater(run.steepInAt) };
    return i === present.runs.length - 1 ? { ...run, cleanG: Math.round(run.cleanG * 1.2) } : run;
  }),
  brews: present.brews.map((brew, i) => i === firstBrew ? { ...brew, on: dayLater(brew.on) } : brew),
  goals: { ...present.goals, moneyCents: present.goals.moneyCents - 22_400 },
};
const words = offerWords(season, present, found, season.asOf);

function withGoals(goals: Partial<Plan["goals"]>): Plan {
  return { ...found, goals: { ...present.goals, ...goals } };
}
const gain = (goals: Partial<Plan["goals"]>) =>
  offerWords(season, present, withGoals(goals), season.asOf).gain;
const [first, second, third] = present.goals.made;

describe("what an offered plan brings", () => {
  test("is told in money", () => {
    expect(words.gain).toBe("A better plan was found: €224 less.");
  });

  test("is told in brews and promises first", () => {
    const moneyCents = present.goals.moneyCents - 31_200;
    expect(gain({ made: [first, second + 1, third + 1], moneyCents })).toBe(
      "A better plan was found: 2 more brews and €312 less.",
    );
    expect(gain({ promisesHeld: present.goals.promisesHeld + 1, moneyCents: present.goals.moneyCents + 900 }))
      .toBe(
        "A better plan was found: 1 more home-share promise held and €9 more.",
      );
  });

  test("is told by class where some lose", () => {
    expect(gain({ made: [first + 1, second - 2, third] })).toBe(
      "A better plan was found: 1 more brew of class 1 and 2 fewer brews of class 2.",
    );
  });
});

describe("what an offered plan would change", () => {
  test("is counted, with the held days", () => {
    expect(words.moves).toBe("It would move 2 runs and 1 brew, none in the held days.");
    const dayBefore = `${addDays(present.runs[firstRun]!.steepInAt.slice(0, 10), -1)}T06:00`;
    expect(offerWords(season, present, found, dayBefore).moves).toMatch(
      /^It would move 2 runs and 1 brew, [1-3] of them in the held days\.$/,
    );
  });

  test("is listed, a line for each run and brew that it counts, and nothing about money", () => {
    const run = present.runs[firstRun]!, brew = present.brews[firstBrew]!;
    const day = (local: string) => dayWords(dayNumber(local.slice(0, 10)));
    expect(words.lines).toHaveLength(3);
    const all = words.lines.join("\n");
    expect(all).toContain(`from ${day(run.steepInAt)} to ${day(dayLater(run.steepInAt))}`);
    expect(all).toContain(`from ${day(brew.on)} to ${day(dayLater(brew.on))}`);
    expect(all).toMatch(/[\d,]+ kg instead of [\d,]+ kg/);
    expect(words.summary).toEqual(["2 runs moved.", "1 brew on another day."]);
  });

  test("names what comes and what goes", () => {
    const [run, ...runs] = present.runs;
    const [brew, ...brews] = present.brews;
    const less = { ...present, runs, brews };
    const malt = `run of ${season.maltTypes.find((one) => one.id === run!.maltId)!.name.toLowerCase()}`;
    const gone = offerWords(season, present, less, season.asOf),
      come = offerWords(season, less, present, season.asOf);
    expect(gone.moves).toMatch(/^It would leave out 1 run and 1 brew, /);
    expect(come.moves).toMatch(/^It would add 1 run and 1 brew, /);
    expect(gone.lines.join()).toContain(`No ${malt}`);
    expect(come.lines.join()).toContain(`One more ${malt}`);
    expect(gone.lines.join()).toContain("not made");
    expect(brew!.standing).toBe("not booked");
  });

  test("is nothing where only orders differ", () => {
    const same = { ...present, goals: found.goals };
    expect(offerWords(season, present, same, season.asOf).moves).toMatch(/^It would move no run and no brew/);
  });
});

test("the best plan so far is told by its goals", () => {
  expect(bestWords(season, present)).toBe("Best so far: 33 of 33 brews, €4,972.");
});
