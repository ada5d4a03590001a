import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { labelBox, overlap, placeLabels, type Wish } from "../../../islands/_charts/label-placement.ts";

const bounds = { x: 0, y: 0, width: 600, height: 200 };

describe("placing labels", () => {
  test("the first spot is taken when nothing stands there", () => {
    const [placed] = placeLabels([{ text: "lot A", spots: [{ x: 10, y: 50 }, { x: 10, y: 90 }] }], bounds);
    expect(placed?.at.y).toBe(50);
  });

  test("the next spot is taken when the first is filled", () => {
    const wish = { text: "lot A", spots: [{ x: 10, y: 50 }, { x: 10, y: 90 }] };
    expect(placeLabels([wish, wish], bounds).map(({ at }) => at.y)).toEqual([50, 90]);
  });

  test("shorter words are tried before a label is given up", () => {
    const long = { text: "winter barley of the two far fields", shorter: ["winter barley"] };
    const spots = [{ x: 545, y: 50 }];
    expect(placeLabels([{ ...long, spots }], bounds).map(({ text }) => text)).toEqual([]);
    expect(placeLabels([{ ...long, spots: [{ x: 500, y: 50 }] }], bounds)[0]?.text).toBe("winter barley");
  });

  test("a lower rank is placed first, whatever the order", () => {
    const spots = [{ x: 10, y: 50 }];
    const placed = placeLabels(
      [{ text: "quiet", spots, rank: 4 }, { text: "urgent", spots, rank: 0 }],
      bounds,
    );
    expect(placed.map(({ text }) => text)).toEqual(["urgent"]);
  });

  test("words that fit nowhere are counted where they would have stood", () => {
    const at = (x: number): Wish => ({ text: "a lot of some barley", crowd: "lots", spots: [{ x, y: 50 }] });
    const placed = placeLabels([at(10), at(20), at(30)], bounds);
    const counts = placed.filter((one) => one.counts.length > 0);
    expect(counts.map(({ text }) => text)).toEqual(["+2"]);
    expect(overlap(placed[0]!, counts[0]!)).toBe(false);
  });

  test("where there is no room for the count, one label more joins those it counts", () => {
    const tight = { x: 0, y: 40, width: 60, height: 14 };
    const at = (rank: number): Wish => ({
      text: "barley 22 t",
      rank,
      crowd: "lots",
      spots: [{ x: 0, y: 50 }],
    });
    const placed = placeLabels([at(1), at(2)], tight);
    expect(placed.map(({ text }) => text)).toEqual(["+2"]);
  });

  test("words with a mark stand away from it and are led back by a line that crosses no words", () => {
    const spots = [{ x: 100, y: 100 }];
    const placed = placeLabels([
      { text: "first at the mark", spots },
      { text: "led away", spots, mark: { x: 100, y: 100 } },
    ], bounds);
    const led = placed[1]!;
    expect(led.leader?.to).toEqual({ x: 100, y: 100 });
    for (const box of led.leader!.boxes.slice(0, -1)) expect(overlap(box, placed[0]!, 0)).toBe(false);
  });

  test("a thread is broken by words that may cross it, a level line never", () => {
    const wish = { text: "must go", spots: [{ x: 10, y: 50 }], mayCross: true };
    const line = { x: 20, y: 0, width: 1, height: 200 };
    expect(placeLabels([wish], bounds, [{ ...line, thread: true }])).toHaveLength(1);
    expect(placeLabels([wish], bounds, [line])).toHaveLength(0);
    expect(placeLabels([{ ...wish, mayCross: false }], bounds, [{ ...line, thread: true }])).toHaveLength(0);
  });

  test("a mark that words must not cover is kept free", () => {
    const taken = [{ x: 0, y: 40, width: 40, height: 12 }];
    expect(placeLabels([{ text: "lot A", spots: [{ x: 10, y: 50 }] }], bounds, taken)).toEqual([]);
  });

  test("a label that ends at a spot stands to its left", () => {
    const box = labelBox("ready", { x: 100, y: 50, anchor: "end" });
    expect(box.x + box.width).toBeCloseTo(100);
  });

  test("whatever is wished, no two labels ever touch and none leaves its bounds", () => {
    const spot = fc.record({
      x: fc.integer({ min: -50, max: 650 }),
      y: fc.integer({ min: -20, max: 220 }),
      anchor: fc.constantFrom("start" as const, "middle" as const, "end" as const),
    });
    const wish: fc.Arbitrary<Wish> = fc.record({
      text: fc.string({ minLength: 1, maxLength: 30 }),
      spots: fc.array(spot, { minLength: 1, maxLength: 4 }),
    });
    fc.assert(fc.property(fc.array(wish, { maxLength: 40 }), (wishes) => {
      const placed = placeLabels(wishes, bounds);
      for (const [index, one] of placed.entries()) {
        expect(one.x).toBeGreaterThanOrEqual(0);
        expect(one.x + one.width).toBeLessThanOrEqual(600);
        for (const other of placed.slice(index + 1)) expect(overlap(one, other)).toBe(false);
      }
    }));
  });
});
