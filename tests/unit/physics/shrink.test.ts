import fc from "fast-check";
import { expect, test } from "vitest";
import * as shrink from "../../../core/physics/shrink.ts";

// outside: South Dakota State University Extension, "Corn grain moisture discount: why and how much?" (2020):
// grain dried from 25 to 15.5 % shrinks by 11.24 % of its weight.
test("outside: drying from 25 to 15.5 % takes 11.24 % of the weight", () => {
  expect(100 - shrink.dryToMoisture(100, 0.25, 0.155)).toBeCloseTo(11.24, 2);
});

// outside: the same publication, table 1: shrink a point at 15.5, 14, 13, 12, 11 % final moisture.
test("outside: shrink for a point of moisture by final moisture", () => {
  const printed = [[15.5, 1.18], [14, 1.16], [13, 1.15], [12, 1.14]] as const;
  for (const [percent, factor] of printed) {
    expect(Math.abs(shrink.shrinkPerPoint(percent / 100) * 100 - factor)).toBeLessThanOrEqual(0.0051);
  }
});

// outside: J. Agr. Sci. Tech. (JAST), barley steeping study, variety Sahra: a corn of 0.048 g at 10.12 %
// grows to 0.074 g at 42.17 %. The paper weighs corns to a milligram, which leaves 2 %.
test("outside: a corn weighed before and after steeping keeps its dry matter", () => {
  expect(Math.abs(shrink.massAtMoisture(0.048, 0.1012, 0.4217) / 0.074 - 1)).toBeLessThan(0.02);
});

test("the trade's handling loss is on the weight before drying", () => {
  // A seed trade page prints 876.7 lb left of 1,000 lb dried from 25.5 to 15.5 %; a dealer's page, so not an
  // outside check.
  expect(shrink.dryAndHandle(1000, 0.255, 0.155)).toBeCloseTo(876.66, 2);
  expect(shrink.dryToMoisture(1000, 0.18, 0.13)).toBeCloseTo(942.53, 2);
});

test("the demo's lots from cut to bin", () => {
  const lots = [[24.30, 0.165, 22.93, 22.48], [20.14, 0.16, 19.12, 18.74], [8.16, 0.17, 7.66, 7.51]] as const;
  for (const [cut, moisture, dried, inBin] of lots) {
    const driedT = shrink.dryAndHandle(cut, moisture, 0.12);
    expect(Math.abs(driedT - dried)).toBeLessThan(0.0101);
    expect(Math.abs(shrink.intakeClean(driedT, 0.02) - inBin)).toBeLessThan(0.0101);
  }
});

test("dry matter never changes with moisture", () => {
  const moisture = fc.double({ min: 0, max: 0.6, noNaN: true });
  fc.assert(
    fc.property(fc.double({ min: 0, max: 1e6, noNaN: true }), moisture, moisture, (massKg, from, to) => {
      const after = shrink.massAtMoisture(massKg, from, to);
      expect(shrink.dryMatter(after, to)).toBeCloseTo(shrink.dryMatter(massKg, from), 6);
    }),
  );
});

test("impossible moistures are refused in words", () => {
  expect(() => shrink.dryToMoisture(1000, 18, 13)).toThrow("moisture");
  expect(() => shrink.dryToMoisture(1000, 0.12, 0.13)).toThrow("already drier");
  expect(() => shrink.dryMatter(1000, 12)).toThrow("0.12 for 12 %");
  expect(() => shrink.intakeClean(-1, 0.02)).toThrow(RangeError);
  expect(() => shrink.dryAndHandle(1000, 0.18, 0.13, 0.5 * 100)).toThrow("handling loss");
});
