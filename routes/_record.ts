import { changeWords, toldChanges } from "../core/edit/words.ts";
import { undoState } from "../core/edit/undo.ts";
import type { Verb } from "../core/edit/verbs.ts";
import type { Season } from "../core/season/season.ts";
import { wallTime } from "../core/zone.ts";
import { formatDay } from "../core/day-names.ts";
import type { Parts } from "./_parts.ts";
import type { RecordBarProps } from "./_shell/record-bar.tsx";
import { editOf, type EditRow, lastEdit, trailOf } from "./_store/edits.ts";
import { readSeason } from "./_store/seasons.ts";
import { nameOfWho } from "./_who.ts";

/** An edit is news to whoever opens a page within this many milliseconds. */
const FRESH_MS = 10_000;

const SHELF_WORDS = { archived: "put away", "thrown away": "thrown away" } as const;

/** Changes of one edit that are told one by one; of more, the first are told and the rest are counted. */
const MOST_TOLD = 2;

const DONE: Readonly<Record<Verb, string>> = {
  begin: "began the season",
  add: "added",
  change: "changed",
  "take out": "took out",
  record: "recorded",
  correct: "corrected",
  withdraw: "withdrew",
  book: "booked",
  unbook: "unbooked",
  "change booking": "changed the booking of",
  undo: "took back",
  redo: "made again",
  restore: "went back to an earlier season",
  replace: "put a file in the season's place",
};

/** What an edit did, as "lot Lower barley, moisture: 13.2 % → 12.8 %". */
export function editWords(season: Season, { changes }: EditRow): string {
  const told = toldChanges(changes);
  const words = told.slice(0, MOST_TOLD).map((one) => changeWords(season, one).line);
  return words.join("; ") + (told.length > MOST_TOLD ? `; and ${told.length - MOST_TOLD} more` : "");
}

/** Who did what, as "Maltster changed lot Lower barley, moisture: 13.2 % → 12.8 %". */
export function editSentence(season: Season, edit: EditRow): string {
  const words = editWords(season, edit);
  const isWhole = WHOLE.includes(edit.verb) && words !== "";
  return `${nameOfWho(season, edit.author)} ${DONE[edit.verb]}${isWhole ? ": " : " "}${words}`.trim();
}

/** What is done to the whole season, of which the changes are only what follows. */
const WHOLE: readonly Verb[] = ["begin", "restore", "replace"];

/** When an edit was made, on the farm's clock. */
export function editedAt(season: Season, { at }: EditRow): string {
  const local = wallTime(season.zone, Math.floor(Date.parse(at) / 60_000));
  return `${formatDay(local.slice(0, 10), "en-US", "withYear")}, ${local.slice(11)}`;
}

/** The latest edit as the head of the pages tells it; nothing while there was none. */
export function latestWords(season: Season, edit: EditRow): string {
  return edit.verb === "begin" ? "" : `${editSentence(season, edit)}. ${editedAt(season, edit)}`;
}

/** What the head of the season's pages says about its edits. */
export function recordBarOf({ store, now }: Parts, season: Season, who: string | null): RecordBarProps {
  const { undo, redo } = who === null
    ? { undo: null, redo: null }
    : undoState(trailOf(store, season.id, who));
  const step = (revision: number | null) => {
    const edit = revision === null ? null : editOf(store, season.id, revision);
    return edit === null ? null : { revision: edit.revision, words: editWords(season, edit) };
  };
  const shelf = readSeason(store, season.id)?.shelf ?? "open";
  const last = lastEdit(store, season.id);
  return {
    season: `/seasons/${season.id}`,
    who: who === null ? null : nameOfWho(season, who),
    undo: shelf === "open" ? step(undo) : null,
    redo: shelf === "open" ? step(redo) : null,
    latest: last === null ? "" : latestWords(season, last),
    fresh: last !== null && last.verb !== "begin" && now().getTime() - Date.parse(last.at) < FRESH_MS,
    closed: shelf === "open" ? "" : `This season is ${SHELF_WORDS[shelf]}: nothing in it can be changed.`,
  };
}
