import type { Highs } from "highs";
import { beforeAll, describe, expect, test } from "vitest";
import { microSeason } from "../../../core/generate/micro.ts";
import { judge } from "../../_support/brute-force/judge.ts";
import { loadHighs } from "../../_support/highs.ts";

let highs: Highs;
beforeAll(async () => {
  highs = await loadHighs();
});

describe("against brute force", () => {
  // Seeds whose sets of runs are few; the campaign beside the oracle takes the others.
  test.each([2, 6, 8, 10, 13, 17])("seed %i is planned as well as by trying everything", async (seed) => {
    const { word, line } = await judge(highs, microSeason(seed));
    expect([word, line]).toEqual(["same", line]);
  });
});
