import { describe, expect, test } from "vitest";
import { loadLimits, vesselTriples } from "../../../core/search/slots.ts";
import type { MadeFromGrain, Vessel } from "../../../core/season/malthouse.ts";

const NONE = {} as unknown as MadeFromGrain;
const CROPS = ["barley", "wheat"];

function vessel(part: Partial<Vessel>): Vessel {
  return { stages: ["steep"], loadLimits: [], ...part } as unknown as Vessel;
}
const takes = (leastG: number, greatestG: number, crop: "barley" | "wheat" = "barley") => ({
  crop,
  leastG,
  greatestG,
});

describe("what vessels carry together", () => {
  test("is what the smallest takes, and no less than the largest needs", () => {
    const vessels = [[300, 900], [400, 1000], [100, 800]].map(([least, greatest]) =>
      vessel({ loadLimits: [takes(least!, greatest!)] })
    );
    expect(loadLimits(vessels, NONE, 1, ["barley"])).toEqual({ greatestG: [800], leastG: [400] });
    const tight = [...vessels, vessel({ loadLimits: [takes(801, 2000)] })];
    expect(loadLimits(tight, NONE, 1, ["barley"]).greatestG).toEqual([0]);
  });

  test("is nothing of a crop that one of them does not take", () => {
    const both = vessel({ loadLimits: [takes(0, 900), takes(0, 700, "wheat")] });
    const one = vessel({ loadLimits: [takes(0, 800)] });
    expect(loadLimits([both, one], NONE, 1, CROPS).greatestG).toEqual([800, 0]);
    expect(loadLimits([one, both], NONE, 1, CROPS).greatestG).toEqual([800, 0]);
  });

  test("is less in months with a share, the vessel's and the malt's", () => {
    const factors = (july: number) => Array.from({ length: 12 }, (_, month) => month === 6 ? july : 1);
    const warm = vessel({ loadLimits: [takes(0, 1001)], monthLoadFactor: factors(0.9) });
    const made = { monthLoadFactor: factors(0.5) } as unknown as MadeFromGrain;
    expect([6, 7, 8].map((month) => loadLimits([warm], made, month, ["barley"]).greatestG[0])).toEqual([
      1001,
      450,
      1001,
    ]);
  });
});

test("a run uses a vessel for each stage, all of one line where they have one", () => {
  const vessels = [
    vessel({ stages: ["steep", "bed"], line: "one" }),
    vessel({ stages: ["bed"], line: "two" }),
    vessel({ stages: ["kiln"], line: "one" }),
    vessel({ stages: ["kiln"] }),
    vessel({ stages: ["steep"] }),
  ];
  expect(vesselTriples(vessels)).toEqual([[0, 0, 2], [0, 0, 3], [4, 0, 2], [4, 0, 3], [4, 1, 3]]);
});
