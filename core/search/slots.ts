import { monthOf, weekday } from "../calendar.ts";
import type { HandOver, MadeFromGrain, Profile, Vessel } from "../season/malthouse.ts";
import type { Season } from "../season/season.ts";
import { instant, instantOf, localDay } from "../zone.ts";
import { type Attendance, inWindow, longestAbsence, nearestStaffed } from "./attendance.ts";

/** Minutes at which a run changes hands, as epoch minutes. */
export type Times = readonly [steepIn: number, cast: number, kiln: number, strip: number];

/** One legal way to make one malt at one time in named vessels; lots and loads are chosen later. */
export interface Slot {
  index: number;
  malt: number;
  profileId: string;
  vessels: readonly [steep: number, bed: number, kiln: number];
  times: Times;
  steepDay: number;
  stripDay: number;
  month: number;
  /** Night turns: [farm week number, turns], for beds turned by hand. */
  nights: readonly (readonly [week: number, turns: number])[];
  nightCents: number;
  /** Extra windows used, as indices into `roster.extra`. */
  extras: readonly number[];
  /** Greatest and least clean load in grams by crop index; greatest 0 = the crop cannot go in. */
  greatestG: readonly number[];
  leastG: readonly number[];
}

const MINUTES_PER_HOUR = 60;

/** Elapsed limits of the three stages after steep-in, with the month's extra kiln hours. */
export function stageLimits(profile: Profile, made: MadeFromGrain, month: number) {
  const extra = made.monthExtraKilnHours?.[month - 1] ?? 0;
  const kiln = {
    least: profile.kiln.least + extra,
    usual: profile.kiln.usual + extra,
    greatest: profile.kiln.greatest + extra,
  };
  return [profile.steep, profile.bed, kiln] as const;
}

/** The hand-over that ends each stage. */
export const NEXT: readonly HandOver[] = ["castToBed", "kilnLoading", "strip"];

/**
 * The hand-over times of a run whose first `known.length` hand-overs are given: each stage takes its usual hours, or the
 * nearest staffed length inside its limits. Null when a hand-over falls where nobody is.
 */
export function timesFrom(
  attendance: Attendance,
  limits: ReturnType<typeof stageLimits>,
  known: readonly number[],
  notBefore: number,
): { times: Times; extras: number[] } | null {
  const times = [...known];
  const extras: number[] = [];
  for (let stage = known.length - 1; stage < 3; stage++) {
    const limit = limits[stage];
    const begun = times[stage];
    const handOver = NEXT[stage];
    if (!limit || begun === undefined || !handOver) return null;
    const least = Math.max(begun + Math.ceil(limit.least * MINUTES_PER_HOUR), notBefore);
    const greatest = begun + Math.floor(limit.greatest * MINUTES_PER_HOUR);
    const found = nearestStaffed(
      attendance,
      handOver,
      least,
      begun + Math.round(limit.usual * MINUTES_PER_HOUR),
      greatest,
    );
    if (!found) return null;
    times.push(found.minute);
    if (found.extra >= 0) extras.push(found.extra);
  }
  return { times: times as unknown as Times, extras };
}

/** Greatest and least clean load by crop for these vessels in this month. */
export function loadLimits(
  vessels: readonly Vessel[],
  made: MadeFromGrain,
  month: number,
  crops: readonly string[],
): { greatestG: number[]; leastG: number[] } {
  const greatestG: number[] = [];
  const leastG: number[] = [];
  for (const crop of crops) {
    let greatest = Infinity;
    let least = 0;
    for (const vessel of vessels) {
      const limit = vessel.loadLimits.find((one) => one.crop === crop);
      if (!limit) greatest = 0;
      else {
        const share = (vessel.monthLoadFactor?.[month - 1] ?? 1) * (made.monthLoadFactor?.[month - 1] ?? 1);
        greatest = Math.min(greatest, Math.floor(limit.greatestG * share));
        least = Math.max(least, limit.leastG);
      }
    }
    greatestG.push(greatest < least ? 0 : greatest);
    leastG.push(least);
  }
  return { greatestG, leastG };
}

/** Number of the farm week that `day` lies in. */
export function farmWeek(day: number, weekStartsOn: number): number {
  return Math.floor((day - ((weekday(day) - weekStartsOn + 7) % 7)) / 7);
}

/** Night turns of a bed turned by hand, by farm week, and their price. */
export interface NightTurns {
  nights: [week: number, turns: number][];
  nightCents: number;
}

/** The turns after `from` that fall where nobody is. */
export function nightTurns(
  season: Season,
  attendance: Attendance,
  bed: Vessel,
  times: Times,
  from = -Infinity,
): NightTurns {
  const nights: NightTurns["nights"] = [];
  let nightCents = 0;
  if (bed.turning?.by !== "hand") return { nights, nightCents };
  const every = bed.turning.everyHours * MINUTES_PER_HOUR;
  for (let turn = times[1] + every; turn < times[2]; turn += every) {
    const minute = Math.floor(turn);
    if (minute < from || inWindow(attendance, minute)) continue;
    const week = farmWeek(localDay(season.zone, minute), season.weekStartsOn);
    const last = nights[nights.length - 1];
    if (last && last[0] === week) last[1]++;
    else nights.push([week, 1]);
    nightCents += bed.turning.nightTurnCents;
  }
  return { nights, nightCents };
}

/** Whether these times can stand in these vessels: closures, look-ins, firing; with the night turns they need. */
export function standing(
  season: Season,
  attendance: Attendance,
  vessels: readonly [Vessel, Vessel, Vessel],
  times: Times,
): NightTurns | null {
  const { zone } = season;
  for (let stage = 0; stage < 3; stage++) {
    const vessel = vessels[stage] as Vessel;
    for (const closure of closuresOf(season, vessel)) {
      if ((times[stage] as number) < closure.to && closure.from < (times[stage + 1] as number)) return null;
    }
  }
  const bed = vessels[1];
  if (
    bed.turning?.by === "machine" &&
    longestAbsence(attendance, times[1], times[2]) > bed.turning.lookInEveryHours * MINUTES_PER_HOUR
  ) return null;
  const atNight = nightTurns(season, attendance, bed, times);
  if (bed.turning?.by === "hand") {
    const most = bed.turning.mostNightTurnsPerWeek;
    if (atNight.nights.some(([, turns]) => turns > most)) return null;
  }
  if (vessels[2].firedLookInEveryHours !== undefined) {
    const last = localDay(zone, times[3] - 1);
    for (let day = localDay(zone, times[2]); day <= last; day++) {
      if (!attendance.firingDays.has(day)) return null;
    }
  }
  return atNight;
}

const closureCache = new WeakMap<Vessel, readonly { from: number; to: number }[]>();

function closuresOf(season: Season, vessel: Vessel): readonly { from: number; to: number }[] {
  const known = closureCache.get(vessel);
  if (known) return known;
  const made = vessel.closures.map((one) => ({
    from: instant(season.zone, one.from),
    to: instant(season.zone, one.to),
  }));
  closureCache.set(vessel, made);
  return made;
}

/** Vessel triples that a run may use, one vessel for each stage, all of one line where they have one. */
export function vesselTriples(vessels: readonly Vessel[]): (readonly [number, number, number])[] {
  const of = (stage: "steep" | "bed" | "kiln") =>
    vessels.map((vessel, index) => ({ vessel, index })).filter(({ vessel }) => vessel.stages.includes(stage));
  const triples: (readonly [number, number, number])[] = [];
  for (const steep of of("steep")) {
    for (const bed of of("bed")) {
      for (const kiln of of("kiln")) {
        const lines = new Set(
          [steep, bed, kiln].map(({ vessel }) => vessel.line).filter((line) => line !== undefined),
        );
        if (lines.size <= 1) triples.push([steep.index, bed.index, kiln.index]);
      }
    }
  }
  return triples;
}

/** All legal slots with steep-in from `firstDay` on whose malt is ready by `lastReadyDay`, by steep-in. */
export function legalSlots(
  season: Season,
  attendance: Attendance,
  firstDay: number,
  lastReadyDay: number,
  crops: readonly string[],
): Slot[] {
  const slots: Slot[] = [];
  const triples = vesselTriples(season.vessels);
  season.maltTypes.forEach((malt, maltIndex) => {
    const { made } = malt;
    if (made.from !== "grain") return;
    for (let day = firstDay; day + malt.restDays <= lastReadyDay; day++) {
      const month = monthOf(day);
      for (const time of season.roster.steepInTimes) {
        const minute = instantOf(season.zone, day, Number(time.slice(0, 2)) * 60 + Number(time.slice(3)));
        const start = nearestStaffed(attendance, "steepIn", minute, minute, minute);
        if (!start) continue;
        for (const profile of made.profiles) {
          const timed = timesFrom(attendance, stageLimits(profile, made, month), [minute], 0);
          if (!timed) continue;
          const stripDay = localDay(season.zone, timed.times[3]);
          if (stripDay + malt.restDays > lastReadyDay) continue;
          for (const vessels of triples) {
            const [steep, bed, kiln] = vessels.map((index) => season.vessels[index] as Vessel) as [
              Vessel,
              Vessel,
              Vessel,
            ];
            const stands = standing(season, attendance, [steep, bed, kiln], timed.times);
            if (!stands) continue;
            const { greatestG, leastG } = loadLimits([steep, bed, kiln], made, month, crops);
            if (
              !crops.some((crop, i) =>
                (made.crops as readonly string[]).includes(crop) && (greatestG[i] as number) > 0
              )
            ) continue;
            slots.push({
              index: 0,
              malt: maltIndex,
              profileId: profile.id,
              vessels,
              times: timed.times,
              steepDay: day,
              stripDay,
              month,
              ...stands,
              extras: start.extra >= 0 ? [start.extra, ...timed.extras] : timed.extras,
              greatestG,
              leastG,
            });
          }
        }
      }
    }
  });
  slots.sort((a, b) => a.times[0] - b.times[0] || a.malt - b.malt || a.times[3] - b.times[3]);
  slots.forEach((slot, index) => slot.index = index);
  return slots;
}

/** Index of the first slot with steep-in on or after `day`. */
export function firstFrom(slots: readonly Slot[], day: number): number {
  let low = 0;
  let high = slots.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((slots[middle] as Slot).steepDay < day) low = middle + 1;
    else high = middle;
  }
  return low;
}
