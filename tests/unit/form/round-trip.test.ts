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
        fc.constantFrom("micro", "small"),
        fc.integer({ min: 1, max: 500 }),
        fc.constantFrom(...READERS),
        (size, seed, readerUnits) => {
          expect(drifting({ ...makeSeason(size, seed), readerUnits })).toEqual([]);
        },
      ),
      { numRuns: 6 },
    );
  });
});

describe("changing one field changes just that one", () => {
  const season = demoSeason();
  const places = formPlaces(season).filter((_, index) => index % 5 === 0);

  /** Another text that a field takes, or null when there is none. */
  function other(field: FieldNode): string | null {
    const { control, seen, text, choices, toText } = field;
    if (control === "number") return typeof seen === "number" && seen !== 0 ? toText!(seen * 0.9) : null;
    if (control === "choice") return choices.find((one) => one.text !== text)?.text ?? null;
    if (control === "day") return "2026-11-30";
    return /text/.test(control) && !["/currency", "/zone"].includes(field.name) ? "Ab" : null;
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
          const parts = partsOfForm(form);
          // Another kind asks for other fields, and the first field of a part that is not there for the rest of it.
          const kinds = parts.flatMap((node) => node.kind === "kinds" ? [node.choice.name] : []);
          const holder = (name: string) => valueAt(source.seen, name.split("/").slice(1, -1));
          const plain = parts.filter((node): node is FieldNode =>
            node.kind === "field" && !kinds.includes(node.name) && holder(node.name) !== undefined &&
            other(node) !== null && other(node) !== node.text
          );
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
          expect(valueAt(value, path)).not.toEqual(field.seen);
          Object.assign(valueAt(expected, path.slice(0, -1)) as object, {
            [path.at(-1)!]: valueAt(value, path),
          });
          expect(value).toEqual(expected);
        },
      ),
      { numRuns: 300 },
    );
  });
});
