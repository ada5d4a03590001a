import { describe, expect, test } from "vitest";
import { chainOf } from "../../../core/explain/chain.ts";
import { takenStretches } from "../../../core/explain/taken.ts";
import { makeSeason } from "../../../core/generate/make-season.ts";
import { makePlan } from "../../../core/plan/make.ts";
import { drawParts, partsOf } from "../../../core/year/draw.ts";
import { shortfallsIn } from "../../../core/year/shortfalls.ts";
import type { Year } from "../../../core/year/year.ts";

const run = (vesselId: string, start: number, end: number) => ({
  stages: [{ stage: "bed", vesselId, start, end }],
});
const year = (vessels: string[], runs: ReturnType<typeof run>[]) =>
  ({ malthouse: { vessels: vessels.map((id) => ({ id, stages: ["bed"] })), runs } }) as unknown as Year;

describe("a stage is full", () => {
  test("while load follows load with no more than three days between", () => {
    const runs = [
      run("bed", 1, 5),
      run("bed", 6, 10),
      run("bed", 13, 17),
      run("bed", 21, 25),
      run("bed", 26, 30),
    ];
    expect(takenStretches(year(["bed"], runs), "bed")).toEqual([{ from: 1, to: 17, loads: 3 }]);
  });

  test("only where every vessel of it is", () => {
    const one = [run("a", 1, 5), run("a", 6, 10), run("a", 11, 15)];
    const other = [run("b", 8, 12), run("b", 13, 17), run("b", 18, 22)];
    expect(takenStretches(year(["a", "b"], [...one, ...other]), "bed")).toEqual([{
      from: 8,
      to: 15,
      loads: 3,
    }]);
    expect(takenStretches(year(["a", "b"], one), "bed")).toEqual([]);
  });
});

test("the chain behind a shortfall names the days that the plan is full, and who is not there", async () => {
  const season = makeSeason("small", 2, "hands");
  const outcome = await makePlan(season, { seed: 1, iterations: 0, highs: null });
  if (outcome.kind !== "planned") throw new Error("not planned");
  const parts = partsOf(season, outcome.plan), drawn = drawParts(parts);
  const unbrewed = shortfallsIn(parts, drawn).find((one) =>
    one.kind === "unbrewed" && one.fromDay > drawn.asOf + 90
  )!;
  const hands = chainOf(parts, drawn, unbrewed, ["hands"]).map((link) => link.words);
  expect(hands[0]).toBe("somebody there to steep on Monday only");
  const bed = chainOf(parts, drawn, unbrewed, ["bed"]).map((link) => link.words);
  expect(bed[0]).toMatch(/^bed full \d+ [A-Z][a-z]{2}/);
});
