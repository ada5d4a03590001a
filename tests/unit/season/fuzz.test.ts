import type { Highs } from "highs";
import { beforeAll, describe, expect, test } from "vitest";
import { loadHighs } from "../../_support/highs.ts";
import { type Base, bases } from "../../_campaigns/fuzz/bases.ts";
import { caseOf, kindOfFault, shrink, textOf } from "../../_campaigns/fuzz/cases.ts";
import { corrupt, raw } from "../../_campaigns/fuzz/edits.ts";
import { judge } from "../../_campaigns/fuzz/judge.ts";

/** The short form of the campaign `deno task fuzz`: some hundreds of its cases. */
let highs: Highs;
let from: Awaited<ReturnType<typeof bases>>;
beforeAll(async () => {
  highs = await loadHighs();
  from = await bases(highs, 1);
});

const shift = (date: string) => date;

describe("corrupted files", () => {
  test("300 of them are read and checked: findings, or a season, and nothing else", async () => {
    const words = new Map<string, number>();
    for (let seed = 1; seed <= 300; seed++) {
      const { word, fault } = await judge(textOf(caseOf(seed, from)), null);
      expect(fault, `seed ${seed}`).toBeNull();
      words.set(word, (words.get(word) ?? 0) + 1);
    }
    // A campaign that never reaches the planner, or never leaves the parser, would find nothing.
    expect(words.get("errors")).toBeGreaterThan(80);
    expect(words.get("fit to be planned")).toBeGreaterThan(80);
    expect(words.get("not JSON")).toBeGreaterThan(3);
  });

  test("those of small seasons that pass are planned, and the auditor passes the plan", async () => {
    let planned = 0;
    for (let seed = 65; seed <= 220; seed++) {
      const one = caseOf(seed, from);
      if (!one.base.small || one.base.name.includes("lived")) continue;
      const { word, fault } = await judge(textOf(one), { highs, small: true });
      expect(fault, `seed ${seed}`).toBeNull();
      if (word.startsWith("planned")) planned++;
    }
    expect(planned).toBeGreaterThan(20);
  });
});

describe("the campaign itself", () => {
  const base = (): Base => from.micro[0]!;

  test("the same seed makes the same case", () => {
    for (const seed of [1, 2, 3, 99]) expect(textOf(caseOf(seed, from))).toBe(textOf(caseOf(seed, from)));
  });

  test("a file without edits is the base", () => {
    expect(corrupt(base().file, [], shift)).toBe(JSON.stringify(base().file));
  });

  test("an edit does what it says", () => {
    const file = { id: "a", list: [{ id: "b" }, { id: "c", on: "2027-01-31" }] };
    const text = (...edits: Parameters<typeof corrupt>[1]) =>
      corrupt(file, edits, (date, days) => `${date}+${days}`);
    expect(text({ do: "put", at: ["list", 0], value: raw("1e999") })).toContain('"list":[1e999,');
    expect(text({ do: "remove", at: ["list", 0] })).toBe('{"id":"a","list":[{"id":"c","on":"2027-01-31"}]}');
    expect(text({ do: "insert", at: ["list", 0], value: null })).toContain('"list":[null,{"id":"b"}');
    expect(text({ do: "rename", at: ["id"], to: "__proto__" })).toContain('"__proto__":"a"');
    expect(text({ do: "swap", at: ["id"], with: ["list", 0, "id"] })).toContain(
      '"id":"b","list":[{"id":"a"}',
    );
    expect(text({ do: "rename-id", from: "b", to: "z" })).toContain('[{"id":"z"}');
    expect(text({ do: "shift", days: 2 })).toContain('"on":"2027-01-31+2"');
    expect(text({ do: "cut", byte: 5 })).toBe('{"id"');
    expect(text({ do: "flip", byte: 0, bit: 0 })).toMatch(/^z"id"/);
    expect(text({ do: "put", at: ["gone", "id"], value: 1 })).toBe(JSON.stringify(file));
  });

  test("a failing case is cut down to the edit that matters", async () => {
    const edits = ["name", "zone", "about"].map((key) => ({ do: "put" as const, at: [key], value: 7 }));
    const needs = edits[1]!;
    const few = await shrink(
      { seed: 0, base: base(), edits },
      "fault 1",
      (some) => Promise.resolve(some.includes(needs) ? "fault 2" : null),
    );
    expect(few).toEqual([needs]);
    expect(kindOfFault("audit: brew-day, orders: Brew b-1 on 3 May")).toBe("audit: brew-day, orders");
  });
});
