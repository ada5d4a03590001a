import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { makeSeason } from "../../../core/generate/make-season.ts";
import type { RunChoice } from "../../../core/search/candidate.ts";
import { outturn } from "../../../core/search/outturn.ts";
import { problemOf } from "../../../core/search/problem.ts";
import { SupplyBoard } from "../../../core/search/supply-board.ts";
import type { Season } from "../../../core/season/season.ts";
import { handSeason } from "../audit/_hand-season.ts";

/** The hand-written season's run of two lots: 400 kg of lot A, which ends, and 600 kg of lot B. */
function runOf(change: (season: Season) => void = () => {}, runId = "r") {
  const season = handSeason();
  change(season);
  const problem = problemOf(season, season.asOf);
  const index = (id: string) => problem.lots.findIndex((lot) => lot.id === id);
  const slot = problem.slots.find((one) => problem.materials[one.malt]!.maltId === "pale")!;
  const run: RunChoice = { slot, lot: index("a"), lot2: index("b"), fixed: null };
  const taken = [["b", 600_000], ["a", 400_000]] as const;
  const out = outturn(
    problem,
    run,
    runId,
    0,
    taken.map(([id, massG]) => ({ key: 0, lot: index(id), store: 0, massG })),
  );
  return { ...out!, slot };
}

describe("a run of two lots", () => {
  test("draws the one that ends first, and gives what its losses leave", () => {
    const { run, batches, slot } = runOf();
    expect(run.draws.map((draw) => draw.lotId)).toEqual(["a", "b"]);
    expect([run.screeningsG, run.cleanG, run.culmsG]).toEqual([50_000, 950_000, 35_200]);
    expect(batches).toHaveLength(1);
    expect(batches[0]).toMatchObject({
      massG: 792_000,
      arrives: slot.stripDay,
      ready: slot.stripDay + 7,
      last: slot.stripDay + 200,
    });
    // 0.4 of lot A, whose own extract is known, and 0.6 by the book, less 5 % of water.
    expect(batches[0]!.perG).toBeCloseTo((0.4 * 0.82 + 0.6 * 0.8) * 0.95, 12);
  });

  test("is home-grown only if both lots are", () => {
    const home = (change?: (season: Season) => void) => runOf(change).batches[0]!.home;
    const elsewhere = (id: string) => (season: Season) => {
      season.lots.find((lot) => lot.id === id)!.origin = "in-state";
    };
    expect([home(), home(elsewhere("a")), home(elsewhere("b"))]).toEqual([true, false, false]);
  });
});

test("the malts of a run that gives two are not named like those of another run of the day", () => {
  const alsoGives = (season: Season) => {
    const pale = season.maltTypes.find(({ id }) => id === "pale")!;
    if (pale.made.from === "grain") pale.made.alsoGives = [{ maltId: "crystal", share: 0.25 }];
  };
  const namesOf = ({ run }: ReturnType<typeof runOf>) => run.outputs.map((output) => output.batchId);
  const names = [...namesOf(runOf(alsoGives, "run-x")), ...namesOf(runOf(() => {}, "run-x-2"))];
  expect(names).toHaveLength(3);
  expect(new Set(names).size).toBe(3);
});

test("what is counted on is what the books give, to the gram, of each malt", () => {
  const season = makeSeason("small", 2);
  for (const { made } of season.maltTypes) {
    if (made.from === "grain" && made.alsoGives.length === 0) {
      const other = season.maltTypes.find((one) => one.made.from === "grain" && one.made !== made)!;
      made.alsoGives = [{ maltId: other.id, share: 0.137 }];
    }
  }
  const problem = problemOf(season, season.asOf), board = new SupplyBoard({ ...problem, batches: [] });
  fc.assert(
    fc.property(
      fc.nat(problem.slots.length - 1),
      fc.integer({ min: 1, max: 900_000 }),
      fc.integer({ min: 0, max: 90_000 }),
      fc.nat(),
      (at, massG, secondG, of) => {
        const slot = problem.slots[at]!, { lots } = problem;
        const [lot, other] = [lots[of % lots.length]!.index, lots[(of + 1) % lots.length]!.index];
        const run: RunChoice = { slot, lot, lot2: secondG > 0 ? other : -1, fixed: null };
        const counted = board.gather([run], { drawG: [massG], draw2G: [secondG] });
        const taken = [{ key: 0, lot, store: 0, massG }, { key: 0, lot: other, store: 1, massG: secondG }];
        const { batches } = outturn(problem, run, "r", 0, taken.filter((one) => one.massG > 0))!;
        counted.forEach((list, material) => {
          const given = batches.filter((one) => one.material === material);
          expect(list).toHaveLength(given.length);
          list.forEach(({ extractG, perG }, i) => expect(extractG / perG).toBeCloseTo(given[i]!.massG, 6));
        });
      },
    ),
    { numRuns: 300 },
  );
});
