import { addDays, dayNumber } from "../calendar.ts";
import { type Moved, movedBetween } from "../plan/moved.ts";
import { lastingCents } from "../plan/offer.ts";
import type { Plan, PlanRun } from "../plan/plan.ts";
import type { Season } from "../season/season.ts";
import { movedWords } from "./moved-words.ts";
import { movedLines } from "./moved-lines.ts";
import { moneyAmount } from "./money-words.ts";
import { countWords, listWords } from "./words.ts";

/** An offered plan in words. */
export interface OfferWords {
  /** "A better plan was found: 2 more brews and €312 less." */
  readonly gain: string;
  /** "It would move 14 runs and 3 brews, none in the held days." */
  readonly moves: string;
  /** What it would change, in sentences. */
  readonly summary: readonly string[];
  /** What it would change, thing by thing. */
  readonly lines: readonly string[];
}

/** What an offered plan brings and what it would change of the present one. `asOf`: the farm's now, local. */
export function offerWords(season: Season, present: Plan, found: Plan, asOf: string): OfferWords {
  const moved = insideHorizon(season, movedBetween(present, found));
  return {
    gain: `A better plan was found: ${listWords(gains(season, present, found))}.`,
    moves: `It would ${moveWords(moved)}${heldWords(season, moved, asOf)}.`,
    // What it costs stands in the first sentence.
    summary: movedWords(season, { ...moved, costCents: 0 }),
    lines: movedLines(season, moved, present, found),
  };
}

/** Without the weeks after the horizon, by which nobody acts. */
function insideHorizon({ horizonEnd }: Season, moved: Moved): Moved {
  const isInside = ({ steepInAt }: PlanRun) => steepInAt.slice(0, 10) <= horizonEnd;
  const named = (ids: readonly string[]) => ids.filter((id) => !id.startsWith("tail-"));
  const { runs, brews } = moved;
  return {
    ...moved,
    runs: {
      moved: runs.moved.filter(({ before, after }) => isInside(before) || isInside(after)),
      added: runs.added.filter(isInside),
      gone: runs.gone.filter(isInside),
    },
    brews: {
      madeNow: named(brews.madeNow),
      noLonger: named(brews.noLonger),
      otherDay: named(brews.otherDay),
    },
  };
}

function gains(season: Season, present: Plan, found: Plan): string[] {
  const more = found.goals.made.map((made, i) => made - (present.goals.made[i] as number));
  const promises = found.goals.promisesHeld - present.goals.promisesHeld;
  const saved = Math.round((lastingCents(present) - lastingCents(found)) / 100) * 100;
  const { currency } = season;
  return [
    ...madeWords(season, more),
    ...(promises === 0 ? [] : [
      `${Math.abs(promises)} ${promises > 0 ? "more" : "fewer"} home-share ${
        Math.abs(promises) === 1 ? "promise" : "promises"
      } held`,
    ]),
    ...(saved === 0 ? [] : [`${moneyAmount(Math.abs(saved), currency)} ${saved > 0 ? "less" : "more"}`]),
  ];
}

/** "2 more brews"; where some classes lose, each class by itself. */
function madeWords(season: Season, more: readonly number[]): string[] {
  const one = season.contracts.some(({ kind }) => kind === "sell-malt") ? "brew or malt sale" : "brew";
  const many = one === "brew" ? "brews" : "brews and malt sales";
  const words = (count: number, of: string) =>
    `${Math.abs(count)} ${count > 0 ? "more" : "fewer"} ${Math.abs(count) === 1 ? one : many}${of}`;
  const changed = more.map((count, i) => ({ count, of: ` of class ${i + 1}` })).filter(({ count }) =>
    count !== 0
  );
  if (changed.some(({ count }) => count < 0)) return changed.map(({ count, of }) => words(count, of));
  const all = more.reduce((sum, count) => sum + count, 0);
  return all === 0 ? [] : [words(all, "")];
}

function moveWords({ runs, brews }: Moved): string {
  const part = (verb: string, counts: string[]) =>
    counts.length === 0 ? [] : [`${verb} ${listWords(counts)}`];
  const counted = (count: number, one: string) => count === 0 ? [] : [countWords(count, one)];
  const parts = [
    ...part("move", [...counted(runs.moved.length, "run"), ...counted(brews.otherDay.length, "brew")]),
    ...part("add", [...counted(runs.added.length, "run"), ...counted(brews.madeNow.length, "brew")]),
    ...part("leave out", [...counted(runs.gone.length, "run"), ...counted(brews.noLonger.length, "brew")]),
  ];
  return parts.length === 0 ? "move no run and no brew" : listWords(parts);
}

/** How many runs would be otherwise in the days that are held; nothing where no days are. */
function heldWords({ roster }: Season, { runs }: Moved, asOf: string): string {
  if (roster.heldDays === 0) return "";
  const free = dayNumber(addDays(asOf.slice(0, 10), roster.heldDays));
  const isHeld = ({ steepInAt }: { steepInAt: string }) => dayNumber(steepInAt.slice(0, 10)) < free;
  const held = [...runs.added, ...runs.gone].filter(isHeld).length +
    runs.moved.filter(({ before, after }) => isHeld(before) || isHeld(after)).length;
  return held === 0 ? ", none in the held days" : `, ${held} of them in the held days`;
}
