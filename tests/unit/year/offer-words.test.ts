import { describe, expect, test } from "vitest";
import { addDays } from "../../../core/calendar.ts";
import { makeSeason } from "../../../core/generate/make-season.ts";
import { makePlan } from "../../../core/plan/make.ts";
import { movedBetween } from "../../../core/plan/moved.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import { bestWords } from "../../../core/year/best-words.ts";
import { offerWords } from "../../../core/year/offer-words.ts";

const season = makeSeason("small", 3);

async function planned(iterations: number, from?: Plan): Promise<Plan> {
  const outcome = await makePlan(season, { seed: 1, iterations, highs: null, ...(from ? { from } : {}) });
  if (outcome.kind !== "planned") throw new Error(outcome.kind);
  return outcome.plan;
}
const present = await planned(0);
const found = await planned(400, present);
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
    expect(words.moves).toBe("It would move 5 runs and 11 brews, none in the held days.");
    const [first] = movedBetween(present, found).runs.moved.map(({ before }) => before.steepInAt).sort();
    const held = offerWords(season, present, found, `${addDays(first!.slice(0, 10), -1)}T06:00`);
    expect(held.moves).toBe("It would move 5 runs and 11 brews, 1 of them in the held days.");
  });

  test("is listed, a line for each run and brew that it counts, and nothing about money", () => {
    expect(words.lines).toHaveLength(16);
    expect(words.lines).toContain("Run of pale malt from 11 May to 12 May");
    expect(words.lines).toContain("Run of pale malt from 3 Aug to 28 Sep, with 510 kg instead of 430 kg");
    expect(words.lines).toContain("The pale beer from 13 Apr to 14 Apr");
    expect(words.summary).toEqual(["5 runs moved.", "11 brews on another day."]);
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
  expect(bestWords(season, present)).toBe("Best so far, below: 33 of 33 brews, €4,972.");
});
