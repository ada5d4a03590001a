import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { MICRO_THEMES } from "../../../core/generate/micro-frame.ts";
import { microSeason } from "../../../core/generate/micro.ts";
import { forecastFills } from "../../../core/season/forecast.ts";
import { gristNeed, reserveFloorG } from "../../../core/season/need.ts";
import { lotClock } from "../../../core/season/clocks.ts";
import { allBrewsToPlan } from "../../../core/season/tail.ts";
import { checkSeason, type SeasonCheck } from "../../../core/season/check.ts";
import type { Season } from "../../../core/season/season.ts";
import { checkText } from "../../_support/season-text.ts";

/** Values that somebody's export, script or malice may leave in a field. */
const NASTY: readonly unknown[] = [
  null,
  undefined,
  "",
  "x",
  "lot-two",
  "../../etc",
  "__proto__",
  "9999-12-31",
  "0000-01-01",
  "2027-02-30",
  "2027-13-01T25:61",
  "9999-12-31T23:59",
  -1,
  0,
  1,
  0.5,
  1e-300,
  1e308,
  -0,
  NaN,
  Infinity,
  Number.MAX_SAFE_INTEGER,
  true,
  [],
  {},
  [[[]]],
  [null],
  { id: "bed" },
  "x".repeat(10_000),
  10n,
  Symbol("s"),
  () => 0,
  new Date(NaN),
];

/** Every place of a value, as paths. */
function places(value: unknown, path: (string | number)[] = []): (string | number)[][] {
  if (typeof value !== "object" || value === null) return [path];
  const below = Object.entries(value).flatMap(([key, member]) =>
    places(member, [...path, Array.isArray(value) ? Number(key) : key])
  );
  return path.length === 0 ? below : [path, ...below];
}

type Loose = Record<string | number, unknown>;

function parentOf(root: unknown, path: readonly (string | number)[]): Loose | undefined {
  let at = root;
  for (const step of path.slice(0, -1)) {
    if (typeof at !== "object" || at === null) return undefined;
    at = (at as Loose)[step];
  }
  return typeof at === "object" && at !== null ? at as Loose : undefined;
}

interface Blow {
  readonly at: number;
  readonly how: "put" | "delete" | "double" | "rename";
  readonly nasty: number;
}

function strike(season: Season, blows: readonly Blow[]): unknown {
  const broken = structuredClone(season);
  const all = places(season);
  for (const blow of blows) {
    const path = all[blow.at % all.length]!;
    const parent = parentOf(broken, path), step = path.at(-1)!;
    if (parent === undefined) continue;
    if (blow.how === "put") parent[step] = NASTY[blow.nasty % NASTY.length];
    if (blow.how === "delete") delete parent[step];
    if (blow.how === "double" && Array.isArray(parent)) parent.push(structuredClone(season && parent[0]));
    if (blow.how === "rename" && !Array.isArray(parent)) parent[`${step}x`] = parent[step];
  }
  return broken;
}

const BLOWS = fc.array(
  fc.record({
    at: fc.nat(5000),
    how: fc.constantFrom("put", "put", "put", "delete", "double", "rename"),
    nasty: fc.nat(NASTY.length - 1),
  }),
  { minLength: 1, maxLength: 4 },
);

/** Either a season and no error, or no season and a reason why. */
function expectVerdict({ season, findings }: SeasonCheck): void {
  expect(season === null).toBe(findings.some((one) => one.level === "error"));
  for (const found of findings) {
    expect(found.code, JSON.stringify(found)).not.toBe("not-a-season");
    expect(`${found.thing}${found.message}${found.wayOut}`).not.toMatch(/\bundefined\b|\[object/);
  }
}

describe("hostile input", () => {
  test("a season struck at random places is judged, never thrown back", () => {
    fc.assert(
      fc.property(fc.nat(500), fc.constantFrom(...MICRO_THEMES), BLOWS, (seed, theme, blows) => {
        expectVerdict(checkSeason(strike(microSeason(seed, theme), blows)));
      }),
      { numRuns: 200 },
    );
  });

  test("a season that passes in spite of a blow can be reckoned with", () => {
    fc.assert(
      fc.property(fc.nat(500), BLOWS, (seed, blows) => {
        const { season } = checkSeason(strike(microSeason(seed), blows));
        if (season === null) return;
        for (const fill of forecastFills(season, season.asOf)) expect(fill.massG).toBeGreaterThanOrEqual(0);
        for (const brew of allBrewsToPlan(season, season.asOf)) {
          for (const line of gristNeed(season, brew)) expect(line.bookMassG).toBeGreaterThanOrEqual(0);
        }
        for (const malt of season.maltTypes) {
          expect(reserveFloorG(season, malt)).toBeGreaterThanOrEqual(0);
          for (const lot of season.lots) {
            expect(lotClock(season, lot, malt, season.asOf).lastDay).not.toBeNaN();
          }
        }
      }),
      { numRuns: 150 },
    );
  });

  test("any JSON is judged", () => {
    fc.assert(
      fc.property(fc.json({ maxDepth: 4 }), (text) => {
        expect(checkText(text)!.findings.length).toBeGreaterThan(0);
      }),
      { numRuns: 200 },
    );
  });

  test("a text cut off or smeared is judged", () => {
    const text = JSON.stringify(microSeason(1));
    fc.assert(
      fc.property(fc.nat(text.length - 1), fc.string({ maxLength: 3 }), (at, smear) => {
        const checked = checkText(text.slice(0, at) + smear + text.slice(at + smear.length));
        expect(checked === null || checked.season !== null || checked.findings.length > 0).toBe(true);
        expect(checkText(text.slice(0, at))).toBeNull();
      }),
      { numRuns: 200 },
    );
  });

  test("a key that names the prototype is an unknown field and touches nothing", () => {
    const text = JSON.stringify(microSeason(1)).replace("{", '{"__proto__": {"polluted": 1}, ');
    const { season, findings } = checkText(text)!;
    expect(season).toBeNull();
    expect(findings.map((one) => one.code)).toContain("unknown-field");
    expect("polluted" in {}).toBe(false);
  });

  test("fields that throw when read, and values that lead back to themselves, are no seasons", () => {
    const trap = { format: "rickyard-season", version: 1 };
    Object.defineProperty(trap, "lots", {
      enumerable: true,
      get: () => {
        throw new Error("trap");
      },
    });
    const loop: Record<string, unknown> = { format: "rickyard-season", version: 1 };
    loop.lots = [loop];
    for (const value of [trap, loop, new Proxy({}, { get: () => loop })]) {
      expect(checkSeason(value).season).toBeNull();
    }
  });
});
