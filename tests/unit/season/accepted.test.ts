import { describe, expect, test } from "vitest";
import { suitsMalt } from "../../../core/season/clocks.ts";
import { handSeason } from "../audit/_hand-season.ts";

describe("a lot may become a malt up to the malt's own limits, both ends included", () => {
  test.each([
    { measured: { proteinDb: 0.125 }, suits: true },
    { measured: { proteinDb: 0.1251 }, suits: false },
    { measured: { plump: 0.8 }, suits: true },
    { measured: { plump: 0.799 }, suits: false },
    { measured: { donPpm: 1 }, suits: true },
    { measured: { donPpm: 1.001 }, suits: false },
  ])("$measured", ({ measured, suits }) => {
    const season = handSeason();
    const lot = season.lots.find(({ id }) => id === "a")!;
    Object.assign(lot.analyses[0]!, measured);
    expect(suitsMalt(season, lot, season.maltTypes.find(({ id }) => id === "pale")!)).toBe(suits);
  });
});
