import fc from "fast-check";
import type { Highs } from "highs";
import { beforeAll, describe, expect, test } from "vitest";
import { LinearModel, solveLinear } from "../../../core/solve/linear.ts";
import { mpsOf } from "../../../core/solve/mps.ts";
import { loadHighs } from "../../_support/highs.ts";

let highs: Highs;
beforeAll(async () => {
  highs = await loadHighs();
});

/** What the solver makes of the text; its own reader of MPS stands for other solvers. */
function solveText(data: string): { objective: number; columns: number } {
  return highs.withModel({ format: "mps", data }, (solver) => {
    solver.options.set("output_flag", false);
    solver.options.set("mip_rel_gap", 0);
    // As `solveLinear` has them: at the usual ones a row may be left by enough to show in the objective.
    solver.options.set("mip_feasibility_tolerance", 1e-7);
    solver.options.set("mip_abs_gap", 1e-6);
    solver.run();
    const feasible = solver.info.get("primal_solution_status") === 2;
    return {
      objective: feasible ? solver.getObjectiveValue() : Infinity,
      columns: solver.getSolution().colValue.length,
    };
  });
}

describe("a model written as MPS", () => {
  test("has its rows, columns, whole columns and bounds where the format wants them", () => {
    const model = new LinearModel();
    const x = model.column(-3, 0, 4, true);
    const y = model.column(2.5, -1, 100);
    model.row(-Infinity, 12, [[y, 2]]);
    model.row(3, Infinity, [[x, 3], [y, 2]]);
    model.row(5, 8, [[x, 1]]);
    model.row(7, 7, [[y, 1]]);
    expect(mpsOf(model, "small").split("\n")).toEqual([
      "NAME small FREE",
      ...["ROWS", " N cost", " L r0", " G r1", " L r2", " E r3"],
      ...["COLUMNS", " MARKER0 'MARKER' 'INTORG'", " c0 cost -3", " c0 r1 3", " c0 r2 1"],
      ...[" MARKER4 'MARKER' 'INTEND'", " c1 cost 2.5", " c1 r0 2", " c1 r1 2", " c1 r3 1"],
      ...["RHS", " RHS r0 12", " RHS r1 3", " RHS r2 8", " RHS r3 7"],
      ...["RANGES", " RANGE r2 3"],
      ...["BOUNDS", " LO BOUND c0 0", " UP BOUND c0 4", " LO BOUND c1 -1", " UP BOUND c1 100"],
      ...["ENDATA", ""],
    ]);
  });

  test("is read back by a solver as the same model", () => {
    const whole = fc.integer({ min: -9, max: 9 });
    const shape = fc.record({
      columns: fc.array(
        fc.record({ cost: whole, upper: fc.integer({ min: 0, max: 6 }), integer: fc.boolean() }),
        {
          minLength: 1,
          maxLength: 5,
        },
      ),
      rows: fc.array(
        fc.record({
          side: whole,
          width: fc.integer({ min: 0, max: 5 }),
          kind: fc.constantFrom("L", "G", "E", "R", "N"),
          factors: fc.array(whole, { minLength: 5, maxLength: 5 }),
        }),
        { maxLength: 5 },
      ),
    });
    fc.assert(
      fc.property(shape, ({ columns, rows }) => {
        const model = new LinearModel();
        for (const { cost, upper, integer } of columns) model.column(cost / 4, -1, upper, integer);
        for (const { side, width, kind, factors } of rows) {
          const lower = kind === "L" || kind === "N" ? -Infinity : side;
          const upper = kind === "G" || kind === "N" ? Infinity : kind === "E" ? side : side + width;
          model.row(lower, upper, factors.slice(0, columns.length).map((factor, i) => [i, factor]));
        }
        const here = solveLinear(highs, model, { relativeGap: 0 });
        const there = solveText(mpsOf(model, "random"));
        expect(there.columns).toBe(columns.length);
        if (here.values === null) expect(there.objective).toBe(Infinity);
        else expect(there.objective).toBeCloseTo(here.objective, 6);
      }),
      { numRuns: 30 },
    );
  });
});
