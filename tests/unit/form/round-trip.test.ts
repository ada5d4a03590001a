import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { entriesOf, partsOfForm } from "../../../core/form/entries.ts";
import { makeForm } from "../../../core/form/make.ts";
import type { FieldNode } from "../../../core/form/node.ts";
import { readForm } from "../../../core/form/read.ts";
import { formSource } from "../../../core/form/source.ts";
import { makeSeason } from "../../../core/generate/make-season.ts";
import { valueAt } from "../../../core/season/check/finding.ts";
import type { Season } from "../../../core/season/season.ts";
import { demoSeason } from "../../_support/demo.ts";
import { formPlaces } from "./_rows.ts";

const READERS = ["us", "metric"] as const;

/** Places whose form, sent as it stands, gives another value than the one it was made of. */
function drifting(season: Season): unknown[] {
  return formPlaces(season).flatMap((place) => {
    const source = formSource(season, place)!;
    const { value, troubles } = readForm(source, entriesOf(makeForm(source)));
    const same = JSON.stringify(sorted(value)) === JSON.stringify(sorted(source.seen));
    return same && troubles.length === 0 ? [] : [{ place, value, seen: source.seen, troubles }];
  });
}

function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted);
  if (typeof value !== "object" || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).sort(([a], [b]) => a < b ? -1 : 1).map(([key, one]) => [key, sorted(one)]),
  );
}

describe("a form that nobody touched gives back what stood there, to the bit", () => {
  test.each(READERS)("in every part of the demo, for a reader of %s units", (readerUnits) => {
    expect(drifting({ ...demoSeason(), readerUnits })).toEqual([]);
  });

  test("in every part of made seasons", () => {
    fc.assert(
      fc.property(
        fc.constantFrom("micro", "small", "typical"),
        fc.integer({ min: 1, max: 500 }),
        fc.constantFrom(...READERS),
        (size, seed, readerUnits) => {
          expect(drifting({ ...makeSeason(size, seed), readerUnits })).toEqual([]);
        },
      ),
      { numRuns: 8 },
    );
  });
});

describe("changing one field changes just that one", () => {
  const season = demoSeason();
  const places = formPlaces(season).filter((_, index) => index % 5 === 0);

  /** Another text for a field, and whether it has one. */
  function other(field: FieldNode): string | null {
    if (field.control === "number") {
      const { least, most } = { least: 0.2, most: 0.9 };
      const seen = typeof field.seen === "number" ? field.seen : undefined;
      return seen === undefined || seen === 0 ? null : field.toText!(seen * (seen < 1 ? most : least + 0.7));
    }
    if (field.control === "choice") {
      return field.choices.find(({ text }) => text !== field.text)?.text ?? null;
    }
    if (field.control === "text" || field.control === "long text") {
      return field.name === "/currency" || field.name === "/zone" ? null : "Ab";
    }
    return null;
  }

  test("for a reader of either units", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...places),
        fc.constantFrom(...READERS),
        fc.nat(),
        (place, readerUnits, pick) => {
          const source = formSource({ ...season, readerUnits }, place)!;
          const form = makeForm(source);
          const fields = partsOfForm(form).filter((node): node is FieldNode =>
            node.kind === "field" && other(node) !== null && other(node) !== node.text
          );
          const kinds = partsOfForm(form).flatMap((node) => node.kind === "kinds" ? [node.choice.name] : []);
          const plain = fields.filter(({ name }) => !kinds.includes(name));
          if (plain.length === 0) return;
          const field = plain[pick % plain.length]!;
          const entries = new Map(entriesOf(form)).set(field.name, [other(field)!]);
          const { value, troubles } = readForm(source, entries);
          if (troubles.length > 0) {
            expect(troubles.map(({ name }) => name)).toEqual([field.name]);
            return;
          }
          const path = field.name.split("/").slice(1);
          const expected = structuredClone(source.seen) as Record<string, unknown>;
          const holder = valueAt(expected, path.slice(0, -1)) as Record<string, unknown>;
          expect(valueAt(value, path)).not.toEqual(field.seen);
          holder[path.at(-1)!] = valueAt(value, path);
          expect(value).toEqual(expected);
        },
      ),
      { numRuns: 300 },
    );
  });
});
