import { describe, expect, test } from "vitest";
import type { Change } from "../../../core/edit/change.ts";
import { touchesFact, withdrawsFact } from "../../../core/edit/facts.ts";
import type { JsonObject } from "../../../core/edit/json.ts";
import { tidied } from "../../../core/edit/tidy.ts";
import { verbOf } from "../../../core/edit/verbs.ts";

const row = { id: "x" };
const change = (at: string, from?: unknown, to?: unknown, index?: number) =>
  ({ at, from, to, index }) as Change;

describe("an edit is called", () => {
  test.each<[string, Change[]]>([
    ["add", [change("/lots/=x", undefined, row, 0)]],
    ["take out", [change("/lots/=x", row, undefined, 0)]],
    ["change", [change("/lots/=x/name", "a", "b")]],
    ["change", [change("/lots/=x", row, undefined, 0), change("/lots/=y", undefined, row, 0)]],
    ["record", [change("/records/runs/=x", undefined, row, 0)]],
    ["record", [change("/records/runs/=x/castAt", undefined, "2027-01-18T08:00")]],
    ["record", [change("/records/runs/=x/outputs", [], [row])]],
    ["record", [
      change("/records/runs/=x", undefined, row, 0),
      change("/bookings/runs/=x", row, undefined, 0),
    ]],
    ["record", [change("/weighTickets/=x", undefined, row, 0), change("/lots/=x/forecast", true, false)]],
    ["correct", [change("/records/runs/=x/castAt", "2027-01-18T08:00", "2027-01-18T09:00")]],
    ["withdraw", [change("/records/runs/=x", row, undefined, 0)]],
    ["book", [change("/bookings/runs/=x", undefined, row, 0), change("/asOf", "a", "b")]],
    ["unbook", [change("/bookings/runs/=x", row, undefined, 0)]],
    ["change booking", [change("/bookings/runs/=x/stripAt", "a", "b")]],
  ])("%s", (verb, changes) => {
    expect(verbOf(changes)).toBe(verb);
  });
});

describe("a fact", () => {
  test("is touched by what is recorded, weighed or analysed, and by nothing else", () => {
    for (const at of ["/records/runs/=x", "/weighTickets/=x/massG", "/lots/=x/analyses/=a/plump"]) {
      expect([at, touchesFact([change(at)])]).toEqual([at, true]);
    }
    for (const at of ["/recordsKept", "/lots/=x/name", "/lots/=x/analyses", "/bookings/runs/=x"]) {
      expect([at, touchesFact([change(at)])]).toEqual([at, false]);
    }
  });

  test("is withdrawn when something that stood there goes or changes, not when something is filled in", () => {
    const told = [
      change("/records/runs/=x/stripAt", "a", "b"),
      change("/records/runs/=x/castAt", undefined, "a"),
      change("/records/runs/=x/outputs", [], [row]),
      change("/records/moves/=m", row, undefined, 0),
    ];
    expect(withdrawsFact(told)).toEqual(["/records/runs/=x/stripAt", "/records/moves/=m"]);
  });
});

describe("a mark of a book value goes", () => {
  const before: JsonObject = {
    costs: { moveCents: 1, moveLoss: 2 },
    brews: [{ id: "b", volumeL: 3 }],
    bookValues: ["/costs", "/brews/=b/volumeL", "/maltStore/places"],
  };
  const marks = (after: Partial<JsonObject>) =>
    tidied(before, { ...before, ...after } as JsonObject, "Me").bookValues;

  test("when a value in it is given", () => {
    expect(marks({ costs: { moveCents: 9, moveLoss: 2 } })).toEqual([
      "/brews/=b/volumeL",
      "/maltStore/places",
    ]);
  });

  test("with the row it stands in", () => {
    expect(marks({ brews: [] })).toEqual(["/costs", "/maltStore/places"]);
  });

  test("when its own value is given, and when nothing else is", () => {
    expect(marks({ brews: [{ id: "b", volumeL: 4 }] })).toEqual(["/costs", "/maltStore/places"]);
    expect(marks({ brews: [{ id: "b", volumeL: 3 }, { id: "c" }] })).toEqual(before.bookValues);
  });
});
