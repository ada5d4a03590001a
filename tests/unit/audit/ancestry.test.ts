/** What counts as coming from a named field or lot, mixed and unmixed. */
import { describe, expect, test } from "vitest";
import { descends } from "../../../core/audit/ancestry.ts";
import { context } from "../../../core/audit/context.ts";
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
const counts = (kind: "field" | "lot", ids: string[], unmixed: boolean) =>
  season.lots.map((one) => one.id).filter((id) => descends(ctx, id, { kind, ids, unmixed }));

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
});
