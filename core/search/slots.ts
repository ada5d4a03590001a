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
  const closures = vessels.map((vessel) => closuresOf(season, vessel));
  if (isClosed(closures, times)) return null;
  return lookedAfter(season, attendance, vessels[1], times) && fired(season, attendance, vessels[2], times)
    ? nightTurns(season, attendance, vessels[1], times)
    : null;
}

/** True when a vessel is closed at some time while its stage lasts. */
function isClosed(closures: readonly (readonly Closure[])[], times: Times): boolean {
  for (let stage = 0; stage < 3; stage++) {
    for (const closure of closures[stage] as readonly Closure[]) {
      if ((times[stage] as number) < closure.to && closure.from < (times[stage + 1] as number)) return true;
    }
  }
  return false;
}

/** True when somebody looks in, or turns, often enough while the bed is full. */
function lookedAfter(season: Season, attendance: Attendance, bed: Vessel, times: Times): boolean {
  if (bed.turning?.by === "machine") {
    const most = bed.turning.lookInEveryHours * MINUTES_PER_HOUR;
    return longestAbsence(attendance, times[1], times[2]) <= most;
  }
  if (bed.turning?.by !== "hand") return true;
  const most = bed.turning.mostNightTurnsPerWeek;
  return nightTurns(season, attendance, bed, times).nights.every(([, turns]) => turns <= most);
}

/** True when the kiln is fired only on days on which somebody can look in, where it asks for that. */
function fired({ zone }: Season, attendance: Attendance, kiln: Vessel, times: Times): boolean {
  if (kiln.firedLookInEveryHours === undefined) return true;
  const last = localDay(zone, times[3] - 1);
  for (let day = localDay(zone, times[2]); day <= last; day++) {
    if (!attendance.firingDays.has(day)) return false;
  }
  return true;
}

interface Closure {
  readonly from: number;
  readonly to: number;
}

function closuresOf({ zone }: Season, { closures }: Vessel): readonly Closure[] {
  return closures.map((one) => ({ from: instant(zone, one.from), to: instant(zone, one.to) }));
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
  return withoutClosed(season, openSlots(season, attendance, firstDay, lastReadyDay, crops));
}

/** The slots in which no vessel is closed, numbered in their order. */
export function withoutClosed(season: Season, slots: readonly Slot[]): Slot[] {
  const closures = season.vessels.map((vessel) => closuresOf(season, vessel));
  const left = slots.filter(({ vessels, times }) =>
    !isClosed(vessels.map((vessel) => closures[vessel] as readonly Closure[]), times)
  );
  return left.map((slot, index) => slot.index === index ? slot : { ...slot, index });
}

/** All slots that are legal as long as no vessel is closed. */
export function openSlots(
  season: Season,
  attendance: Attendance,
  firstDay: number,
  lastReadyDay: number,
  crops: readonly string[],
): Slot[] {
  const slots: Slot[] = [];
  const triples = vesselTriples(season.vessels);
  const turned = turningOf(season, attendance);
  season.maltTypes.forEach((malt, maltIndex) => {
    const { made } = malt;
    if (made.from !== "grain") return;
    const limits = limitsOf(season.vessels, triples, made, crops);
    for (let day = firstDay; day + malt.restDays <= lastReadyDay; day++) {
      const month = monthOf(day);
      for (const time of season.roster.steepInTimes) {
        const minute = instantOf(season.zone, day, Number(time.slice(0, 2)) * 60 + Number(time.slice(3)));
        const start = nearestStaffed(attendance, "steepIn", minute, minute, minute);
        if (!start) continue;
        for (const profile of made.profiles) {
          const timed = timesFrom(attendance, stageLimits(profile, made, month), [minute], 0);
          if (!timed) continue;
          const { times } = timed;
          const stripDay = localDay(season.zone, times[3]);
          if (stripDay + malt.restDays > lastReadyDay) continue;
          const extras = start.extra >= 0 ? [start.extra, ...timed.extras] : timed.extras;
          triples.forEach((vessels, triple) => {
            const load = limits(triple, month);
            if (!load) return;
            const turns = turned(vessels[1], times);
            if (!turns || !fired(season, attendance, season.vessels[vessels[2]] as Vessel, times)) return;
            slots.push({
              index: 0,
              malt: maltIndex,
              profileId: profile.id,
              vessels,
              times,
              steepDay: day,
              stripDay,
              month,
              ...turns,
              extras,
              ...load,
            });
          });
        }
      }
    }
  });
  slots.sort((a, b) => a.times[0] - b.times[0] || a.malt - b.malt || a.times[3] - b.times[3]);
  slots.forEach((slot, index) => slot.index = index);
  return slots;
}

/** Load limits of a malt by vessel triple and month, null where no crop of the malt can go in; each worked out once. */
function limitsOf(
  vessels: readonly Vessel[],
  triples: readonly (readonly [number, number, number])[],
  made: MadeFromGrain,
  crops: readonly string[],
) {
  const known = new Map<number, ReturnType<typeof loadLimits> | null>();
  return (triple: number, month: number) => {
    const key = triple * 12 + month - 1;
    let found = known.get(key);
    if (found === undefined) {
      const of = (triples[triple] as readonly [number, number, number]).map((index) =>
        vessels[index] as Vessel
      );
      found = loadLimits(of, made, month, crops);
      const { greatestG } = found;
      const fits = (made.crops as readonly string[]).some((crop) =>
        (greatestG[crops.indexOf(crop)] ?? 0) > 0
      );
      if (!fits) found = null;
      known.set(key, found);
    }
    return found;
  };
}

/** Night turns by bed and times, null where nobody looks in or turns often enough; each stretch is worked out once for all malts. */
function turningOf(season: Season, attendance: Attendance) {
  const known = season.vessels.map(() => new Map<number, Map<number, NightTurns | null>>());
  return (bed: number, times: Times): NightTurns | null => {
    const ofBed = known[bed] as Map<number, Map<number, NightTurns | null>>;
    let ofCast = ofBed.get(times[1]);
    if (!ofCast) ofBed.set(times[1], ofCast = new Map());
    let found = ofCast.get(times[2]);
    if (found === undefined) {
      const vessel = season.vessels[bed] as Vessel;
      found = lookedAfter(season, attendance, vessel, times)
        ? nightTurns(season, attendance, vessel, times)
        : null;
      ofCast.set(times[2], found);
    }
    return found;
  };
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
