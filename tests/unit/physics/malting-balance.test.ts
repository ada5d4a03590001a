import fc from "fast-check";
import { expect, test } from "vitest";
import {
  cleanKgFor,
  grainForMalt,
  maltingBalance,
  type MaltingLosses,
  totalLossDm,
} from "../../../core/physics/malting-balance.ts";
import { massAtMoisture } from "../../../core/physics/shrink.ts";

/** Losses by stage that sum to a published total; only the total matters to the malt. */
function losses(total: number, moistureWb: number, maltMoistureWb: number, screeningLoss = 0): MaltingLosses {
  const [steepLossDm, respirationLossDm, rootletLossDm] = [total * 0.1, total * 0.5, total * 0.4];
  const culmMoistureWb = 0.05;
  return {
    moistureWb,
    screeningLoss,
    steepLossDm,
    respirationLossDm,
    rootletLossDm,
    maltMoistureWb,
    culmMoistureWb,
  };
}

// outside: Maltsters' Association of Great Britain, malt facts: 1,000 kg of barley at 12 % give about 830 kg
// of malt at 5 %. Our 10.4 % loss of dry matter lies in the middle of the textbooks' 8 to 12 %; 830 is
// printed to 10 kg.
test("outside: the UK trade's 830 kg of malt from a tonne", () => {
  const balance = maltingBalance(1000, losses(0.104, 0.12, 0.05));
  expect(Math.abs(balance.maltKg - 830)).toBeLessThan(1);
  expect(balance.dryMatterInKg).toBeCloseTo(880, 9);
});

// outside: npj Sustainable Agriculture (2025), table 2, a US malthouse of 4 t batches: $1,744 a batch and
// $515 a tonne of malt, so 3.386 t of malt a batch. From 12 % barley to 4 % malt that is a loss of 7.6 % of
// the dry matter.
test("outside: malt from the 4 t batch of a costed malthouse", () => {
  expect(Math.abs(maltingBalance(4000, losses(0.076, 0.12, 0.04)).maltKg / (1_744_000 / 515) - 1))
    .toBeLessThan(0.001);
});

// outside: Encyclopaedia Britannica, "Malt": a thousand corns of barley weigh 42 g at 15 % and give 32 g of
// malt at 2 %, for a stated 12.5 % loss of dry matter (rounded there; exactly 12.2 %).
test("outside: a thousand corns before and after malting", () => {
  expect(Math.abs(maltingBalance(42, losses(0.125, 0.15, 0.02)).maltKg - 32)).toBeLessThan(0.5);
});

// outside: a brewing textbook of the 1850s (TIB scan, volume 1 part 1, p. 368): 100 barley, 150 steeped, 80
// kiln malt. It gives no moistures; 14 % in the barley, 43 % steeped and 4 % in the malt are ours, and 10 %
// for the loss.
test("outside: the chain of the 1850s from barley to malt", () => {
  expect(Math.abs(massAtMoisture(100, 0.14, 0.43) - 150)).toBeLessThan(3);
  expect(Math.abs(maltingBalance(100, losses(0.10, 0.14, 0.04)).maltKg - 80)).toBeLessThan(2);
});

// outside: Maltsters' Association of Great Britain, malt facts: rootlets are about 4 % of the malt's weight.
test("outside: culms are about 4 % of the malt", () => {
  const balance = maltingBalance(1000, losses(0.104, 0.12, 0.05));
  expect(Math.abs(balance.culmsKg / balance.maltKg - 0.04)).toBeLessThan(0.01);
});

test("the demo's year: 40.28 t drawn, 1.61 t screened, about 32 t of malt", () => {
  const balance = maltingBalance(40_280, losses(0.104, 0.12, 0.05, 0.04));
  expect(balance.screeningsKg).toBeCloseTo(1611, 0);
  expect(balance.cleanKg).toBeCloseTo(38_669, 0);
  expect(balance.maltKg / 1000).toBeCloseTo(32.1, 1);
});

test("stages of one run, carbon dioxide and moist culms included", () => {
  const balance = maltingBalance(1000, losses(0.10, 0.12, 0.05, 0.04));
  expect(balance.dryMatterInKg).toBeCloseTo(844.8, 9);
  expect(balance.steepLossDmKg).toBeCloseTo(8.448, 9);
  expect(balance.respirationLossDmKg).toBeCloseTo(42.24, 9);
  expect(balance.culmsDmKg).toBeCloseTo(33.792, 9);
  expect(balance.culmsKg).toBeCloseTo(33.792 / 0.95, 9);
  expect(balance.co2Kg).toBeCloseTo(42.24 * 1.6286, 2);
  expect(balance.maltKg).toBeCloseTo(760.32 / 0.95, 9);
});

const PART = fc.double({ min: 0, max: 0.2, noNaN: true });

test("every kilogram of dry matter is found again, and the inverse leads back", () => {
  fc.assert(
    fc.property(
      fc.double({ min: 1, max: 1e5, noNaN: true }),
      PART,
      PART,
      PART,
      PART,
      (massKg, a, b, c, d) => {
        const some = losses(a, b, c / 2, d);
        const run = maltingBalance(massKg, some);
        const found = run.maltDmKg + run.steepLossDmKg + run.respirationLossDmKg + run.culmsDmKg;
        expect(found / run.dryMatterInKg).toBeCloseTo(1, 12);
        expect((run.screeningsKg + run.cleanKg) / massKg).toBeCloseTo(1, 12);
        expect(grainForMalt(run.maltKg, some) / massKg).toBeCloseTo(1, 10);
        expect(cleanKgFor(run.maltKg, some) / run.cleanKg).toBeCloseTo(1, 10);
        expect(totalLossDm(some)).toBeCloseTo(a, 12);
      },
    ),
  );
});

test("impossible losses are refused in words", () => {
  expect(() => maltingBalance(1000, losses(0.1, 12, 0.05))).toThrow(
    "moisture of the grain must be a fraction",
  );
  expect(() => maltingBalance(-1, losses(0.1, 0.12, 0.05))).toThrow("drawn from the bin");
  expect(() => grainForMalt(800, { ...losses(0.1, 0.12, 0.05), steepLossDm: 0.99 })).toThrow(
    "sum of the malting losses",
  );
});
