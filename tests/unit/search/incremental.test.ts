import { describe, expect, test } from "vitest";
import { makeSeason } from "../../../core/generate/make-season.ts";
import { addBrew, dropBrew, exchangeBrew, shiftBrew } from "../../../core/search/brew-moves.ts";
import { chance } from "../../../core/search/chance.ts";
import { type Evaluation, Evaluator } from "../../../core/search/evaluate.ts";
import { boardOf } from "../../../core/search/polish.ts";
import { Position, type Undo } from "../../../core/search/position.ts";
import {
  addRun,
  joinTail,
  reloadRun,
  relocateRun,
  remakeRun,
  removeRun,
  shiftRun,
  swapRuns,
} from "../../../core/search/run-moves.ts";
import { exchangeMalt, replaceRun } from "../../../core/search/substitute-moves.ts";
import { plainStart } from "./_plain-start.ts";

type Move = (here: Position, evaluation: Evaluation) => Undo | null;
const MOVES: readonly Move[] = [
  ...[addRun, joinTail, relocateRun, reloadRun, remakeRun, removeRun, shiftRun, swapRuns],
  ...[addBrew, dropBrew, exchangeBrew, shiftBrew],
  ...[exchangeMalt, replaceRun],
];

/** All that an evaluation came to, without its functions. */
const told = ({ orders, maltG: _, ...rest }: Evaluation) => ({ ...rest, orders: orders() });

describe("an evaluator that has seen other candidates before", () => {
  const cases = [
    ["micro", 3, 120],
    ["micro", 6, 120],
    ["small", 2, 80],
    ["small", 4, 80],
    ["typical", 1, 40],
    [
      "typical",
      3,
      40,
    ],
  ] as const;
  test.each(cases)("counts a %s season (seed %i) as a new one does", (size, seed, steps) => {
    const { problem, tanks, candidate: start } = plainStart(makeSeason(size, seed));
    const seen = new Evaluator(problem, problem.booked.changes);
    const dice = chance(seed);
    for (const crowded of [false, true]) {
      seen.hurry.crowded = crowded;
      const here = new Position(problem, boardOf(problem, start), tanks, dice, crowded, start);
      let evaluation = seen.evaluate(here.candidate, 1);
      let compared = 0;
      for (let i = 0; i < steps; i++) {
        const undo = dice.pick(MOVES)(here, evaluation);
        if (!undo) continue;
        const next = seen.evaluate(here.candidate, 1);
        const anew = new Evaluator(problem, problem.booked.changes);
        anew.hurry.crowded = crowded;
        expect(told(next)).toEqual(told(anew.evaluate(here.candidate, 1)));
        compared++;
        // What a search takes back it often asks for again.
        if (dice.int(0, 2) > 0) undo();
        else evaluation = next;
      }
      expect(compared).toBeGreaterThan(steps / 6);
    }
  });
});
