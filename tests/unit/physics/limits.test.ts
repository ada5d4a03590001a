import { describe, expect, test } from "vitest";
import {
  requireBetween,
  requireFraction,
  requireNotNegative,
  requirePositive,
} from "../../../core/physics/limits.ts";

const LEAST = Number.MIN_VALUE;
const BELOW_ONE = 1 - Number.EPSILON / 2;
const NEVER = [NaN, Infinity, -Infinity];

describe("guards let through what lies inside their limits and refuse what lies outside", () => {
  test.each([
    { name: "a fraction", guard: requireFraction, inside: [0, LEAST, BELOW_ONE], outside: [-LEAST, 1, 18] },
    {
      name: "zero or more",
      guard: requireNotNegative,
      inside: [0, LEAST, Number.MAX_VALUE],
      outside: [-LEAST],
    },
    { name: "above zero", guard: requirePositive, inside: [LEAST, Number.MAX_VALUE], outside: [0, -LEAST] },
    {
      name: "between two limits",
      guard: (what: string, value: number) => requireBetween(what, value, 2, 3, "°C"),
      inside: [2, 2.5, 3],
      outside: [2 - 2 * Number.EPSILON, 3 + 2 * Number.EPSILON],
    },
  ])("$name", ({ guard, inside, outside }) => {
    for (const value of inside) expect(() => guard("load", value)).not.toThrow();
    for (const value of [...outside, ...NEVER]) expect(() => guard("load", value)).toThrow(RangeError);
  });

  test("and say what was wrong, by how much, and in what unit", () => {
    expect(() => requireBetween("strength of wort", 31, 0, 30, "°P")).toThrow(
      "The strength of wort must lie from 0 to 30 °P, but it is 31.",
    );
    expect(() => requireFraction("moisture", 18)).toThrow(/moisture .*\(0\.12 for 12 %\).* 18\./);
  });
});
