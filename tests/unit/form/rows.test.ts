import { describe, expect, test } from "vitest";
import { entriesOf, partsOfForm } from "../../../core/form/entries.ts";
import { freeId, nextId, stemOf } from "../../../core/form/free-id.ts";
import { makeForm } from "../../../core/form/make.ts";
import { merge } from "../../../core/form/merge.ts";
import { rowBelow } from "../../../core/edit/place.ts";
import { spotAt } from "../../../core/form/place.ts";
import { readForm } from "../../../core/form/read.ts";
import { formSource } from "../../../core/form/source.ts";
import type { Lot } from "../../../core/season/grain.ts";
import { demoSeason } from "../../_support/demo.ts";

const season = demoSeason();

/** Reads the form of a place with some entries changed; null takes one away. */
function read(place: string, changes: Record<string, string[] | null>) {
  const source = formSource(season, place)!;
  const entries = entriesOf(makeForm(source));
  for (const [name, texts] of Object.entries(changes)) {
    if (texts === null) entries.delete(name);
    else entries.set(name, texts);
  }
  return readForm(source, entries);
}

const lotA = season.lots.find(({ id }) => id === "lot-a")!;

describe("rows and parts of a form", () => {
  test("a ticked row goes, and names in the value lead back to the rows of the form", () => {
    const { value, troubles, nameOf } = read("/lots/=lot-a", { "/analyses/0:out": ["1"] });
    expect(troubles).toEqual([]);
    expect((value as Lot).analyses).toEqual(lotA.analyses.slice(1));
    expect(nameOf("/analyses/0/plump")).toBe("/analyses/1/plump");
    expect(nameOf("/moistureWb")).toBe("/moistureWb");
  });

  test("a new thing asks at once for the rows that it cannot be without", () => {
    const form = makeForm(formSource(season, "/records/runs/-")!);
    const draws = partsOfForm(form).find(({ name }) => name === "/draws");
    expect(draws).toMatchObject({ rows: [{ old: false }] });
    const { troubles } = read("/records/runs/-", {});
    expect(troubles.filter(({ name }) => name.startsWith("/draws")).map(({ name }) => name)).toEqual([
      "/draws",
    ]);
  });

  test("the last row of a list that needs one cannot go", () => {
    const rows = (season.maltTypes[0] as { made: { profiles: unknown[] } }).made.profiles.length;
    const out = Array.from({ length: rows }, (_, row) => [`/made/profiles/${row}:out`, ["1"]]);
    const { troubles } = read(`/maltTypes/=${season.maltTypes[0]!.id}`, Object.fromEntries(out));
    expect(troubles.map(({ name, wayOut }) => [name, wayOut])).toEqual([[
      "/made/profiles",
      "Keep at least 1.",
    ]]);
  });

  test("a part that may be left out goes when it is ticked, or emptied, and comes when it is filled in", () => {
    expect(read("/lots/=lot-a", { "/useBy:out": ["1"] }).value).not.toHaveProperty("useBy");
    const emptied = read("/lots/=lot-a", { "/useBy/on": [""], "/useBy/reason": [""] });
    expect([emptied.troubles, "useBy" in (emptied.value as Lot)]).toEqual([[], false]);
    const dates = { early: "2026-09-01", likely: "2026-09-08", late: "2026-09-15" };
    const typed = Object.fromEntries(Object.entries(dates).map(([name, day]) => [`/wakesOn/${name}`, [day]]));
    expect(read("/lots/=lot-a", typed).value).toEqual({ ...lotA, wakesOn: dates });
    expect(read("/lots/=lot-a", { "/wakesOn/late": ["2026-09-15"] }).troubles.map(({ name }) => name))
      .toEqual([
        "/wakesOn/early",
        "/wakesOn/likely",
      ]);
  });

  test("ticks keep the order in which they stood, and what is not on the page stays", () => {
    const planting = season.plantings.find(({ fieldIds }) => fieldIds.length === 2)!;
    const place = `/plantings/=${planting.id}`;
    const turned = [...planting.fieldIds].reverse();
    expect(read(place, { "/fieldIds": turned }).value).toEqual(planting);
    expect(read(place, { "/fieldIds": null, "/fieldIds:asked": null }).value).toEqual(planting);
    expect(read(place, { "/fieldIds": null }).troubles.map(({ name }) => name)).toEqual(["/fieldIds"]);
  });

  test("another kind keeps what means the same in both", () => {
    const bin = season.stores.find(({ kind }) => kind === "bin")!;
    const changed = { "/kind": ["bags"], "/places": ["4"], "/placeVolumeL": ["200"] };
    const { value, troubles } = read(`/stores/=${bin.id}`, changed);
    expect(troubles).toEqual([]);
    expect(value).toMatchObject({
      kind: "bags",
      id: bin.id,
      name: bin.name,
      monthTempC: bin.monthTempC,
      places: 4,
    });
    expect(value).not.toHaveProperty("shape");
  });

  test("a key that is used already is refused, and the keys of what is there cannot be typed over", () => {
    const { troubles } = read("/people/-", { "/id": ["lot-a"], "/name": ["Ann"], "/roles": ["owner"] });
    expect(troubles.map(({ name }) => name)).toEqual(["/id"]);
    expect(read("/lots/=lot-a", { "/id": ["lot-x"] }).value).toEqual(lotA);
  });
});

describe("keys", () => {
  test("are made from names and are free", () => {
    expect(["Loft, left", "Bère 2", "***", "-a-"].map(stemOf)).toEqual(["loft-left", "bere-2", "", "a"]);
    expect(freeId("bin", new Set(["bin", "bin-2"]))).toBe("bin-3");
    expect(nextId("run", new Set(["run-01", "run-17", "run-up"]))).toBe("run-18");
    expect(nextId("run", new Set())).toBe("run-1");
  });
});

describe("places", () => {
  test("name rows by their keys and lead to them", () => {
    expect(spotAt(season, "/lots/=lot-a/moistureWb")?.value).toBe(lotA.moistureWb);
    expect(spotAt(season, rowBelow("/opening/grain", "lot-a bin-1"))?.path).toEqual(["opening", "grain", 0]);
    expect(spotAt(season, "/opening/tanks/=" + season.opening.tanks[0]!.tankId)?.value).toBe(
      season.opening.tanks[0],
    );
    expect(spotAt(season, "/records/brews/=" + season.records.brews[1]!.brewId)?.path.at(-1)).toBe(1);
    expect(spotAt(season, "/lots/-")).toMatchObject({ row: true, value: undefined });
    expect(spotAt(season, "/lots/=nobody")).toBeNull();
    expect(spotAt(season, "/constructor/name")).toBeNull();
  });
});

describe("two people's changes of one value", () => {
  const seen = { id: "a", name: "A", rows: [{ id: "x", share: 1 }, { id: "y", share: 2 }], days: [1, 2] };

  test("are put together field by field, and a clash is named", () => {
    const mine = { ...seen, name: "Mine", rows: [{ id: "x", share: 3 }, { id: "z", share: 4 }] };
    const now = {
      ...seen,
      days: [1],
      rows: [{ id: "w", share: 0 }, { id: "x", share: 5 }, { id: "y", share: 2 }],
    };
    expect(merge(seen, mine, now)).toEqual({
      value: {
        ...mine,
        days: [1],
        rows: [now.rows[0], { id: "x", share: 3 }, now.rows[2], { id: "z", share: 4 }],
      },
      both: ["/rows/1/share"],
      out: ["/rows/2"],
    });
  });

  test("that are the same do not clash", () => {
    expect(merge(seen, { ...seen, name: "B" }, { ...seen, name: "B" })).toMatchObject({ both: [], out: [] });
  });
});
