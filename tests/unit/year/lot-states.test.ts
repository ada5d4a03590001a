import { describe, expect, test } from "vitest";
import type { SeasonFile } from "../../../core/season/season.ts";
import { yearOf } from "../../../core/year/year.ts";
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

/** The states of lot A, one after the other, with something changed on it and on the farm. */
function statesOf(lot: Partial<LotFile>, other: Partial<SeasonFile> = {}): string[] {
  const [a, ...rest] = other.lots ?? farm().lots as LotFile[];
  const season = farm({ ...other, lots: [{ ...a!, ...lot }, ...rest] });
  return yearOf(season, null).stores.flatMap((row) => row.stays).find(({ lotId }) => lotId === "lot-a")!
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
