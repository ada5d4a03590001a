import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { drawnFor, mostDrawnFor } from "../../../core/search/loads.ts";

const clean = (drawn: number, loss: number) => drawn - Math.round(drawn * loss);
const weights = fc.oneof(fc.integer({ min: 0, max: 500 }), fc.integer({ min: 0, max: 9_000_000 }));
const losses = fc.oneof(
  fc.constantFrom(0, 0.02, 0.05, 0.1, 0.5),
  fc.double({ min: 0, max: 0.5, noNaN: true }),
);

describe("grams drawn for a clean load", () => {
  test("are the least that leave it, and the most that leave no more", () => {
    fc.assert(
      fc.property(weights, losses, (cleanG, loss) => {
        const least = drawnFor(cleanG, loss);
        expect(clean(least, loss)).toBeGreaterThanOrEqual(cleanG);
        for (let less = Math.max(0, least - 40); less < least; less++) {
          expect(clean(less, loss)).toBeLessThan(cleanG);
        }
        const most = mostDrawnFor(cleanG, loss);
        expect(clean(most, loss)).toBeLessThanOrEqual(cleanG);
        for (let more = most + 1; more <= most + 40; more++) {
          expect(clean(more, loss)).toBeGreaterThan(cleanG);
        }
      }),
      { numRuns: 1000, seed: 11 },
    );
  });
});
