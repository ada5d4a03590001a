import { describe, expect, test } from "vitest";
import { isoDate } from "../../../core/calendar.ts";
import type { SeasonFile } from "../../../core/season/season.ts";
import { drawnYear } from "../../_support/drawn-year.ts";
import { farm } from "./hand-made.ts";

type LotFile = NonNullable<SeasonFile["lots"]>[number];
type AnalysisFile = NonNullable<LotFile["analyses"]>[number];

/** A toxin result that came before the opening position. */
const toxin = (donPpm: number): AnalysisFile => ({
  id: "toxin",
  sampledOn: "2026-12-01",
  resultOn: "2026-12-08",
  donPpm,
});

/** The stretches of lot A with the days on which they begin. */
function stretchesOf(lot: Partial<LotFile>, other: Partial<SeasonFile> = {}): [string, string][] {
  const [a, ...rest] = farm().lots as LotFile[];
  return drawnYear(farm({ ...other, lots: [{ ...a!, ...lot }, ...rest] }), null).stores
    .flatMap((row) => row.stays).find(({ lotId }) => lotId === "lot-a")!
    .stretches.map(({ state, from }) => [state, isoDate(from)]);
}

/** The states of lot A, one after the other, with something changed on it and on the farm. */
function statesOf(lot: Partial<LotFile>, other: Partial<SeasonFile> = {}): string[] {
  const [a, ...rest] = other.lots ?? farm().lots as LotFile[];
  const season = farm({ ...other, lots: [{ ...a!, ...lot }, ...rest] });
  return drawnYear(season, null).stores.flatMap((row) => row.stays).find(({ lotId }) => lotId === "lot-a")!
    .stretches.map(({ state }) => state);
}

describe("a lot is locked", () => {
  test("when it is dressed seed, whatever it is meant for", () => {
    for (const use of ["malting", "feed", "raw", "held"] as const) {
      expect(statesOf({ treatedSeed: true, use })).toEqual(["locked"]);
    }
  });

  test("when dressed seed was tipped into it", () => {
    const parents = [{ kind: "lot" as const, lotId: "lot-c", massG: 1 }];
    const lots = farm().lots.map((one) => one.id === "lot-c" ? { ...one, treatedSeed: true } : one);
    expect(statesOf({ parents }, { lots: lots as LotFile[] })).toEqual(["locked"]);
  });

  test("when it is meant for the mash and its toxin is over the limit", () => {
    expect(statesOf({ use: "raw", analyses: [toxin(1.2)] })).toEqual(["locked"]);
    expect(statesOf({ use: "raw", analyses: [toxin(0.8)] })).toEqual(["ready"]);
  });

  test("when it failed every malt and no buyer of feed takes it", () => {
    expect(statesOf({ analyses: [toxin(11)] })).toEqual(["locked"]);
    expect(statesOf({ analyses: [toxin(3)] }, { feedPickups: [] })).toEqual(["locked"]);
    expect(statesOf({ analyses: [toxin(3)] })).toEqual(["feed"]);
  });

  test("when it is a customer's and no contract has it malted", () => {
    expect(statesOf({ owner: "A neighbour" })).toEqual(["locked"]);
  });
});

test("what somebody has decided stays so", () => {
  expect(statesOf({ use: "feed", analyses: [toxin(11)] })).toEqual(["feed"]);
  expect(statesOf({ use: "held", analyses: [toxin(11)] })).toEqual(["awaiting"]);
});

describe("a lot over the days", () => {
  const energy = (resultOn: string, germinativeEnergy: number): AnalysisFile => ({
    id: `energy-${resultOn}`,
    sampledOn: "2026-12-01",
    resultOn,
    germinativeEnergy,
  });

  test("that is spent is past from the result that showed it, and was ready before", () => {
    const analyses = [energy("2026-12-20", 0.98), energy("2027-01-12", 0.94)];
    expect(stretchesOf({ analyses })).toEqual([["ready", "2027-01-04"], ["past", "2027-01-12"]]);
  });

  test("that died before it woke was never ready", () => {
    const useBy = { on: "2027-01-10", reason: "sprouted" };
    expect(stretchesOf({ useBy })).toEqual([["asleep", "2027-01-04"], ["past", "2027-01-11"]]);
  });

  test("that is too old for one malt and asleep for the other is not ready for either", () => {
    const [pale] = farm().maltTypes;
    if (pale?.made.from !== "grain") throw new Error("pale is made from grain");
    // It passed the first malt in December and fails it now; the second it never passed, and waits for its waking day.
    const strict = { ...pale.made, acceptance: { ...pale.made.acceptance, germinativeEnergyLeast: 0.95 } };
    const easy = { ...pale.made, acceptance: { ...pale.made.acceptance, germinativeEnergyLeast: 0.99 } };
    const analyses = [energy("2026-12-20", 0.97), energy("2027-01-10", 0.94)];
    const maltTypes = [{ ...pale, made: strict }, { ...pale, id: "fine", name: "Fine", made: easy }];
    const wakesOn = { early: "2027-03-01", likely: "2027-03-02", late: "2027-03-03" };
    expect(stretchesOf({ analyses, wakesOn }, { maltTypes }).slice(0, 3)).toEqual([
      ["ready", "2027-01-04"],
      ["asleep", "2027-01-10"],
      ["ready", "2027-03-03"],
    ]);
  });
});
