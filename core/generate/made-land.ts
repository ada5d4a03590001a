import { isoDate, yearOf } from "../calendar.ts";
import { massAtMoisture } from "../physics/shrink.ts";
import type { Crop } from "../season/quantity.ts";
import type { MadeFrame } from "./made-frame.ts";
import type { LotPlan } from "./lot-plans.ts";
import type { Part, Row } from "./micro-frame.ts";

/** Likely yields in kg/ha as cut: cool northern farms, common practice, no source. */
const YIELD: Readonly<Record<Crop, readonly [least: number, greatest: number]>> = {
  barley: [3600, 5200],
  wheat: [4200, 6000],
  rye: [3200, 4400],
  oats: [3400, 4600],
};
/** 0.5 % is the usual trade allowance; see the data dictionary. */
const HANDLING_LOSS = 0.005;
const CLEANING_LOSS = 0.02;
const SMALLEST_FIELD_M2 = 1000;
/** A field this large may be cut in two goes. */
const LARGE_FIELD_M2 = 5000;
export const STORED_WB = 0.125;

const BREAKS = ["clover", "beans", "grass ley", "peas"];
const FIELD_WORDS = ["North", "Low", "Well", "Gate", "Long", "Stony", "Far", "Middle", "Bank", "Thorn"];
const FIELD_KINDS = ["Piece", "Acre", "Field", "Close", "Strip", "Furlong"];

type Planting = Row<"plantings">;

/** The fields, what grew on them, and a planting for every lot that was or will be cut here. */
export function madeLand(
  frame: MadeFrame,
  plans: readonly LotPlan[],
): Part<"fields" | "plantings" | "weighTickets"> {
  const plantings = grownHere(plans).flatMap((plan, at) =>
    plantingsOf(frame, plan, at, fieldOf(plan, plans))
  );
  plantings.push(...lostTo(frame, plantings));
  return {
    fields: fields(frame, plantings),
    plantings,
    weighTickets: plantings.filter((one) => one.state === "harvested").flatMap((one) => tickets(frame, one)),
  };
}

/** Now and then part of the youngest crop was lost to the winter. */
function lostTo({ size, luck }: MadeFrame, plantings: readonly Planting[]): Planting[] {
  const last = plantings.at(-1)!;
  if (size === "micro" || size === "small" || !luck("lost").oneIn(3)) return [];
  return [{
    ...last,
    id: "planting-lost",
    fieldIds: [`field-${last.harvestYear % 2}-lost`],
    areaM2: Math.max(SMALLEST_FIELD_M2, Math.round(last.areaM2 / 2)),
    state: "lost",
  }];
}

function grownHere(plans: readonly LotPlan[]): readonly LotPlan[] {
  return plans.filter((plan) => !["bought", "customer", "mixed"].includes(plan.kind));
}

/** The field of a lot that was or will be cut here. */
export function fieldOf(plan: LotPlan, plans: readonly LotPlan[]): string {
  // Fields of odd and even years take turns, which keeps a break between two cereals.
  return `field-${plan.year % 2}-${grownHere(plans).indexOf(plan) + 1}`;
}

/** Area cut for a weight in the bin, at a likely yield and a moisture. */
function plantingsOf(frame: MadeFrame, plan: LotPlan, at: number, fieldId: string): Planting[] {
  const { size, luck, today } = frame;
  const chances = luck(`planting ${at}`);
  const likely = 10 * chances.int(...(YIELD[plan.crop].map((kg) => kg / 10) as [number, number]));
  const cutWb = chances.int(145, 180) / 1000;
  const cutKg = massAtMoisture(plan.massG / 1000 / (1 - CLEANING_LOSS), STORED_WB, cutWb) /
    (1 - HANDLING_LOSS);
  const areaM2 = Math.max(SMALLEST_FIELD_M2, Math.round(cutKg / likely * 10_000));
  const drilled = plan.harvest - (plan.winter ? 290 : 135);
  const parts = size !== "micro" && areaM2 > LARGE_FIELD_M2 && plan.state === "to come" && chances.oneIn(3)
    ? 2
    : 1;
  const fresh = frame.restDays(plan.crop);
  return Array.from({ length: parts }, (_, part): Planting => ({
    id: `planting-${plan.id}${parts > 1 ? `-${part + 1}` : ""}`,
    fieldIds: [fieldId],
    areaM2: Math.floor(areaM2 / parts),
    crop: plan.crop,
    varietyClass: plan.crop === "barley"
      ? `two-row malting, ${plan.winter ? "winter" : "spring"}`
      : "malting",
    sowingSeason: plan.winter ? "winter" : "spring",
    harvestYear: plan.year,
    state: plan.state === "in store" ? "harvested" : drilled <= today ? "sown" : "planned",
    drillOn: isoDate(drilled),
    yieldKgPerHa: { bad: Math.round(likely * 0.7), likely, good: Math.round(likely * 1.25) },
    moistureAtHarvestWb: cutWb,
    harvest: {
      early: isoDate(plan.harvest - 7),
      // The second part of a field is cut a few days later, in spring or autumn crops alike.
      likely: isoDate(plan.harvest + part * 2),
      late: isoDate(plan.harvest + 10),
    },
    dryToWb: STORED_WB,
    handlingLoss: HANDLING_LOSS,
    intakeCleaningLoss: CLEANING_LOSS,
    testWeightKgPerHl: TEST_WEIGHT[plan.crop],
    restAfterHarvestDays: {
      early: Math.max(1, fresh - 14),
      likely: Math.max(2, fresh - 7),
      late: Math.max(3, fresh - part * 2),
    },
    lotId: plan.id,
  }));
}

/** Test weights in kg/hl in the middle of the trade's ranges: common practice, no source. */
export const TEST_WEIGHT: Readonly<Record<Crop, number>> = { barley: 63, wheat: 75, rye: 71, oats: 48 };

function fields(frame: MadeFrame, plantings: readonly Planting[]): Row<"fields">[] {
  const { luck, today } = frame;
  const ids = [...new Set(plantings.flatMap((one) => one.fieldIds))];
  return ids.map((id, at) => {
    const chances = luck(`field ${id}`);
    const own = plantings.filter((one) => one.fieldIds.includes(id));
    const areaM2 = Math.max(
      ...[...new Set(own.map((one) => one.harvestYear))].map((year) =>
        own.filter((one) => one.harvestYear === year).reduce((sum, one) => sum + one.areaM2, 0)
      ),
    );
    const planted = new Set(own.map((one) => one.harvestYear));
    const years = [-3, -2, -1, 0, 1, 2].map((back) => yearOf(today) + back).filter((year) =>
      !planted.has(year)
    );
    const tired = chances.oneIn(12);
    return {
      id,
      name: `${FIELD_WORDS[at % FIELD_WORDS.length]} ${FIELD_KINDS[at % FIELD_KINDS.length]}${
        at < 30 ? "" : ` ${Math.floor(at / 30) + 1}`
      }`,
      areaM2: Math.round(areaM2 * 1.02),
      cropHistory: years.map((year) => ({
        year,
        crop: tired ? "winter wheat" : year % 2 === Number(id.split("-")[1]) ? "oats" : chances.pick(BREAKS),
      })),
    };
  });
}

/** Loads over the scales that add up to the weight cut. */
function tickets({ luck }: MadeFrame, planting: Planting): Row<"weighTickets">[] {
  const cutG = Math.round(planting.areaM2 / 10_000 * planting.yieldKgPerHa.likely * 1000);
  const loads = Math.min(6, Math.max(1, Math.ceil(cutG / 8e6)));
  const chances = luck(`tickets ${planting.id}`);
  let left = cutG;
  return Array.from({ length: loads }, (_, at) => {
    const massG = at === loads - 1 ? left : Math.round(cutG / loads * chances.int(90, 105) / 100);
    left -= massG;
    return {
      id: `ticket-${planting.id}-${at + 1}`,
      plantingId: planting.id,
      lotId: planting.lotId,
      on: planting.harvest.likely,
      massG,
      moistureWb: planting.moistureAtHarvestWb,
    };
  });
}
