/** What counts as coming from a named field or lot, mixed and unmixed. */
import { describe, expect, test } from "vitest";
import { descends } from "../../../core/audit/ancestry.ts";
import { context } from "../../../core/audit/context.ts";
import { descends as descendsBySeason } from "../../../core/season/ancestry.ts";
import type { Lot } from "../../../core/season/grain.ts";
import { handPlan } from "./_hand-plan.ts";
import { handSeason } from "./_hand-season.ts";
import { of } from "./_variant.ts";

const season = handSeason();
const lot = (id: string, parents: Lot["parents"]) =>
  season.lots.push({ ...structuredClone(of(season.lots, "b")), id, parents });
const from = (lotId: string) => ({ kind: "lot" as const, lotId, massG: 1 });
// a comes from field-a and f from field-f by their plantings; b's origin is not written down; g was bought.
lot("weighed", [{ kind: "planting", plantingId: "plant-a" }]);
lot("a-a", [from("a"), from("weighed")]);
lot("a-f", [from("a"), from("f")]);
lot("a-g", [from("a"), from("g")]);
lot("a-b", [from("a-a"), from("b")]);
lot("a-sack", [from("a"), { kind: "bought", from: "a neighbour" }]);
lot("a-f-b", [from("a-f"), from("b")]);
lot("a-f-moved", [from("a-f")]);
lot("loop", [from("pool"), from("a")]);
lot("pool", [from("loop")]);
const ctx = context(season, handPlan());
const counts = (kind: "field" | "lot", ids: string[], unmixed: boolean) => {
  const counted = season.lots.map((one) => one.id).filter((id) => descends(ctx, id, { kind, ids, unmixed }));
  // The planner asks the season; about lots that are their own ancestors the two need not agree.
  const straight = (id: string) => id !== "loop" && id !== "pool";
  const bySeason = season.lots.map((one) => one.id).filter((id) =>
    descendsBySeason(season, id, kind, ids, unmixed)
  );
  expect(bySeason.filter(straight)).toEqual(counted.filter(straight));
  return counted;
};

describe("fields", () => {
  test("mixed grain counts", () => {
    expect(counts("field", ["field-a"], false)).toEqual([
      "a",
      "weighed",
      "a-a",
      "a-f",
      "a-g",
      "a-b",
      "a-sack",
      "a-f-b",
      "a-f-moved",
      "loop",
      "pool",
    ]);
  });

  test("unmixed grain has no other field, no purchase and no lot of unknown origin in it", () => {
    expect(counts("field", ["field-a"], true)).toEqual(["a", "weighed", "a-a", "pool"]);
    expect(counts("field", ["field-a", "field-f"], true)).toEqual([
      "a",
      "f",
      "weighed",
      "a-a",
      "a-f",
      "a-f-moved",
      "pool",
    ]);
  });

  test("a planting counts unmixed only when all its fields are named", () => {
    const both = handSeason();
    of(both.plantings, "plant-f").fieldIds.push("field-a");
    const demand = { kind: "field" as const, ids: ["field-a"] };
    expect(descends(context(both, handPlan()), "f", { ...demand, unmixed: false })).toBe(true);
    expect(descends(context(both, handPlan()), "f", { ...demand, unmixed: true })).toBe(false);
  });
});

describe("lots", () => {
  test("a lot and its descendants count", () => {
    expect(counts("lot", ["weighed"], false)).toEqual(["weighed", "a-a", "a-b"]);
    expect(counts("lot", ["pool"], false)).toEqual(["loop", "pool"]);
    expect(counts("lot", ["field-a"], false)).toEqual([]);
  });

  test("unmixed, only the lot itself and what was made of named lots alone", () => {
    expect(counts("lot", ["a-f"], true)).toEqual(["a-f", "a-f-moved"]);
    expect(counts("lot", ["a", "weighed"], true)).toEqual(["a", "weighed", "a-a", "pool"]);
  });

  test("unmixed, a named lot's own past does not matter, but what else went in beside it does", () => {
    // a-a was made of a and weighed; a-b of a-a and b.
    expect(counts("lot", ["a-a"], true)).toEqual(["a-a"]);
    expect(counts("lot", ["a-a", "b"], true)).toEqual(["b", "a-a", "a-b"]);
    // A lot made of a and a purchase is not a alone, and neither is one that has a planting of its own beside it.
    expect(counts("lot", ["a"], true)).not.toContain("a-sack");
    const both = handSeason();
    both.lots.push({
      ...structuredClone(of(both.lots, "b")),
      id: "a-sown",
      parents: [from("a"), { kind: "planting", plantingId: "plant-f" }],
    });
    expect(descends(context(both, handPlan()), "a-sown", { kind: "lot", ids: ["a"], unmixed: true })).toBe(
      false,
    );
    expect(descendsBySeason(both, "a-sown", "lot", ["a"], true)).toBe(false);
  });
});

describe("recorded mixes", () => {
  const day = "2027-01-11";
  /** Lots a and b lie in store; a record tips some lots into another on a day. */
  const mixed = (intoLotId: string, parents: string[], change: (lot: Lot) => void = () => {}) => {
    const season = handSeason();
    const made = { ...structuredClone(of(season.lots, "b")), id: "made", formedOn: day, parents: [] };
    season.lots.push(made);
    change(made);
    season.records.mixes = [{
      id: "mix",
      on: day,
      parents: parents.map((lotId) => ({ lotId, storeId: "bin-1", massG: 1 })),
      intoLotId,
      storeId: "bin-2",
    }];
    return (lotId: string, kind: "field" | "lot", ids: string[], unmixed: boolean) => {
      const answer = descends(context(season, handPlan()), lotId, { kind, ids, unmixed });
      expect(descendsBySeason(season, lotId, kind, ids, unmixed)).toBe(answer);
      return answer;
    };
  };

  test("a lot that records alone made comes from what they tipped together", () => {
    const asked = mixed("made", ["a", "b"]);
    expect(asked("made", "lot", ["a"], false)).toBe(true);
    expect(asked("made", "lot", ["a"], true)).toBe(false);
    expect(asked("made", "lot", ["a", "b"], true)).toBe(true);
    expect(asked("made", "field", ["field-a"], false)).toBe(true);
    expect(asked("made", "field", ["field-a"], true)).toBe(false);
    expect(mixed("made", ["a"])("made", "field", ["field-a"], true)).toBe(true);
  });

  test("a lot that is named is what it was formed of", () => {
    expect(mixed("made", ["a", "b"])("made", "lot", ["made"], true)).toBe(true);
  });

  test("a named lot with another tipped into it later is mixed, unless that one is named as well", () => {
    const asked = mixed("a", ["b"]);
    expect(asked("a", "lot", ["a"], false)).toBe(true);
    expect(asked("a", "lot", ["a"], true)).toBe(false);
    expect(asked("a", "lot", ["a", "b"], true)).toBe(true);
    expect(asked("a", "field", ["field-a"], true)).toBe(false);
  });

  test("a lot of unknown origin does not become that of what was tipped into it", () => {
    const asked = mixed("b", ["a"]);
    expect(asked("b", "field", ["field-a"], false)).toBe(true);
    expect(asked("b", "field", ["field-a"], true)).toBe(false);
    expect(asked("b", "lot", ["a"], true)).toBe(false);
  });

  test("a parent that is named and recorded as well counts once", () => {
    const asked = mixed("made", ["a"], (made) => made.parents = [from("a")]);
    expect(asked("made", "lot", ["a"], true)).toBe(true);
    expect(asked("made", "lot", ["made"], true)).toBe(true);
  });
});

test("ways that part and meet sixty times over are followed in no time", () => {
  const deep = handSeason();
  const push = (id: string, parents: Lot["parents"]) =>
    deep.lots.push({ ...structuredClone(of(deep.lots, "b")), id, parents });
  push("x-0", []);
  push("y-0", []);
  for (let step = 1; step <= 60; step++) {
    for (const side of ["x", "y"]) push(`${side}-${step}`, [from(`x-${step - 1}`), from(`y-${step - 1}`)]);
  }
  const asked = context(deep, handPlan());
  expect(descends(asked, "x-60", { kind: "lot", ids: ["y-0"], unmixed: true })).toBe(false);
  expect(descends(asked, "x-60", { kind: "lot", ids: ["x-0", "y-0"], unmixed: true })).toBe(true);
});
