import { dayNumber } from "../calendar.ts";
import { type Moved, nothingMoved } from "../plan/moved.ts";
import type { Season } from "../season/season.ts";
import { moneyAmount } from "./money-words.ts";
import { countWords, dayWords, listWords, maltWords, tonneWords } from "./words.ts";

/** Things named one by one; of more, the first are named and the rest are counted. */
const MOST_NAMED = 3;

/** What has moved between two plans, a sentence for each kind of thing; "Nothing moved." when nothing did. */
export function movedWords(season: Season, moved: Moved): string[] {
  if (nothingMoved(moved)) {
    return [
      moved.costCents === 0 ? "Nothing moved." : `Nothing moved; ${moneyWords(season, moved.costCents)}.`,
    ];
  }
  return [
    runWords(season, moved),
    brewWords(season, moved.brews.madeNow, "can be made now"),
    brewWords(season, moved.brews.noLonger, "can no longer be made"),
    moved.brews.otherDay.length === 0
      ? ""
      : `${countWords(moved.brews.otherDay.length, "brew")} on another day`,
    moved.promises === 0
      ? ""
      : `${countWords(Math.abs(moved.promises), "home-share promise")} ${
        moved.promises > 0 ? "more held" : "less held"
      }`,
    moved.feedG === 0
      ? ""
      : `${tonneWords(Math.abs(moved.feedG))} ${moved.feedG > 0 ? "more" : "less"} goes as feed`,
    moved.costCents === 0 ? "" : moneyWords(season, moved.costCents),
  ].filter((one) => one !== "").map((one) => `${one.charAt(0).toUpperCase()}${one.slice(1)}.`);
}

function runWords(season: Season, { runs }: Moved): string {
  const malt = (id: string) => maltWords(season.maltTypes.find((one) => one.id === id)?.name ?? id);
  const [first] = runs.moved;
  const parts = [
    runs.moved.length === 1 && first !== undefined && first.before.steepInAt !== first.after.steepInAt
      ? `1 run of ${malt(first.after.maltId)} moved from ${startWords(first.before.steepInAt)} to ${
        startWords(first.after.steepInAt)
      }`
      : runs.moved.length > 0
      ? `${countWords(runs.moved.length, "run")} moved`
      : "",
    runs.added.length > 0 ? `${countWords(runs.added.length, "run")} more` : "",
    runs.gone.length > 0 ? `${countWords(runs.gone.length, "run")} less` : "",
  ].filter((one) => one !== "");
  return listWords(parts);
}

function startWords(at: string): string {
  return dayWords(dayNumber(at.slice(0, 10)));
}

function brewWords(season: Season, ids: readonly string[], what: string): string {
  if (ids.length === 0) return "";
  const named = ids.slice(0, MOST_NAMED).map((id) => {
    const brew = season.brews.find((one) => one.id === id.replace(/^tail-/, ""));
    const beer = season.beers.find((one) => one.id === brew?.beerId)?.name ?? id;
    return brew === undefined || id.startsWith("tail-") ? beer : `${beer} of ${dayWords(dayNumber(brew.on))}`;
  });
  const more = ids.length - named.length;
  return `${listWords(more > 0 ? [...named, `${more} more`] : named)} ${what}`;
}

function moneyWords({ currency }: Season, costCents: number): string {
  return `the year costs ${moneyAmount(Math.abs(costCents), currency)} ${costCents > 0 ? "more" : "less"}`;
}
