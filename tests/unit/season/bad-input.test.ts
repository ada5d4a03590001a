import type { Highs } from "highs";
import { beforeAll, describe, expect, test } from "vitest";
import { auditPlan } from "../../../core/audit/audit.ts";
import { addDays } from "../../../core/calendar.ts";
import { microSeason } from "../../../core/generate/micro.ts";
import { makePlan } from "../../../core/plan/make.ts";
import type { PlanOutcome } from "../../../core/plan/options.ts";
import { checkSeason, type Finding } from "../../../core/season/check.ts";
import type { FindingCode } from "../../../core/season/check/codes.ts";
import type { Season } from "../../../core/season/season.ts";
import { demoSeason } from "../../_support/demo.ts";
import { loadHighs } from "../../_support/highs.ts";
import { planQuickly } from "../../_campaigns/fuzz/effort.ts";
import { GAPS } from "../../_campaigns/fuzz/gaps.ts";

// Changes reach into every corner of a file and may break its type on purpose.
// deno-lint-ignore no-explicit-any
type Loose = any;
type Change = (file: Loose) => void;

let highs: Highs;
beforeAll(async () => {
  highs = await loadHighs();
});

/** The two files that are spoiled: the demo farm, and a small season with grain to come from the field. */
const FILES = { demo: demoSeason, small: () => microSeason(32, "bins") } as const;
type FileName = keyof typeof FILES;

function spoiled(name: FileName, change: Change): Loose {
  const file: Loose = structuredClone(FILES[name]());
  change(file);
  return file;
}

const today = (file: Loose): string => file.asOf.slice(0, 10);
const first = (rows: Loose[], fits: (row: Loose) => boolean): Loose => rows.find(fits);

/** An error: what is told of which place, in the demo and in the small season. */
interface Fault {
  readonly code: FindingCode;
  readonly change: Change;
  readonly thing: RegExp;
  readonly field: RegExp;
  readonly value: RegExp;
}

const FAULTS: Readonly<Record<string, Fault>> = {
  "a version that is not written yet": {
    code: "newer-version",
    change: (file) => file.version = 2,
    thing: /^the season$/,
    field: /^\/version$/,
    value: /^2$/,
  },
  "a field that there is not": {
    code: "unknown-field",
    change: (file) => file.lots[0].wieght = 12,
    thing: /^lot ".+" \(.+\)$/,
    field: /^\/lots\/0\/wieght$/,
    value: /^12$/,
  },
  "a field that is missing": {
    code: "missing-field",
    change: (file) => delete file.lots[0].moistureWb,
    thing: /^lot ".+" \(.+\)$/,
    field: /^\/lots\/0\/moistureWb$/,
    value: /^nothing$/,
  },
  "an absurd weight": {
    code: "absurd-value",
    change: (file) => file.opening.grain[0].massG = 5e12,
    thing: /^grain in store lot-/,
    field: /^\/opening\/grain\/0\/massG$/,
    value: /^5000000000000$/,
  },
  "a weight below nothing": {
    code: "below-zero",
    change: (file) => file.opening.grain[0].massG = -1,
    thing: /^grain in store lot-/,
    field: /^\/opening\/grain\/0\/massG$/,
    value: /^-1$/,
  },
  "more grain than the bin holds": {
    code: "store-over-capacity",
    change: (file) => file.opening.grain[0].massG *= 20,
    thing: /^store "Bin /,
    field: /^\/stores\/0$/,
    value: /% full$/,
  },
  "a brew after the horizon": {
    code: "outside-horizon",
    change: (file) => {
      const brew = file.brews.at(-1);
      brew.on = brew.latest = addDays(file.horizonEnd, 1);
    },
    thing: /^brew /,
    field: /^\/brews\/\d+\/on$/,
    value: /^20\d\d-\d\d-\d\d$/,
  },
  "a brew years before the season": {
    code: "outside-horizon",
    change: (file) => {
      const brew = file.brews.at(-1);
      brew.on = brew.earliest = brew.latest = addDays(file.positionAt.slice(0, 10), -367);
    },
    thing: /^brew /,
    field: /^\/brews\/\d+\/latest$/,
    value: /^20\d\d-\d\d-\d\d$/,
  },
  "a date in another century": {
    code: "absurd-date",
    change: (file) => file.lots[0].formedOn = "1826-08-01",
    thing: /^lot ".+" \(.+\)$/,
    field: /^\/lots\/0\/formedOn$/,
    value: /^1826-08-01$/,
  },
  "stock counted before it came": {
    code: "stock-after-position",
    change: (file) =>
      first(file.lots, (lot) => lot.id === file.opening.grain[0].lotId).formedOn = today(file).replace(
        /^\d+/,
        "2031",
      ),
    thing: /^lot ".+" \(.+\)$/,
    field: /^\/lots\/\d+\/formedOn$/,
    value: /^2031-/,
  },
  "a lot that is its own grandchild": {
    code: "lot-cycle",
    change: (file) => {
      const [one, other] = file.lots.filter((lot: Loose) => lot.crop === "barley");
      one.parents = [{ kind: "lot", lotId: other.id, massG: 1 }];
      other.parents = [{ kind: "lot", lotId: one.id, massG: 1 }];
    },
    thing: /^lot ".+" \(.+\)$/,
    field: /^\/lots\/\d+\/parents$/,
    value: /^(lot-[a-z]+) from lot-[a-z]+ from \1$/,
  },
  "a lot entered in full in two places": {
    code: "same-weight-twice",
    change: (file) => {
      file.stores.push({
        ...first(file.stores, (store) => store.kind === "bin"),
        id: "bin-again",
        name: "Bin again",
      });
      file.opening.grain.push({ ...file.opening.grain[0], storeId: "bin-again" });
    },
    thing: /^grain in store lot-/,
    field: /^\/opening\/grain\/\d+\/massG$/,
    value: /^\d+$/,
  },
  "two lots in one bin": {
    code: "two-lots-in-bin",
    change: (file) => {
      const other = first(file.lots, (lot) => lot.id !== file.opening.grain[0].lotId);
      other.forecast = false;
      other.formedOn = "2026-08-01";
      for (const planting of file.plantings) planting.state = "harvested";
      file.opening.grain.push({ ...file.opening.grain[0], lotId: other.id, massG: 1000 });
    },
    thing: /^store "Bin /,
    field: /^\/stores\/0$/,
    value: /^lot-.+ and lot-/,
  },
  "a season of more than three years": {
    code: "horizon-too-long",
    change: (file) => file.horizonEnd = addDays(file.positionAt.slice(0, 10), 3 * 365 + 2),
    thing: /^the season$/,
    field: /^\/horizonEnd$/,
    value: /^20/,
  },
  "an id used twice": {
    code: "duplicate-id",
    change: (file) => file.vessels[1].id = file.tanks[0].id,
    thing: /^(tank|vessel) /,
    field: /^\/(tanks|vessels)\/\d+\/id$/,
    value: /^tank-/,
  },
};

function expectWords(found: Finding): void {
  for (const name of ["thing", "value", "limit", "message", "wayOut"] as const) {
    expect(found[name], name).toMatch(/\S/);
    expect(found[name], name).not.toMatch(/\bundefined\b|\bNaN\b|\[object/);
  }
  expect(found.message).toMatch(/^[^a-z].*\.$/);
  expect(found.wayOut).toMatch(/^[^a-z].*[.?]$/);
}

describe.each(Object.keys(FILES) as FileName[])("errors in the %s file", (name) => {
  test.each(Object.entries(FAULTS))("%s: told in full, and no plan", async (_, fault) => {
    const file = spoiled(name, fault.change);
    const { season, findings } = checkSeason(file);
    expect(season).toBeNull();
    const found = findings.find((one) => one.code === fault.code && fault.field.test(one.field));
    expect(found, JSON.stringify(findings)).toMatchObject({
      level: "error",
      thing: expect.stringMatching(fault.thing),
      value: expect.stringMatching(fault.value),
    });
    findings.forEach(expectWords);
    expect(findings[0]!.level).toBe("error");
    // Whoever plans without checking hears the same.
    const outcome = await makePlan(file as Season, { seed: 1, iterations: 0, highs: null });
    expect(outcome).toMatchObject({ kind: "cannot", findings: expect.arrayContaining([found]) });
  });

  test("a calendar that begins up to a year before the season is none", () => {
    const file = spoiled(name, (file) => {
      const brew = file.brews.at(-1);
      brew.on = brew.earliest = brew.latest = addDays(file.positionAt.slice(0, 10), -366);
    });
    expect(checkSeason(file).findings.filter((one) => one.level === "error")).toEqual([]);
  });

  test("the file as it is has none", () => {
    expect(checkSeason(FILES[name]()).findings.filter((one) => one.level === "error")).toEqual([]);
  });
});

describe.each(Object.keys(FILES) as FileName[])("gaps in the %s file", (name) => {
  test.each(Object.entries(GAPS))("%s: a warning", (code, change) => {
    const { season, findings } = checkSeason(spoiled(name, change));
    expect(season).not.toBeNull();
    expect(findings.map((one) => one.code)).toContain(code);
    findings.forEach(expectWords);
  });
});

describe("and an audited plan", () => {
  test.each(Object.entries(GAPS))("the small file, %s", async (_, change) => {
    const { season } = checkSeason(spoiled("small", change));
    expectPlan(season!, await planQuickly(season!, highs));
  });

  // Planned whole the demo takes too long for every day; tests/_campaigns/fuzz/demo-gaps.ts does it with every gap.
  test.each(["no-lots", "no-fields"] as const)("the demo, %s", async (code) => {
    const { season } = checkSeason(spoiled("demo", GAPS[code]));
    expectPlan(season!, await makePlan(season!, { seed: 1, iterations: 400, highs: null }));
  });
});

function expectPlan(season: Season, outcome: PlanOutcome): void {
  expect(outcome.kind === "cannot" ? outcome.findings : outcome.breaches.map((one) => one.message)).toEqual(
    [],
  );
  if (outcome.kind === "planned") expect(auditPlan(season, outcome.plan)).toEqual([]);
}
