import { contentOf } from "../../core/form/contents.ts";
import { type Place } from "../../core/edit/place.ts";
import { NEW_ROW } from "../../core/form/place.ts";
import { formSource } from "../../core/form/source.ts";
import type { FormSource } from "../../core/form/spot.ts";
import { rowWord, thingAt } from "../../core/season/check/thing.ts";
import type { Season } from "../../core/season/season.ts";
import type { FormView } from "../_pages/form.tsx";
import { Refusal } from "../_shell/errors.tsx";
import { farmAddress, one, type Verbs, verbsAt } from "./words.ts";

/** One form of one season, with all that its pages have to know. */
export interface Desk {
  readonly season: Season;
  readonly place: Place;
  readonly source: FormSource;
  readonly fresh: boolean;
  readonly verbs: Verbs;
  /** What the form is about, as the farm would say it. */
  readonly thing: string;
  /** The page that the form was opened from. */
  readonly back: string;
}

/** True for the place of a row that is yet to be added. */
export function isFresh(place: Place): boolean {
  return place.endsWith(`/${NEW_ROW}`);
}

/** The desk at which a place of a season is edited, or null when nothing is there. */
export function deskAt(season: Season, place: Place): Desk | null {
  const source = formSource(season, place), content = contentOf(place);
  if (source === null || content === null) return null;
  const fresh = isFresh(place);
  const names = source.path.filter((step) => typeof step === "string");
  const thing = content.kind === "form"
    ? content.title
    : fresh
    ? rowWord(names).replace(/^(recorded|booked) /, "")
    : thingAt(season, source.path);
  const back = content.kind === "form"
    ? `/seasons/${season.id}/farm`
    : farmAddress(season.id, "list", content.place);
  return { season, place, source, fresh, verbs: verbsAt(place), thing, back };
}

/** The desk of a place that has to be there; refuses with 404. */
export function deskOrRefuse(season: Season, place: Place): Desk {
  const desk = deskAt(season, place);
  if (desk !== null) return desk;
  throw new Refusal(404, {
    what: "There is nothing to edit here; perhaps somebody has taken it out.",
    where: place,
    whatToDo: `Open the list of the farm's parts at /seasons/${season.id}/farm and go on from there.`,
  });
}

/** The desk for a row that somebody took out while it was being edited: it can be put back as a new one. */
export function deskOfGone(season: Season, place: Place): Desk {
  return deskOrRefuse(season, place.replace(/\/[^/]*$/, `/${NEW_ROW}`));
}

/** What every view of a desk has in common. */
export function viewOf(desk: Desk): Pick<FormView, "title" | "seasonId" | "place" | "people" | "back"> {
  const { season, place, fresh, verbs, thing, back } = desk;
  const form = !fresh && contentOf(place)?.kind === "form";
  const title = fresh ? `${verbs.add} ${one(thing)}` : form ? thing : `${verbs.change} ${thing}`;
  return { title, seasonId: season.id, place, people: season.people.map(({ name }) => name), back };
}
