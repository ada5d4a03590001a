import { describe, expect, test } from "vitest";
import { CAUTIONS, cautionsFor, HAZARDOUS_KINDS } from "../../../core/cautions.ts";

describe("cautions", () => {
  test("every hazardous kind has at least one, whole", () => {
    for (const kind of HAZARDOUS_KINDS) {
      const cautions = cautionsFor(kind);
      expect([kind, cautions.length > 0]).toEqual([kind, true]);
      for (const one of cautions) {
        expect(one.sentence.length).toBeGreaterThan(30);
        expect(one.authority).not.toBe("");
        expect(one.where).not.toBe("");
      }
    }
  });

  test("every hazard of the table is met in some kind", () => {
    const met = new Set(HAZARDOUS_KINDS.flatMap((kind) => cautionsFor(kind).map((one) => one.hazard)));
    expect([...met].sort()).toEqual(Object.keys(CAUTIONS).sort());
  });

  test("a bin that has to be clean by a day warns of entry, bridging and fumigants", () => {
    expect(cautionsFor("bin clean by").map((one) => one.hazard)).toEqual(
      expect.arrayContaining(["grain engulfment", "bridged grain", "fumigants and harvest intervals"]),
    );
  });

  test("none tells people to go in, or that anything is safe", () => {
    for (const { sentence } of Object.values(CAUTIONS)) {
      expect(sentence).not.toMatch(
        /^(Enter|Go|Climb|Clear|Open|Override)\b|\b(is|are) (safe|compliant|allowed)\b/i,
      );
    }
  });
});
