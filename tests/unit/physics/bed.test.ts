import { expect, test } from "vitest";
import { bedLoadKg, swellRatio } from "../../../core/physics/bed.ts";

// J. Agr. Sci. Tech. (JAST), barley steeping study, variety Sahra: 568.10 kg/m³ at 10.12 % and 613.68 at
// 42.17 %.
const SWELL = () => swellRatio(0.1012, 0.4217, 568.10, 613.68);

// The same study weighs corns of 0.048 g before and 0.074 g after, so its volume grows by the ratio of the
// weights over that of the densities: 1.427. Its densities cancel here, which leaves the outside check of
// shrink.test.ts, so it is not counted twice.
test("barley swells to about 1.43 of its dry volume", () => {
  expect(Math.abs(SWELL() / ((0.074 / 0.048) * (568.10 / 613.68)) - 1)).toBeLessThan(0.02);
});

// outside: "Cereals Processing Technology", p. 193: a vessel for 300 t at 550 to 600 kg/m² has 500 to 545 m²
// and a bed about 1.2 m deep. The test weight is the Canadian Grain Commission's ten-year mean for malting
// barley, 66.7 kg/hl.
test("outside: a germination vessel for 300 t", () => {
  const loadKgPerM2 = bedLoadKg(1, 1.2, 66.7, SWELL());
  expect(loadKgPerM2).toBeGreaterThan(550);
  expect(loadKgPerM2).toBeLessThan(600);
});

test("a deeper bed takes more, a livelier swell less", () => {
  expect(bedLoadKg(5, 0.4, 62, 1.4)).toBeCloseTo(885.7, 1);
  expect(bedLoadKg(5, 0.5, 62, 1.4)).toBeGreaterThan(bedLoadKg(5, 0.4, 62, 1.4));
  expect(bedLoadKg(5, 0.4, 62, 1.5)).toBeLessThan(bedLoadKg(5, 0.4, 62, 1.4));
});

test("impossible beds are refused in words", () => {
  expect(() => bedLoadKg(0, 0.4, 62, 1.4)).toThrow("bed area");
  expect(() => bedLoadKg(5, 0.4, 62, 0)).toThrow("swell ratio");
  expect(() => swellRatio(0.12, 42, 600, 600)).toThrow("0.12 for 12 %");
});
