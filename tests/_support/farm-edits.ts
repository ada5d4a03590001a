import { addDays } from "../../core/calendar.ts";
import type { Plan } from "../../core/plan/plan.ts";
import { checkSeason } from "../../core/season/check.ts";
import type { Season } from "../../core/season/season.ts";
import type { Pick } from "./some-edit.ts";

/** What farms change after a plan has been accepted. */
export const FARM_EDITS = [
  ...["lot weighed", "run booked", "run moved", "brew added", "brew moved", "vessel down", "result failed"],
] as readonly FarmEdit[];
export type FarmEdit =
  | "lot weighed"
  | "run booked"
  | "run moved"
  | "brew added"
  | "brew moved"
  | "vessel down"
  | "result failed";

type Edit = (season: Season, plan: Plan, pick: Pick, id: string) => boolean;

const TRIES = 12;

/**
 * The season after an edit of this kind, or null when the farm has nothing of the kind or the season check refuses it. The same for
 * the same picks.
 */
export function farmEdit(kind: FarmEdit, season: Season, plan: Plan, pick: Pick, id: string): Season | null {
  for (let tried = 0; tried < TRIES; tried++) {
    const edited = structuredClone(season);
    if (!EDITS[kind](edited, plan, pick, id)) continue;
    if (!checkSeason(edited).findings.some((one) => one.level === "error")) return edited;
  }
  return null;
}

const EDITS: Record<FarmEdit, Edit> = {
  "lot weighed": ({ opening }, _plan, pick) => {
    if (opening.grain.length === 0) return false;
    const row = opening.grain[pick(opening.grain.length)]!;
    row.massG = Math.round(row.massG * (0.9 + pick(21) / 100));
    return true;
  },
  "run booked": (season, plan, pick) => book(season, plan, pick, 0),
  "run moved": (season, plan, pick) => book(season, plan, pick, pick(2) === 0 ? -7 : 7),
  "brew added": (season, _plan, pick, id) => {
    const like = aheadOf(season)[pick(Math.max(1, aheadOf(season).length))];
    if (!like) return false;
    season.brews.push({ ...like, id, ...shifted(like, 7 * (pick(5) - 2)) });
    return true;
  },
  "brew moved": (season, _plan, pick) => {
    const brew = aheadOf(season)[pick(Math.max(1, aheadOf(season).length))];
    if (!brew || season.bookings.brews.some((one) => one.brewId === brew.id)) return false;
    Object.assign(brew, shifted(brew, 7 * (pick(2) === 0 ? -1 : 1)));
    return true;
  },
  "vessel down": ({ vessels }, plan, pick) => {
    const run = plan.runs[pick(Math.max(1, plan.runs.length))];
    const vessel = vessels[pick(Math.max(1, vessels.length))];
    if (!run || !vessel) return false;
    const from = run.castAt.slice(0, 10);
    vessel.closures.push({
      from: `${from}T00:00`,
      to: `${addDays(from, 7)}T00:00`,
      reason: "down for a week",
    });
    return true;
  },
  "result failed": ({ lots, asOf }, _plan, pick, id) => {
    const lot = lots[pick(Math.max(1, lots.length))];
    if (!lot || lot.forecast || lot.use !== "malting") return false;
    const on = asOf.slice(0, 10);
    lot.analyses.push({ id, sampledOn: on, resultOn: on, germinativeEnergy: 0.6 });
    return true;
  },
};

function aheadOf({ brews, asOf, records }: Season) {
  return brews.filter((brew) =>
    brew.earliest > asOf.slice(0, 10) && !records.brews.some((one) => one.brewId === brew.id)
  );
}

function shifted({ on, earliest, latest }: Season["brews"][number], days: number) {
  return { on: addDays(on, days), earliest: addDays(earliest, days), latest: addDays(latest, days) };
}

function book({ bookings }: Season, plan: Plan, pick: Pick, days: number): boolean {
  const free = plan.runs.filter((run) => run.standing === "not booked");
  const run = free[pick(Math.max(1, free.length))];
  if (!run) return false;
  const at = (time: string) => `${addDays(time.slice(0, 10), days)}${time.slice(10)}`;
  const { id, draws, maltId, profileId, vesselIds } = run;
  bookings.runs.push({
    ...{ id, draws, maltId, profileId, vesselIds },
    ...{ steepInAt: at(run.steepInAt), castAt: at(run.castAt) },
    ...{ kilnAt: at(run.kilnAt), stripAt: at(run.stripAt) },
  });
  return true;
}
