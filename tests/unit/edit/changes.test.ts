import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { applyChanges } from "../../../core/edit/apply.ts";
import { type Change, changesBetween, inverseOf } from "../../../core/edit/change.ts";
import type { JsonObject } from "../../../core/edit/json.ts";
import { placeFor, pointerFor, withPlaces, withPointers } from "../../../core/edit/marks.ts";
import { makeSeason } from "../../../core/generate/make-season.ts";
import { seasonSchema } from "../../../core/season/season.ts";
import { demoSeason } from "../../_support/demo.ts";
import { type Pick, someEdit } from "../../_support/some-edit.ts";

const demo = demoSeason();
const small = makeSeason("small", 3);
const asJson = (season: unknown) => withPlaces(season as JsonObject);

/** A season after so many chance edits, whether or not they would pass the check. */
function edited(base: JsonObject, choices: readonly number[]): JsonObject {
  const left = [...choices];
  const pick: Pick = (below) => (left.shift() ?? 0) % below;
  let document = base;
  for (let n = 0; left.length > 0; n++) {
    const season = withPointers(document) as never;
    document = applyChanges(document, someEdit(season, pick, `new-${n}`)).document;
  }
  return document;
}

describe("what changed between two seasons", () => {
  const choices = fc.array(fc.nat(), { minLength: 3, maxLength: 24 });

  test("turns the one into the other, and back", () => {
    fc.assert(
      fc.property(fc.constantFrom(demo, small), choices, choices, (season, one, other) => {
        const [a, b] = [edited(asJson(season), one), edited(asJson(season), other)];
        const changes = changesBetween(a, b);
        expect(applyChanges(a, changes)).toEqual({ document: b, clashes: [] });
        expect(applyChanges(b, inverseOf(changes))).toEqual({ document: a, clashes: [] });
      }),
      { numRuns: 60 },
    );
  });

  test("is one value where one value changed", () => {
    const other = structuredClone(demo);
    other.lots[1]!.moistureWb = 0.131;
    expect(changesBetween(asJson(demo), asJson(other))).toEqual([
      { at: `/lots/=${demo.lots[1]!.id}/moistureWb`, from: demo.lots[1]!.moistureWb, to: 0.131 },
    ]);
  });

  test("is a row where a row came or went, whatever stands around it", () => {
    const other = structuredClone(demo);
    const [gone] = other.brews.splice(4, 1);
    expect(changesBetween(asJson(demo), asJson(other))).toEqual([{
      at: `/brews/=${gone!.id}`,
      from: gone,
      index: 4,
    }]);
    expect(changesBetween(asJson(other), asJson(demo))).toEqual([{
      at: `/brews/=${gone!.id}`,
      to: gone,
      index: 4,
    }]);
  });

  test("brings several rows back to where they stood", () => {
    const other = structuredClone(demo);
    other.brews = other.brews.filter((_, index) => ![2, 3, 7].includes(index));
    const changes = changesBetween(asJson(demo), asJson(other));
    expect(applyChanges(asJson(other), inverseOf(changes)).document).toEqual(asJson(demo));
  });

  test("is the whole list where its rows only changed places", () => {
    const other = structuredClone(demo);
    other.lots.reverse();
    const changes = changesBetween(asJson(demo), asJson(other));
    expect(changes.map(({ at }) => at)).toEqual(["/lots"]);
    expect(applyChanges(asJson(demo), changes).document).toEqual(asJson(other));
  });
});

describe("a change", () => {
  const at = `/lots/=${demo.lots[0]!.id}/moistureWb`;
  const was = demo.lots[0]!.moistureWb;

  test("clashes when something else stands there than its author saw", () => {
    const { document, clashes } = applyChanges(asJson(demo), [{ at, from: 0.5, to: 0.119 }]);
    expect([document, clashes]).toEqual([asJson(demo), [{ at, seen: 0.5, now: was, wanted: 0.119 }]]);
  });

  test("has nothing to do where its value stands already", () => {
    expect(applyChanges(asJson(demo), [{ at, from: 0.5, to: was }])).toEqual({
      document: asJson(demo),
      clashes: [],
    });
  });

  test.each<[string, Change]>([
    ["in a row that is gone", { at: "/lots/=nobody/moistureWb", from: 0.1, to: 0.2 }],
    ["in a row that never was", { at: "/lots/=nobody/useBy", to: { on: "2027-02-01", reason: "old" } }],
    ["in a list that is none", { at: "/name/=x", to: "y" }],
    ["to a season that is no season", { at: "", from: null, to: 3 }],
  ])("clashes %s", (_, change) => {
    expect(applyChanges(asJson(demo), [change]).clashes).toHaveLength(1);
  });

  test("to another field of the same lot goes through beside it", () => {
    const changes = [{ at, from: was, to: 0.119 }, {
      at: `/lots/=${demo.lots[0]!.id}/name`,
      from: demo.lots[0]!.name,
      to: "X",
    }];
    const after =
      applyChanges(applyChanges(asJson(demo), changes.slice(0, 1)).document, changes.slice(1)).document;
    expect((after.lots as unknown as typeof demo.lots)[0]).toMatchObject({ moistureWb: 0.119, name: "X" });
  });
});

describe("a list that may be left out", () => {
  test("begins with its first row", () => {
    const row = { id: "d1", contractId: "c", on: "2027-01-18", batchId: "b", massG: 1 };
    const { document, clashes } = applyChanges(asJson(demo), [{
      at: "/records/maltDeliveries/=d1",
      to: row,
    }]);
    expect([clashes, (document.records as typeof demo.records).maltDeliveries]).toEqual([[], [row]]);
    const back = applyChanges(document, inverseOf(changesBetween(asJson(demo), document)));
    expect(back).toEqual({ document: asJson(demo), clashes: [] });
  });
});

describe("a mark of a book value", () => {
  const pointer = demo.bookValues.find((one) => /^\/maltTypes\/1\//.test(one)) ?? "/maltTypes/1/restDays";

  test("follows its row when rows before it go", () => {
    const marked = { ...demo, bookValues: [pointer] } as unknown as JsonObject;
    const place = placeFor(marked, pointer);
    expect(place).toBe(pointer.replace("/1/", `/=${demo.maltTypes[1]!.id}/`));
    const shorter = { ...demo, maltTypes: demo.maltTypes.slice(1) } as unknown as JsonObject;
    expect(pointerFor(shorter, place)).toBe(pointer.replace("/1/", "/0/"));
  });

  test("to nothing, or into a list without keys, stays as it is written", () => {
    const document = demo as unknown as JsonObject;
    for (const one of ["/lots/999/name", "/nothing", "", "/roster/weekly/0/from", "/lots/=x/name"]) {
      expect(pointerFor(document, placeFor(document, one))).toBe(one);
    }
  });

  test("there and back again is the season as it was", () => {
    expect(seasonSchema.parse(withPointers(asJson(demo)))).toEqual(demo);
  });
});
