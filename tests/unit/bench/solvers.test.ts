import { describe, expect, test } from "vitest";
import { readCbc, readGlpk } from "../../_campaigns/bench/solvers.ts";

describe("what a general solver prints", () => {
  test("CBC, stopped: its best and what it proved", () => {
    const said = `Result - Stopped on time limit

Objective value:                -1805.00000000
Lower bound:                    -1832.612
Gap:                            0.02`;
    expect(readCbc(said)).toEqual({ objective: -1805, bound: -1832.612 });
  });

  test("CBC, done: the best is proved", () => {
    const said = "Result - Optimal solution found\n\nObjective value:                -663.00000000\n";
    expect(readCbc(said)).toEqual({ objective: -663, bound: -663 });
  });

  test("CBC, stopped before its first point: nothing but what it proved", () => {
    const said = "Result - Stopped on time limit\n\nNo feasible solution found\nLower bound:   12.5\n";
    expect(readCbc(said)).toEqual({ objective: null, bound: 12.5 });
  });

  test("GLPK, stopped: the last of its lines", () => {
    const said = `+    25: mip =     not found yet >=              -inf        (1; 0)
+  3113: mip =  -1.790000000e+03 >=  -1.829000000e+03   2.2% (355; 160)
+  3987: mip =  -1.807000000e+03 >=  -1.828000000e+03   1.2% (451; 259)
TIME LIMIT EXCEEDED; SEARCH TERMINATED`;
    expect(readGlpk(said)).toEqual({ objective: -1807, bound: -1828 });
  });

  test("GLPK, done: the best is proved", () => {
    const said =
      "+ 13234: mip =  -6.630000000e+02 >=     tree is empty   0.0% (0; 3661)\nINTEGER OPTIMAL SOLUTION FOUND\n";
    expect(readGlpk(said)).toEqual({ objective: -663, bound: -663 });
  });

  test("GLPK, before its first point: a bound at most", () => {
    expect(readGlpk("+   900: mip =     not found yet >=   4.100000000e+01        (40; 0)")).toEqual({
      objective: null,
      bound: 41,
    });
  });
});
