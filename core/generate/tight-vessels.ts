import { dateOf, dayNumber, minuteOf, monthOf } from "../calendar.ts";
import { attendanceOf } from "../search/attendance.ts";
import { legalSlots, type Slot } from "../search/slots.ts";
import type { Stage, Vessel } from "../season/malthouse.ts";
import { CROPS } from "../season/quantity.ts";
import type { Season } from "../season/season.ts";
import { instant } from "../zone.ts";
import { type HomeNeed, leastHours } from "./tight-need.ts";

/** Need by capacity of each stage, of the people, and of all of them together. */
export interface VesselTightness {
  readonly steep: number;
  readonly bed: number;
  readonly kiln: number;
  readonly hands: number;
  readonly together: number;
}

const HOURS = 24;
const MINUTES_PER_DAY = 1440;

/** The tightest of all brew days: need up to each against what could be ready by then. */
export function vesselTightness(season: Season, needs: readonly HomeNeed[]): VesselTightness {
  const main = needs.reduce((most, one) => weightOf(one) > weightOf(most) ? one : most, needs[0]!);
  const load = (vessel: number) => season.vessels[vessel]?.loadLimits[0]?.greatestG ?? 0;
  const slots = slotsOf(withoutClosures(season), main);
  const hands = firstOfEachStart(slots).map((slot) => ({ day: slot.stripDay, massG: load(slot.vessels[1]) }));
  const crop = CROPS.indexOf(main.made.crops[0]!);
  const packed = packedSlots(season, openSlots(season, slots)).map((slot) => ({
    day: slot.stripDay,
    massG: (slot.greatestG[crop] ?? 0) * monthShare(season, slot),
  }));
  return {
    steep: stageTightness(season, needs, "steep"),
    bed: stageTightness(season, needs, "bed"),
    kiln: stageTightness(season, needs, "kiln"),
    hands: worst(season, needs, hands),
    together: worst(season, needs, packed),
  };
}

function weightOf({ net }: HomeNeed): number {
  return net.reduce((sum, one) => sum + one.massG, 0);
}

/** Clean grain for a malt in grams of the first crop's loads: other crops fill a bed with less weight. */
function packing(season: Season, { made }: HomeNeed): number {
  const bed = season.vessels.find((vessel) => vessel.stages.includes("bed"));
  const own = bed?.loadLimits.find((limit) => limit.crop === made.crops[0])?.greatestG ?? 0;
  return own === 0 ? Infinity : bed!.loadLimits[0]!.greatestG / own;
}

/** All needs as clean grain of the first crop, by brew day in order. */
function cleanNeeds(season: Season, needs: readonly HomeNeed[]) {
  return needs.flatMap((need) =>
    need.net.map(({ day, massG }) => ({
      need,
      day,
      cleanG: massG / need.maltPerClean * packing(season, need),
    }))
  ).sort((a, b) => a.day - b.day);
}

/** Greatest of need up to a brew day by grain whose malt is stripped and rested by then. */
function worst(
  season: Season,
  needs: readonly HomeNeed[],
  stripped: readonly { day: number; massG: number }[],
): number {
  const rest = Math.min(...needs.map((need) => need.malt.restDays));
  const inOrder = [...stripped].sort((a, b) => a.day - b.day);
  let needG = 0, capacityG = 0, at = 0, tightest = 0;
  for (const { day, cleanG } of cleanNeeds(season, needs)) {
    needG += cleanG;
    for (; at < inOrder.length && inOrder[at]!.day + rest <= day; at++) capacityG += inOrder[at]!.massG;
    tightest = Math.max(tightest, needG / capacityG);
  }
  return tightest;
}

/** Hours a run takes of the vessels that serve a stage, and whether cleaning follows. */
function occupancy(season: Season, need: HomeNeed, stage: Stage): number {
  const hours = leastHours(need.made);
  const of = { steep: hours[0], bed: hours[1], kiln: hours[2] };
  const vessel = season.vessels.find((one) => one.stages.includes(stage));
  if (vessel === undefined) return Infinity;
  // A vessel that keeps its load through several stages is counted once, with its bed.
  if (vessel.stages.length > 1 && vessel.stages.includes("bed") && stage !== "bed") return of[stage];
  return vessel.stages.reduce((sum, one) => sum + of[one], 0) + vessel.cleaningHours;
}

/** One stage as if nothing else were short: gram-hours asked by gram-hours open. */
function stageTightness(season: Season, needs: readonly HomeNeed[], stage: Stage): number {
  const quickest = needs.map((need) => leastHours(need.made));
  const least = (index: 0 | 1 | 2) => Math.min(...quickest.map((hours) => hours[index]));
  const before = { steep: 0, bed: least(0), kiln: least(0) + least(1) }[stage];
  const after = { steep: least(1) + least(2), bed: least(2), kiln: 0 }[stage];
  const rest = Math.min(...needs.map((need) => need.malt.restDays));
  const from = firstDay(season) + Math.floor(before / HOURS);
  const vessels = season.vessels.filter((vessel) => vessel.stages.includes(stage));
  const asked = cleanNeeds(season, needs);
  const open = [0];
  for (let day = from; day <= (asked.at(-1)?.day ?? from); day++) {
    open.push(open.at(-1)! + vessels.reduce((sum, vessel) => sum + gramHours(vessel, day), 0));
  }
  let need = 0, tightest = 0;
  for (const { need: of, day, cleanG } of asked) {
    need += cleanG * occupancy(season, of, stage);
    const days = Math.max(0, day - rest - Math.floor(after / HOURS) - from);
    tightest = Math.max(tightest, need / open[days]!);
  }
  return tightest;
}

function firstDay(season: Season): number {
  return dayNumber(dateOf(season.asOf)) + season.roster.heldDays;
}

/** Greatest load by open hours of one day; by the wall clock, so the days on which it changes have 24 hours too. */
function gramHours(vessel: Vessel, day: number): number {
  const from = day * MINUTES_PER_DAY, to = from + MINUTES_PER_DAY;
  const wall = (local: string) => dayNumber(dateOf(local)) * MINUTES_PER_DAY + minuteOf(local);
  const shut = vessel.closures.reduce(
    (sum, one) => sum + Math.max(0, Math.min(wall(one.to), to) - Math.max(wall(one.from), from)),
    0,
  );
  const factor = vessel.monthLoadFactor?.[monthOf(day) - 1] ?? 1;
  return (vessel.loadLimits[0]?.greatestG ?? 0) * factor * HOURS * Math.max(0, 1 - shut / MINUTES_PER_DAY);
}

/** The runs that meet no closed vessel. */
function openSlots(season: Season, slots: readonly Slot[]): Slot[] {
  const shut = season.vessels.map((vessel) =>
    vessel.closures.map((one) => [instant(season.zone, one.from), instant(season.zone, one.to)] as const)
  );
  return slots.filter((slot) =>
    slot.vessels.every((vessel, stage) =>
      shut[vessel]!.every(([from, to]) => slot.times[stage + 1]! <= from || to <= slot.times[stage]!)
    )
  );
}

/** The least share of their greatest loads that the run's vessels take in its month. */
function monthShare(season: Season, { vessels, month }: Slot): number {
  return Math.min(...vessels.map((vessel) => season.vessels[vessel]!.monthLoadFactor?.[month - 1] ?? 1));
}

function withoutClosures(season: Season): Season {
  return {
    ...season,
    vessels: season.vessels.map(({ monthLoadFactor: _, ...vessel }) => ({ ...vessel, closures: [] })),
  };
}

/** Legal ways to make one malt inside the horizon. */
function slotsOf(season: Season, { malt }: HomeNeed): Slot[] {
  const first = firstDay(season), last = dayNumber(season.horizonEnd);
  const attendance = attendanceOf(season, first - 1, last + 1);
  return legalSlots({ ...season, maltTypes: [malt] }, attendance, first, last, CROPS);
}

/** One run a bed on each day on which a steep may start: nobody starts a second one for the same bed. */
function firstOfEachStart(slots: readonly Slot[]): Slot[] {
  const found = new Map<string, Slot>();
  for (const slot of slots) {
    const key = `${slot.vessels[1]} ${slot.steepDay}`;
    const known = found.get(key);
    if (known === undefined || slot.times[3] < known.times[3]) found.set(key, slot);
  }
  return [...found.values()];
}

/** Runs that fit one after the other into the vessels, those that end first taken first. */
function packedSlots(season: Season, slots: readonly Slot[]): Slot[] {
  const taken: (readonly [from: number, to: number])[][] = season.vessels.map(() => []);
  const stays = (slot: Slot) =>
    ([0, 1, 2] as const).map((stage) => {
      const vessel = slot.vessels[stage];
      const keeps = stage < 2 && slot.vessels[stage + 1] === vessel;
      const clean = keeps ? 0 : (season.vessels[vessel]?.cleaningHours ?? 0) * 60;
      return [vessel, slot.times[stage]!, slot.times[stage + 1]! + clean] as const;
    });
  return slots.toSorted((a, b) => a.times[3] - b.times[3] || b.times[0] - a.times[0])
    .filter((slot) => {
      const all = stays(slot);
      if (all.some(([vessel, from, to]) => taken[vessel]!.some((one) => from < one[1] && one[0] < to))) {
        return false;
      }
      for (const [vessel, from, to] of all) taken[vessel]!.push([from, to]);
      return true;
    });
}
