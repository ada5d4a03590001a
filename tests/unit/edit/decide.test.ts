import { describe, expect, test } from "vitest";
import type { Change } from "../../../core/edit/change.ts";
import { decide, type Decision, type Request } from "../../../core/edit/decide.ts";
import { redoing, undoing } from "../../../core/edit/undo.ts";
import type { Season } from "../../../core/season/season.ts";
import { demoSeason } from "../../_support/demo.ts";

const demo = demoSeason();
const lot = demo.lots[0]!;
const NOW = demo.asOf;

function ask(
  changes: readonly Change[],
  more: Partial<Request> = {},
  season: Season = demo,
  now = NOW,
): Decision {
  return decide(season, { changes, author: "Maltster", reason: "", ...more }, now);
}

function accepted(decision: Decision): Extract<Decision, { kind: "accepted" }> {
  if (decision.kind !== "accepted") throw new Error(JSON.stringify(decision));
  return decision;
}

const dearer: Change = { at: "/costs/moveCents", from: demo.costs.moveCents, to: demo.costs.moveCents + 100 };

describe("an edit", () => {
  test("changes what it says and nothing else", () => {
    const { season, changes, verb } = accepted(ask([dearer]));
    expect(season).toEqual({ ...demo, costs: { ...demo.costs, moveCents: dearer.to } });
    expect([changes, verb]).toEqual([[dearer], "change"]);
  });

  test("that changes nothing is nothing", () => {
    expect(ask([{ ...dearer, to: dearer.from }])).toEqual({ kind: "nothing" });
  });

  test("of a value that its author did not see is a clash, and none of it is made", () => {
    const stale: Change = { at: `/lots/=${lot.id}/name`, from: "Another", to: "Mine" };
    expect(ask([dearer, stale])).toEqual({
      kind: "clash",
      clashes: [{ at: stale.at, seen: "Another", now: lot.name, wanted: "Mine" }],
    });
  });

  test("goes through once its author has been shown what stands there", () => {
    const stale: Change = { at: `/lots/=${lot.id}/name`, from: "Another", to: "Mine" };
    const { season } = accepted(ask([stale], { seen: new Map([[stale.at, lot.name]]) }));
    expect(season.lots[0]!.name).toBe("Mine");
  });

  test("that the season check would not pass is refused with what is wrong", () => {
    const decision = ask([{ at: `/lots/=${lot.id}/crop`, from: lot.crop, to: "maize" }]);
    expect(decision).toMatchObject({ kind: "refused", findings: [{ code: "wrong-choice" }] });
  });

  test("of a book value makes it the farm's own", () => {
    const index = demo.bookValues.findIndex((one) => one.startsWith("/maltTypes/0/"));
    const pointer = demo.bookValues[index] ?? "/maltTypes/0/restDays";
    const season = index >= 0 ? demo : { ...demo, bookValues: [pointer] };
    const malt = demo.maltTypes[0]!;
    const field = pointer.split("/").slice(3);
    const from = field.reduce<unknown>(
      (value, key) => (value as Record<string, unknown>)[key],
      malt,
    ) as number;
    const change: Change = { at: `/maltTypes/=${malt.id}/${field.join("/")}`, from, to: from * 0.999 };
    const whole = Number.isInteger(from) ? { ...change, to: from + 1 } : change;
    expect(accepted(ask([whole], {}, season)).season.bookValues).not.toContain(pointer);
  });
});

describe("a fact", () => {
  const { lotId, storeId } = demo.opening.grain[0]!;
  const row = { id: "count-1", on: NOW.slice(0, 10), lotId, storeId, deltaG: -500, reason: "counted" };
  const written: Change = {
    at: "/records/adjustments/=count-1",
    to: row,
    index: demo.records.adjustments.length,
  };
  const after = accepted(ask([written]));

  test("is recorded with who wrote it", () => {
    expect(after.verb).toBe("record");
    expect(after.season.records.adjustments.at(-1)).toEqual({ ...row, by: "Maltster" });
  });

  test("is corrected or withdrawn only with a reason", () => {
    const corrected: Change = { at: "/records/adjustments/=count-1/deltaG", from: -500, to: -600 };
    expect(ask([corrected], {}, after.season)).toEqual({ kind: "no reason", places: [corrected.at] });
    expect(accepted(ask([corrected], { reason: "misread" }, after.season)).verb).toBe("correct");
    const gone: Change = {
      at: written.at,
      from: after.season.records.adjustments.at(-1) as never,
      index: written.index,
    };
    expect(ask([gone], { reason: " " }, after.season).kind).toBe("no reason");
    expect(accepted(ask([gone], { reason: "wrong bin" }, after.season)).verb).toBe("withdraw");
  });

  test("is a result of the laboratory too: it comes without a reason, and is not corrected without one", () => {
    const [analysed] = demo.lots.filter((one) =>
      one.analyses.some((two) => two.germinativeEnergy !== undefined)
    );
    const analysis = analysed!.analyses.find((one) => one.germinativeEnergy !== undefined)!;
    const at = `/lots/=${analysed!.id}/analyses/=${analysis.id}/germinativeEnergy`;
    const change: Change = { at, from: analysis.germinativeEnergy!, to: 0.5 };
    expect(ask([change])).toEqual({ kind: "no reason", places: [at] });
    expect(accepted(ask([change], { reason: "read the wrong line" })).verb).toBe("correct");
    const result: Change = { at: at.replace("Energy", "Capacity"), to: 0.97 };
    if (analysis.germinativeCapacity === undefined) expect(accepted(ask([result])).verb).toBe("record");
  });

  test("sets the clock of a live farm to when it was written, and not that of a demo", () => {
    const { fixedAsOf: _, ...live } = demo;
    const later = "2027-01-20T09:30";
    expect(accepted(ask([written], {}, live, later)).season.asOf).toBe(later);
    expect(accepted(ask([dearer], {}, live, later)).season.asOf).toBe(live.asOf);
    expect(accepted(ask([written], {}, demo, later)).season.asOf).toBe(demo.asOf);
  });

  test("that was booked is no longer booked", () => {
    const brew = demo.brews.find((one) =>
      !demo.records.brews.some(({ brewId }) => brewId === one.id) && one.on > NOW.slice(0, 10) &&
      !demo.bookings.brews.some(({ brewId }) => brewId === one.id)
    )!;
    const on = NOW.slice(0, 10);
    const booked = accepted(ask([
      {
        at: `/bookings/brews/=${brew.id}`,
        to: { brewId: brew.id, on: brew.on },
        index: demo.bookings.brews.length,
      },
    ]));
    expect([booked.verb, booked.season.bookings.brews.at(-1)?.by]).toEqual(["book", "Maltster"]);
    const tanks = [{ tankId: demo.tanks[0]!.id, volumeL: 100 }];
    const record: Change = {
      at: `/records/brews/=${brew.id}`,
      to: { brewId: brew.id, on, tanks, grist: [] },
      index: demo.records.brews.length,
    };
    const done = accepted(ask([record], {}, booked.season));
    expect(done.verb).toBe("record");
    expect(done.season.bookings.brews.map(({ brewId }) => brewId)).not.toContain(brew.id);
    expect(accepted(ask(undoing(done.changes), { verb: "undo" }, done.season)).season).toEqual(booked.season);
  });
});

describe("undoing", () => {
  test("gives back what stood there, and redoing makes the edit again", () => {
    const done = accepted(ask([dearer]));
    const undone = accepted(ask(undoing(done.changes), { verb: "undo" }, done.season));
    expect([undone.season, undone.verb]).toEqual([demo, "undo"]);
    expect(accepted(ask(redoing(done.changes), { verb: "redo" }, undone.season)).season).toEqual(done.season);
  });

  test("is a clash where somebody has changed the value since", () => {
    const done = accepted(ask([dearer]));
    const since = accepted(ask([{ ...dearer, from: dearer.to, to: 7 }], {}, done.season));
    const clash = ask(undoing(done.changes), { verb: "undo" }, since.season);
    expect(clash).toMatchObject({ kind: "clash", clashes: [{ at: dearer.at, now: 7 }] });
  });
});
