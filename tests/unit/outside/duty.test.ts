import { expect, test } from "vitest";
import { alcoholByVolume } from "../../../core/physics/alcohol.ts";
import { platoFromSg } from "../../../core/physics/extract.ts";

// outside: HM Revenue and Customs, Excise Notice 226 (beer duty), section 30.3, a table of the Laboratory of the
// Government Chemist: alcohol by volume is the fall in gravity, in thousandths, times a factor that depends on
// the fall. The factors allow for yeast growth and lie 2 to 3 % below Balling's formula; 4 % covers them, but no
// confusion of weight with volume (a quarter) or of real with apparent extract (a fifth).
test.each([
  [1034, 1012, 0.128],
  [1040, 1010, 0.129],
  [1048, 1010, 0.130],
  [1057, 1018, 0.130],
  [1070, 1016, 0.131],
  [1090, 1020, 0.133],
])("outside: alcohol of a beer from %f to %f for duty", (original, present, factor) => {
  const duty = (original - present) * factor;
  const ours = alcoholByVolume(platoFromSg(original / 1000), platoFromSg(present / 1000));
  expect(Math.abs(ours / duty - 1)).toBeLessThan(0.04);
});
