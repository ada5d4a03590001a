import { describe, expect, test } from "vitest";
import { type Ground, hatch, rules, signs } from "../../../islands/_charts/textures.ts";

/** Twenty units of grain, then four, then none worth a sign. */
const ground: Ground = {
  steps: [{ x: 0, y: 80 }, { x: 100, y: 96 }, { x: 200, y: 98.5 }],
  left: 0,
  right: 300,
  floor: 100,
};
const middles = (path: string) =>
  [...path.matchAll(/M([\d.]+) ([\d.]+)/g)].map(([, x, y]) => ({ x: Number(x), y: Number(y) }));

describe("signs on grain", () => {
  test.each(["barley", "wheat", "rye", "oats"] as const)(
    "%s stands under its level and over the ground",
    (crop) => {
      const places = middles(signs(ground, crop, "asleep"));
      expect(places.length).toBeGreaterThan(10);
      for (const { x, y } of places) {
        expect(y).toBeLessThan(100);
        expect(y).toBeGreaterThan(x < 100 ? 80 : 96);
        expect(x).toBeLessThan(200);
      }
    },
  );

  test("shallow grain carries one row, deep grain several", () => {
    const rows = (from: number, to: number) =>
      new Set(
        middles(signs(ground, "barley", "asleep")).filter(({ x }) => x > from && x < to).map(({ y }) => y),
      ).size;
    expect(rows(0, 99)).toBeGreaterThanOrEqual(4);
    expect(rows(101, 199)).toBe(1);
  });

  test("feed only is crossed whatever the crop, and no crop's sign is a cross", () => {
    expect(signs(ground, "rye", "feed")).toBe(signs(ground, "barley", "feed"));
    for (const crop of ["barley", "wheat", "rye", "oats"] as const) {
      expect(signs(ground, crop, "asleep")).not.toBe(signs(ground, crop, "feed"));
    }
  });

  test("locked is barred whatever the crop, closer than feed is crossed, and never like a crop or feed", () => {
    const locked = signs(ground, "barley", "locked");
    expect(signs(ground, "oats", "locked")).toBe(locked);
    expect(middles(locked).length).toBeGreaterThan(1.5 * middles(signs(ground, "barley", "feed")).length);
    for (const { y } of middles(locked)) expect(y).toBeLessThan(100);
    const shape = (path: string) => path.split("M").at(1)!.replace(/^[\d.]+ [\d.]+/, "");
    const others = (["barley", "wheat", "rye", "oats"] as const).flatMap((crop) =>
      (["asleep", "done", "planned", "feed"] as const).map((state) => shape(signs(ground, crop, state)))
    );
    expect(others).not.toContain(shape(locked));
  });
});

describe("lines in malt", () => {
  test("a hatch ends at the level, never above it", () => {
    const lines = [...hatch(ground).matchAll(/M([\d.]+) ([\d.]+)l([\d.]+)/g)].map((one) =>
      one.slice(1).map(Number)
    );
    expect(lines.length).toBeGreaterThan(30);
    for (const [x = 0, y = 0, long = 0] of lines) {
      const end = x + long;
      expect(y - long).toBeGreaterThanOrEqual((end <= 100 ? 80 : end <= 200 ? 96 : 98.5) - 0.11);
    }
  });

  test("rules lie inside the malt and are broken where it is lower", () => {
    const path = rules({
      steps: [{ x: 0, y: 90 }, { x: 10, y: 99 }, { x: 20, y: 90 }],
      left: 0,
      right: 30,
      floor: 100,
    });
    expect(path).toMatch(/^M0 98\.3H10M20 98\.3H30/);
  });
});
