import { describe, expect, test } from "vitest";
import { checkSeason } from "../../core/season/check.ts";
import { runTask } from "../_support/process.ts";

describe("make-season", () => {
  test("0: prints a season that can be planned, the same for the same arguments", async () => {
    const args = ["--size", "small", "--seed", "4", "--limit", "bed"];
    const [one, other] = [await runTask("make-season", ...args), await runTask("make-season", ...args)];
    expect(one.code, one.err).toBe(0);
    expect(one.out).toBe(other.out);
    const season = JSON.parse(one.out);
    expect(season).toMatchObject({ format: "rickyard-season", version: 1, id: "made-small-4-bed" });
    expect(checkSeason(season).season).not.toBeNull();
  });

  test("0: without a limit the seed chooses", async () => {
    const { code, out } = await runTask("make-season", "--size", "micro", "--seed", "3");
    expect([code, JSON.parse(out).id]).toEqual([0, "micro-3"]);
  });

  test.each([
    ["no size", ["--seed", "1"]],
    ["a size that is none", ["--size", "huge", "--seed", "1"]],
    ["no seed", ["--size", "small"]],
    ["a seed that is none", ["--size", "small", "--seed", "1.5"]],
    ["a seed too large to be told from others", ["--size", "small", "--seed", "99999999999"]],
    ["a limit that is none", ["--size", "small", "--seed", "1", "--limit", "luck"]],
    ["a word that is no option", ["--size", "small", "--seed", "1", "fast"]],
  ])("3: %s", async (_, args) => {
    const { code, out, err } = await runTask("make-season", ...args);
    expect([code, out]).toEqual([3, ""]);
    expect(err).toContain("Use: deno task make-season");
  });
});
