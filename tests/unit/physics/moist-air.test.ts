import fc from "fast-check";
import { describe, expect, test } from "vitest";
import * as air from "../../../core/physics/moist-air.ts";

const SEA_PA = 101_325;
const within = (value: number, printed: number, part: number) =>
  expect(Math.abs(value / printed - 1)).toBeLessThan(part);

describe("moist air", () => {
  // outside: ASHRAE, Handbook - Fundamentals (2017), chapter 1, table 3, properties of water at saturation,
  // which is made from the steam tables and not from the equation used here; ASHRAE claims 0.03 %.
  test.each([[-20, 103.24], [-5, 401.74], [5, 872.6], [25, 3169.7], [50, 12_351.3], [100, 101_418]])(
    "outside: vapour saturated at %f °C has %f Pa",
    (tempC, pa) => within(air.saturationPressurePa(tempC), pa, 0.0003),
  );

  // outside: the same chapter, table 1, standard atmosphere.
  test.each([[-500, 107_478], [0, 101_325], [500, 95_461], [1000, 89_875], [4000, 61_640]])(
    "outside: at %f m the standard atmosphere has %f Pa",
    (altitudeM, pa) => expect(Math.abs(air.standardPressurePa(altitudeM) - pa)).toBeLessThan(1),
  );

  // outside: the same chapter, example 1, read from the psychrometric chart: 40 °C with a wet bulb of 20 °C
  // holds 6.5 g of water a kilogram, 14 % relative humidity, 56.7 kJ, 0.896 m³.
  test("outside: air of 40 °C with a wet bulb of 20 °C", () => {
    const ratio = air.humidityRatioAtWetBulb(40, 20, SEA_PA);
    expect(Math.abs(ratio - 0.0065)).toBeLessThan(0.0001);
    expect(Math.abs(air.relativeHumidity(40, ratio, SEA_PA) - 0.14)).toBeLessThan(0.01);
    expect(Math.abs(air.enthalpyKj(40, ratio) - 56.7)).toBeLessThan(0.1);
    within(air.volumeM3PerKg(40, ratio, SEA_PA), 0.896, 0.005);
  });

  // outside: North Dakota State University Extension, tips on drying wheat (2009 and 2019): a fan that warms
  // air of 58 °F and 65 % by 4 °F brings it to 56 %, one that warms 60 °F and 70 % by 5 °F to about 60 %.
  test.each([[58, 65, 62, 56, 1], [60, 70, 65, 60, 1.5]])(
    "outside: air of %f °F and %f per cent warmed to %f °F has %f per cent",
    (coldF, cold, warmF, printed, points) => {
      const ratio = air.humidityRatio((coldF - 32) / 1.8, cold / 100, SEA_PA);
      const warm = 100 * air.relativeHumidity((warmF - 32) / 1.8, ratio, SEA_PA);
      expect(Math.abs(warm - printed)).toBeLessThan(points);
    },
  );

  // An independent implementation of the same chapter: the library psychrolib 1.1.1 (MIT) gave these rows, as
  // temperature, relative humidity, altitude, humidity ratio, wet bulb, heat content and volume.
  test.each([
    [10, 0.8, 0, 0.0060891027, 8.2903, 25.4021, 0.809984],
    [0, 0.8, 0, 0.0030156184, -1.1551, 7.5421, 0.777554],
    [25, 0.6, 0, 0.011895049, 19.4711, 55.4526, 0.860778],
    [60, 0.05, 500, 0.006565449, 24.8812, 77.5129, 1.012327],
    [-10, 0.7, 1000, 0.0012615502, -11.0641, -6.9283, 0.842155],
    [35, 0.9, 300, 0.03397971, 33.4459, 122.4053, 0.954097],
    [80, 0.1, 0, 0.030530382, 39.7832, 161.3794, 1.049543],
  ])("psychrolib's air of %f °C, %f, at %f m", (tempC, humidity, altitudeM, ratio, wetBulb, kj, m3) => {
    const pa = air.standardPressurePa(altitudeM);
    within(air.humidityRatio(tempC, humidity, pa), ratio, 1e-7);
    expect(Math.abs(air.wetBulbC(tempC, ratio, pa) - wetBulb)).toBeLessThan(0.002);
    expect(air.enthalpyKj(tempC, ratio)).toBeCloseTo(kj, 3);
    expect(air.volumeM3PerKg(tempC, ratio, pa)).toBeCloseTo(m3, 5);
  });

  test("a wet bulb and relative humidity lead back to the humidity ratio", () => {
    const temp = fc.double({ min: -15, max: 60, noNaN: true });
    const humidity = fc.double({ min: 0.05, max: 1, noNaN: true });
    fc.assert(fc.property(temp, humidity, (tempC, relative) => {
      const ratio = air.humidityRatio(tempC, relative, SEA_PA);
      expect(air.relativeHumidity(tempC, ratio, SEA_PA)).toBeCloseTo(relative, 10);
      const wetBulb = air.wetBulbC(tempC, ratio, SEA_PA);
      expect(wetBulb).toBeLessThanOrEqual(tempC + 1e-9);
      // Where the bulb freezes the handbook's two equations do not meet, by a tenth of a gram.
      if (Math.abs(wetBulb) > 0.01) {
        expect(air.humidityRatioAtWetBulb(tempC, wetBulb, SEA_PA)).toBeCloseTo(ratio, 8);
      }
    }));
  });

  test("impossible air is refused in words", () => {
    expect(() => air.humidityRatio(20, 65, SEA_PA)).toThrow("0.65 for 65 %");
    expect(() => air.humidityRatio(100, 1, SEA_PA)).toThrow("vapour's share");
    expect(() => air.saturationPressurePa(500)).toThrow("air temperature");
    expect(() => air.standardPressurePa(9000)).toThrow("altitude");
    expect(() => air.relativeHumidity(20, -0.1, SEA_PA)).toThrow("humidity ratio");
  });
});
