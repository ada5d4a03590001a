import { describe, expect, test } from "vitest";
import { addDays } from "../../../core/calendar.ts";
import { microSeason } from "../../../core/generate/micro.ts";
import { descends, madeFrom } from "../../../core/season/ancestry.ts";
import { checkSeason } from "../../../core/season/check.ts";
import { lotClock } from "../../../core/season/clocks.ts";
import type { Analysis, Lot } from "../../../core/season/grain.ts";
import { donPpmOf, holdsTreatedSeed, isLocked, maltIsLocked } from "../../../core/season/lock.ts";
import type { Season } from "../../../core/season/season.ts";

const base = microSeason(13, "plain");
const today = base.asOf.slice(0, 10);
const result = (daysAgo: number, donPpm?: number): Analysis => ({
  id: `r-${daysAgo}-${Math.round((donPpm ?? 0) * 10)}`,
  sampledOn: addDays(today, -daysAgo - 1),
  resultOn: addDays(today, -daysAgo),
  germinativeEnergy: 0.97,
  ...(donPpm === undefined ? {} : { donPpm }),
});
const lot = (id: string, analyses: Analysis[], from: string[] = [], more: Partial<Lot> = {}): Lot => ({
  ...base.lots[0]!,
  id,
  analyses,
  parents: from.map((lotId) => ({ kind: "lot", lotId, massG: 1 })),
  ...more,
});
const season = (...lots: Lot[]): Season => ({
  ...structuredClone(base),
  lots,
  records: { ...base.records, mixes: [] },
});
const donPpm = (of: Season, id: string) => donPpmOf(of, of.lots.find((one) => one.id === id)!);

describe("the toxin that counts against a lot", () => {
  test("is its latest result by day, wherever it stands in the file; of one day the last", () => {
    expect(donPpm(season(lot("a", [result(3, 0.4), result(9, 1.6)])), "a")).toBe(0.4);
    expect(donPpm(season(lot("a", [result(9, 1.6), result(3, 0.4)])), "a")).toBe(0.4);
    expect(donPpm(season(lot("a", [result(3, 0.4), { ...result(3, 1.6), id: "b" }])), "a")).toBe(1.6);
    expect(donPpm(season(lot("a", [result(3, 1.6), result(1)])), "a")).toBe(1.6);
    expect(donPpm(season(lot("a", [])), "a")).toBeUndefined();
  });

  test("does not count while its result has not come", () => {
    const { resultOn: _, ...awaited } = result(3, 1.6);
    expect(donPpm(season(lot("a", [awaited])), "a")).toBeUndefined();
  });

  test("goes on to all that is made of it, and a result of the mixture does not take it away", () => {
    const of = season(
      lot("bad", [result(9, 1.6)]),
      lot("good", [result(9, 0.2)]),
      lot("mixed", [result(1, 0.3)], ["good", "bad"]),
      lot("split", [], ["mixed"]),
    );
    expect(donPpm(of, "mixed")).toBe(1.6);
    expect(donPpm(of, "split")).toBe(1.6);
    expect(donPpm(of, "good")).toBe(0.2);
  });

  test("goes on by a recorded mix that no lot names as its parents", () => {
    const of = season(lot("bad", [result(9, 1.6)]), lot("split", []));
    of.records.mixes.push({
      id: "mix",
      on: today,
      parents: [{ lotId: "bad", storeId: "bin-one", massG: 1 }],
      intoLotId: "split",
      storeId: "bin-two",
    });
    expect(donPpm(of, "split")).toBe(1.6);
  });

  test("ends with a newer result of the part that failed", () => {
    const of = season(lot("bad", [result(9, 1.6), result(1, 0.5)]), lot("split", [], ["bad"]));
    expect(donPpm(of, "split")).toBe(0.5);
  });

  test("locks the lot for the malts whose limit it passes, and the season check says why", () => {
    const of = season(lot("bad", [result(9, 1.2)]), lot("lot-one", [result(1, 0.1)], ["bad"]), base.lots[1]!);
    const [malt] = of.maltTypes, [, mixed] = of.lots;
    expect(isLocked(of, mixed!, malt)).toBe(true);
    expect(isLocked(of, mixed!)).toBe(true);
    expect(lotClock(of, mixed!, malt!, of.asOf).blockedBy).toBe("not suitable");
    expect(checkSeason(of).findings).toContainEqual(
      expect.objectContaining({ code: "lot-unfit", value: expect.stringContaining("1.2 mg/kg") }),
    );
    if (malt!.made.from === "grain") malt!.made.acceptance.donPpmMost = 1.2;
    expect(isLocked(of, mixed!, malt)).toBe(false);
    expect(lotClock(of, mixed!, malt!, of.asOf).blockedBy).toBeNull();
  });

  test("of the lot that is asked about is that of the lot as it is given", () => {
    const of = season(lot("a", [result(9, 1.6)]));
    expect(donPpmOf(of, lot("a", [result(9, 0.1)]))).toBe(0.1);
  });
});

test("malt of a lot that failed since is locked by its own malt's limit, bagged grain by that of the mash", () => {
  const of = season(lot("bad", [result(9, 1.2)]), lot("good", [result(9, 0.1)]));
  const { id, made } = of.maltTypes[0]!;
  expect(maltIsLocked(of, id, ["good"])).toBe(false);
  expect(maltIsLocked(of, id, ["good", "bad"])).toBe(true);
  if (made.from === "grain") made.acceptance.donPpmMost = 1.2;
  expect(maltIsLocked(of, id, ["good", "bad"])).toBe(false);
  expect(maltIsLocked(of, null, ["good", "bad"])).toBe(true);
});

test("treated seed stays treated in whatever it is tipped into", () => {
  const of = season(lot("seed", [], [], { treatedSeed: true }), lot("mixed", [], ["seed"]), lot("other", []));
  expect(of.lots.map((one) => holdsTreatedSeed(of, one))).toEqual([true, true, false]);
  expect(isLocked(of, of.lots[1]!)).toBe(true);
});

describe("ancestry", () => {
  test("in which ways part and meet sixty times over is followed in no time", () => {
    const steps = Array.from({ length: 60 }, (_, i) => i);
    const of = season(
      lot("x-0", []),
      lot("y-0", []),
      ...steps.flatMap((i) => ["x", "y"].map((side) => lot(`${side}-${i + 1}`, [], [`x-${i}`, `y-${i}`]))),
    );
    const began = performance.now();
    expect(madeFrom(of, of.lots.at(-1)!)).toHaveLength(121);
    expect(descends(of, "x-60", "lot", ["y-0"], false)).toBe(true);
    expect(descends(of, "x-60", "lot", ["y-0"], true)).toBe(false);
    expect(descends(of, "x-60", "lot", ["y-0", "x-0"], true)).toBe(true);
    expect(performance.now() - began).toBeLessThan(500);
  });

  test("a long chain is followed to its end", () => {
    const of = season(
      lot("l-0", []),
      ...Array.from({ length: 2000 }, (_, i) => lot(`l-${i + 1}`, [], [`l-${i}`])),
    );
    expect(descends(of, "l-2000", "lot", ["l-0"], true)).toBe(true);
    expect(checkSeason(of).findings.map((one) => one.code)).not.toContain("not-a-season");
  });
});
