import { describe, expect, test } from "vitest";
import { z } from "zod";
import { CONTENTS } from "../../../core/form/contents.ts";
import { partsOfForm } from "../../../core/form/entries.ts";
import { makeForm } from "../../../core/form/make.ts";
import type { Entries, FormNode } from "../../../core/form/node.ts";
import { NEW_ROW } from "../../../core/form/place.ts";
import { formSource } from "../../../core/form/source.ts";
import type { FormSource } from "../../../core/form/spot.ts";
import { unwrapped } from "../../../core/season/check/walk.ts";
import { type Season, seasonSchema } from "../../../core/season/season.ts";
import { demoSeason } from "../../_support/demo.ts";

/** Paths of every value of a schema by field names; a list of plain values is one. */
function valuesOf(schema: z.core.$ZodType, path: string): string[] {
  const { schema: plain } = unwrapped(schema);
  if (plain instanceof z.ZodObject) {
    return Object.entries(plain.shape).flatMap(([name, one]) => valuesOf(one, `${path}/${name}`));
  }
  if (plain instanceof z.ZodDiscriminatedUnion) return plain.options.flatMap((one) => valuesOf(one, path));
  return plain instanceof z.ZodArray ? valuesOf(plain.element, path) : [path];
}

/** Forms of a thing yet to be added, with a row in each list, for each kind that it or a part of it can be of. */
function formsOf(source: FormSource, entries: Entries = new Map()): FormNode[] {
  const form = makeForm(source, entries);
  const parts = partsOfForm(form);
  const list = parts.find((part) => part.kind === "rows" && part.rows.length === 0);
  if (list !== undefined) return formsOf(source, new Map(entries).set(`${list.name}:rows`, ["1"]));
  const union = parts.find((part) => part.kind === "kinds" && part.choice.text === "");
  if (union?.kind !== "kinds") return [form];
  const { name, choices } = union.choice;
  return choices.filter(({ text }) => text !== "").flatMap(({ text }) =>
    formsOf(source, new Map(entries).set(name, [text]))
  );
}

/** The season with nothing in the parts that are edited by one form, so that each list in them asks for a row. */
function emptied(season: Season): Season {
  return { ...season, roster: { ...season.roster, weekly: [], extra: [], closed: [], lookIns: [] } };
}

const season = emptied(demoSeason());
const contents = CONTENTS.flatMap(({ contents }) => contents);
const reached = contents.flatMap(({ place, kind }) => {
  const source = formSource(season, kind === "list" ? `${place}/${NEW_ROW}` : place)!;
  return formsOf(source).flatMap(partsOfForm).filter((part) => part.kind === "field" || part.kind === "set")
    .map((part) => ({ part, path: `${place}${part.name.replace(/\/\d+(?=\/|$)/g, "")}` }));
});

describe("every value of the season file", () => {
  test("stands in a form that the contents lead to", () => {
    const paths = new Set(reached.map(({ path }) => path));
    // What kind of file it is, and of which version, is no matter of the farm.
    const wanted = new Set(
      valuesOf(seasonSchema, "").filter((path) => path !== "/format" && path !== "/version"),
    );
    expect([...wanted].filter((path) => !paths.has(path))).toEqual([]);
    expect(wanted.size).toBeGreaterThan(250);
  });

  test("belongs to one part of the contents only", () => {
    const parts = contents.map(({ place }) => place).filter((place) => place !== "");
    expect(new Set(parts).size).toBe(parts.length);
    expect(parts.filter((one) => parts.some((other) => other.startsWith(`${one}/`)))).toEqual([]);
  });

  test("has a name of plain words", () => {
    const bare = reached.filter(({ part }) => !/^[A-Z]/.test(part.label));
    expect(bare.map(({ path }) => path)).toEqual([]);
    expect(reached.filter(({ part }) => /[a-z][A-Z]/.test(part.label)).map(({ path }) => path)).toEqual([]);
  });

  test("names something else only by choosing it, wherever its name says so", () => {
    const typed = reached.filter(({ part, path }) =>
      /Ids?$/.test(path) && part.kind === "field" && part.control !== "choice"
    );
    expect(new Set(typed.map(({ path }) => path))).toEqual(
      // A batch comes into being by its own key here.
      new Set(["/records/runs/outputs/batchId", "/records/orders/batchId", "/bookings/orders/batchId"]),
    );
  });
});
