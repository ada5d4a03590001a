import { isoDate } from "../calendar.ts";
import { STORED_WB, TEST_WEIGHT } from "./made-land.ts";
import type { MadeFrame } from "./made-frame.ts";
import { type LotPlan, MIXED_G } from "./lot-plans.ts";
import type { Row } from "./micro-frame.ts";

type Analysis = NonNullable<Row<"lots">["analyses"]>[number];

/** The lots as they stand in the file, with their laboratory results. */
export function madeLots(
  frame: MadeFrame,
  plans: readonly LotPlan[],
  needed: ReadonlySet<string>,
): Row<"lots">[] {
  return plans.map((plan) => {
    const { luck, today } = frame;
    const chances = luck(`lot ${plan.id}`);
    const toCome = plan.state === "to come";
    const own = plan.kind !== "bought" && plan.kind !== "customer";
    const asleep = plan.wakes > today;
    const spare = plan.kind === "malting" && !needed.has(plan.id);
    const use = {
      failed: "feed",
      raw: "raw",
      held: "held",
      malting: "malting",
      mixed: "malting",
      bought: "malting",
      customer: "malting",
    };
    return {
      id: plan.id,
      letter: plan.letter,
      name: `${plan.letter} ${plan.winter ? "winter " : ""}${plan.crop} of ${plan.year}`,
      crop: plan.crop,
      varietyClass: plan.crop === "barley"
        ? `two-row malting, ${plan.winter ? "winter" : "spring"}`
        : "malting",
      harvestYear: plan.year,
      origin: plan.kind === "bought" ? "elsewhere" : plan.kind === "customer" ? "in-state" : "own",
      ...(plan.kind === "customer" ? { owner: "A made customer" } : {}),
      organic: chances.oneIn(9),
      formedOn: isoDate(formedOn(frame, plan)),
      forecast: toCome,
      parents: plan.kind === "mixed"
        ? tipped(frame, plan, plans)
        : own
        ? plantingParents(plan)
        : [{ kind: "bought", from: plan.kind === "bought" ? "A made grain merchant" : "A made customer" }],
      moistureWb: STORED_WB,
      testWeightKgPerHl: TEST_WEIGHT[plan.crop],
      analyses: toCome ? [] : results(frame, plan, spare && asleep),
      ...(plan.kind === "bought" ? { wakesOn: spread(boughtOn(frame)) } : {}),
      ...(!toCome && asleep ? { wakesOn: spread(plan.wakes) } : {}),
      // A sprouted lot has a date; it is set well behind the time in which the lot is wanted.
      ...(spare && !asleep && !toCome && chances.oneIn(3)
        ? {
          useBy: {
            on: isoDate(Math.min(plan.to + 60, today + 240)),
            reason: "Sprouted a little before it was cut",
          },
        }
        : {}),
      use: use[plan.kind] as "malting",
      ...(chances.oneIn(3) && plan.kind === "malting" ? { maltExtractDb: chances.int(795, 820) / 1000 } : {}),
    };
  });
}

/** Day number on which bought grain arrives. */
export function boughtOn({ luck, today }: MadeFrame): number {
  return today + luck("bought grain").int(30, 80);
}

/** Day number on which a lot came to be; a mixed one in the weeks before as-of, if the season tells of them. */
function formedOn(frame: MadeFrame, plan: LotPlan): number {
  if (plan.kind === "bought" && plan.state === "to come") return boughtOn(frame);
  if (plan.kind !== "mixed") {
    return plan.state === "in store" ? Math.min(plan.harvest + 1, frame.today) : plan.harvest + 1;
  }
  return frame.opened < frame.today ? frame.opened + 6 : frame.opened - 10;
}

/** The lots a mixed one came from: two of its crop, or one where there are no two. */
function tipped(
  frame: MadeFrame,
  plan: LotPlan,
  plans: readonly LotPlan[],
): NonNullable<Row<"lots">["parents"]> {
  const older = plans.filter((one) =>
    one.kind === "malting" && one.crop === plan.crop && one.state === "in store" && one.wakes <= frame.opened
  ).slice(0, 2);
  return older.map((one) => ({ kind: "lot", lotId: one.id, massG: Math.floor(MIXED_G / older.length) }));
}

function plantingParents(plan: LotPlan): NonNullable<Row<"lots">["parents"]> {
  return plan.state === "in store" ? [{ kind: "planting", plantingId: `planting-${plan.id}` }] : [];
}

function spread(late: number) {
  return { early: isoDate(late - 14), likely: isoDate(late - 6), late: isoDate(late) };
}

/** A first test soon after harvest, a second one once the lot is awake; of a spare sleeper it is still awaited. */
function results(frame: MadeFrame, plan: LotPlan, awaited: boolean): Analysis[] {
  const { luck, today } = frame;
  const chances = luck(`tests ${plan.id}`);
  const first = plan.kind === "mixed" ? formedOn(frame, plan) : Math.min(plan.harvest + 4, today - 3);
  const common = {
    sampledOn: isoDate(first),
    proteinDb: chances.int(100, 122) / 1000,
    plump: chances.int(84, 96) / 100,
    donPpm: plan.kind === "failed" ? chances.int(14, 30) / 10 : chances.int(1, 7) / 10,
    ...(chances.oneIn(3)
      ? { viscosityRvu: chances.int(125, 180), fallingNumberS: chances.int(260, 380) }
      : {}),
  };
  if (plan.wakes > today) {
    const early: Analysis = {
      id: `${plan.id}-test-1`,
      ...common,
      resultOn: isoDate(Math.min(first + 8, today - 1)),
      germinativeEnergy: chances.int(62, 82) / 100,
      germinativeCapacity: chances.int(980, 990) / 1000,
    };
    return awaited
      ? [early, {
        id: `${plan.id}-test-2`,
        sampledOn: isoDate(today - 1),
        expectedOn: isoDate(today + chances.int(5, 12)),
      }]
      : [early];
  }
  const second = plan.kind === "mixed" ? today - 1 : Math.min(plan.wakes, today - 2);
  return [{
    id: `${plan.id}-test-1`,
    ...common,
    resultOn: isoDate(second),
    germinativeEnergy: chances.int(96, 98) / 100,
    germinativeCapacity: chances.int(980, 990) / 1000,
  }];
}
