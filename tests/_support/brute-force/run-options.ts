import { auditPlan } from "../../../core/audit/audit.ts";
import { context } from "../../../core/audit/context.ts";
import { nightTurns } from "../../../core/audit/night-turns.ts";
import { isoDate, monthOf, weekday } from "../../../core/calendar.ts";
import type { PlanRun } from "../../../core/plan/plan.ts";
import type { MadeFromGrain, MaltType, Profile } from "../../../core/season/malthouse.ts";
import { localDay, wallTime } from "../../../core/zone.ts";
import type { Ground } from "./ground.ts";
import { type Timing, timingOf } from "./timing.ts";

/** One run that may be made, its load still open. Weights are kilograms, days are day numbers. */
export interface RunOption {
  readonly name: string;
  readonly startDay: number;
  readonly stripDay: number;
  readonly timing: Timing;
  readonly profileId: string;
  readonly malt: MaltType;
  readonly made: MadeFromGrain;
  readonly crop: string;
  /** One lot, or two of which the first is emptied. */
  readonly lotIds: readonly string[];
  readonly leastKg: number;
  readonly greatestKg: number;
  /** Night turns by the first day of the farm week. */
  readonly nights: ReadonlyMap<number, number>;
  readonly nightCents: number;
  /** Extract of malt from each lot alone. */
  readonly extractsAsIs: readonly number[];
  /** Between which shares of the grain the first lot lies; 1 of an only lot. */
  readonly firstShare: readonly [least: number, most: number];
  /** False when extract or origin of the malt hangs on the mixture. */
  readonly exact: boolean;
}

/** Rules that a run can break by itself, whatever it weighs and whatever else the plan holds. */
const RULES_OF_ONE_RUN = new Set<string>([
  ...[
    "hand-over-order",
    "stage-hours",
    "first-free-day",
    "in-the-past",
    "lot-crop",
    "lot-use",
    "lot-treated",
  ],
  ...["lot-owner", "lot-acceptance", "lot-awaiting", "lot-asleep", "lot-spent", "lot-too-old", "lot-pair"],
  ...["vessel-stage", "vessel-line", "vessel-crop", "vessel-closed", "hand-over-staffed", "look-in-gap"],
  ...["night-turns", "kiln-alone"],
]);

/** Every run that the rules allow by itself. */
export function runOptions(ground: Ground): RunOption[] {
  const { ctx, season } = ground;
  const lots = [...ground.heaps.keys()];
  const pairs = [
    ...lots.map((lot) => [lot]),
    ...lots.flatMap((first) => lots.filter((other) => other !== first).map((second) => [first, second])),
  ];
  const found: RunOption[] = [];
  for (let day = ctx.firstFreeDay; day <= ctx.horizonEnd; day++) {
    for (const time of season.roster.steepInTimes) {
      for (const malt of season.maltTypes) {
        if (malt.made.from !== "grain") continue;
        for (const profile of malt.made.profiles) {
          const timing = timingOf(ctx, profile, day, time);
          if (timing === null) continue;
          for (const lotIds of pairs) {
            const option = optionOf(ground, malt, malt.made, profile, timing, lotIds);
            if (option !== null) found.push(option);
          }
        }
      }
    }
  }
  return found;
}

function optionOf(
  ground: Ground,
  malt: MaltType,
  made: MadeFromGrain,
  profile: Profile,
  timing: Timing,
  lotIds: readonly string[],
): RunOption | null {
  const { ctx, season } = ground;
  const startDay = localDay(ctx.zone, timing.steepIn);
  const heaps = lotIds.map((lotId) => ground.heaps.get(lotId)!);
  if (heaps.some(({ coming }) => coming !== null && coming.day > startDay)) return null;
  const mixed = lotIds.length > 1, seedDay = heaps[0]!.seed?.day ?? -Infinity;
  // Seed still to be taken keeps a lot's only store from being emptied.
  if (mixed && seedDay > startDay && heaps[0]!.storeIds.length === 1) return null;
  const { crop } = ctx.lots.get(lotIds[0]!)!;
  const plan = { ...ground.bare, runs: [trialRun(ground, malt, profile, timing, lotIds)] };
  if (auditPlan(season, plan).some(({ rule, thing }) => thing === "run" && RULES_OF_ONE_RUN.has(rule))) {
    return null;
  }
  const [leastKg, greatestKg] = loadLimits(ground, made, crop, startDay);
  if (leastKg > greatestKg) return null;
  const turns = nightTurns(context(season, plan));
  const nights = new Map<number, number>();
  for (const { day } of turns) {
    const week = day - (weekday(day) - season.weekStartsOn + 7) % 7;
    nights.set(week, (nights.get(week) ?? 0) + 1);
  }
  const extracts = lotIds.map((lotId) => ctx.lots.get(lotId)!.maltExtractDb ?? malt.extractCoarseDb);
  return {
    name: `${isoDate(startDay)} ${malt.id} (${profile.id}) from ${lotIds.join(" then ")}`,
    startDay,
    stripDay: localDay(ctx.zone, timing.strip),
    timing,
    profileId: profile.id,
    malt,
    made,
    crop,
    lotIds,
    leastKg,
    greatestKg,
    nights,
    nightCents: turns.reduce((sum, turn) => sum + turn.costCents, 0),
    extractsAsIs: extracts.map((extractDb) => extractDb * (1 - malt.maltMoistureWb)),
    firstShare: mixed ? [0, 1] : [1, 1],
    exact: !mixed ||
      new Set(extracts).size === 1 && season.beers.every((beer) => beer.requires.length === 0),
  };
}

/** Vessel limits in kilograms of clean grain. */
function loadLimits(ground: Ground, made: MadeFromGrain, crop: string, startDay: number): [number, number] {
  const month = monthOf(startDay) - 1;
  let least = 0, greatest = Infinity;
  for (const vessel of ground.season.vessels) {
    const limits = vessel.loadLimits.find((one) => one.crop === crop)!;
    const factor = (vessel.monthLoadFactor?.[month] ?? 1) * (made.monthLoadFactor?.[month] ?? 1);
    least = Math.max(least, limits.leastG);
    greatest = Math.min(greatest, Math.floor(limits.greatestG * factor + 1e-6));
  }
  return [least / 1000, greatest / 1000];
}

/** A run with which to ask the auditor; its weights are not looked at. */
function trialRun(
  { ctx, season }: Ground,
  malt: MaltType,
  profile: Profile,
  timing: Timing,
  lotIds: readonly string[],
): PlanRun {
  const at = (moment: number) => wallTime(ctx.zone, moment);
  const vessel = (stage: "steep" | "bed" | "kiln") =>
    season.vessels.find((one) => one.stages.includes(stage))!.id;
  return {
    id: "run",
    standing: "not booked",
    draws: lotIds.map((lotId) => {
      const { storeId } = ctx.grain.ofLot(lotId)[0]!;
      return { lotId, storeId, massG: ctx.grain.stockG(lotId, storeId, localDay(ctx.zone, timing.steepIn)) };
    }),
    maltId: malt.id,
    profileId: profile.id,
    vesselIds: { steep: vessel("steep"), bed: vessel("bed"), kiln: vessel("kiln") },
    steepInAt: at(timing.steepIn),
    castAt: at(timing.castToBed),
    kilnAt: at(timing.kilnLoading),
    stripAt: at(timing.strip),
    screeningsG: 0,
    cleanG: 1,
    culmsG: 0,
    outputs: [],
  };
}

const STAYS = [["steepIn", "castToBed"], ["castToBed", "kilnLoading"], ["kilnLoading", "strip"]] as const;

/** Whether two runs can both be made in the one steep, bed and kiln of a micro season. */
export function goTogether({ season }: Ground, one: RunOption, other: RunOption): boolean {
  const [first, next] = one.startDay <= other.startDay ? [one, other] : [other, one];
  return STAYS.every(([begin, end], place) => {
    const stage = (["steep", "bed", "kiln"] as const)[place]!;
    const vessel = season.vessels.find((item) => item.stages.includes(stage))!;
    const hours = vessel.changeOver.find(({ from, to }) => from === first.crop && to === next.crop)?.hours ??
      vessel.cleaningHours;
    return next.timing[begin] - first.timing[end] >= hours * 60;
  });
}
