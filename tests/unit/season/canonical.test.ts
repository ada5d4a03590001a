import { createHash } from "node:crypto";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { microSeason } from "../../../core/generate/micro.ts";
import { canonicalJson, seasonHash } from "../../../core/season/canonical.ts";
import { seasonSchema } from "../../../core/season/season.ts";

/** The same value with the keys of every object in reverse order. */
function reversed(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(reversed);
  if (typeof value !== "object" || value === null) return value;
  return Object.fromEntries(Object.entries(value).reverse().map(([key, member]) => [key, reversed(member)]));
}

describe("canonical JSON", () => {
  test("sorts keys at every depth and keeps lists in order", () => {
    expect(canonicalJson({ b: [2, 1], a: { d: null, c: "x" } })).toBe('{"a":{"c":"x","d":null},"b":[2,1]}');
  });

  test("leaves out what is undefined", () => {
    expect(canonicalJson({ a: undefined, b: 1 })).toBe('{"b":1}');
  });

  test("reads back as the same value, whatever the order of keys", () => {
    fc.assert(fc.property(fc.jsonValue({ maxDepth: 4 }), (value) => {
      const plain = JSON.parse(JSON.stringify(value));
      expect(JSON.parse(canonicalJson(plain))).toEqual(plain);
      expect(canonicalJson(reversed(plain))).toBe(canonicalJson(plain));
    }));
  });
});

describe("season hash", () => {
  test("is the SHA-256 of the canonical text, by another library's reckoning", async () => {
    const season = microSeason(4);
    const oracle = createHash("sha256").update(canonicalJson(season), "utf8").digest("hex");
    expect(await seasonHash(season)).toBe(oracle);
  });

  test("does not see the order of keys, and sees every change of content", async () => {
    const season = microSeason(4);
    const hash = await seasonHash(season);
    expect(await seasonHash(seasonSchema.parse(reversed(season)))).toBe(hash);
    expect(await seasonHash({ ...season, brews: season.brews.toReversed() })).not.toBe(hash);
    expect(await seasonHash({ ...season, name: `${season.name} ` })).not.toBe(hash);
  });
});
