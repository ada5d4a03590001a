import type { Context } from "hono";
import { contentOf } from "../../core/form/contents.ts";
import { rowBelow } from "../../core/edit/place.ts";
import { spotAt } from "../../core/form/place.ts";
import { thingAt } from "../../core/season/check/thing.ts";
import type { Season } from "../../core/season/season.ts";
import type { Desk } from "./desk.ts";
import { verbsAt } from "./words.ts";

/** What was done to a place. */
export type Done = "added" | "changed" | "takenOut" | "same";

/** The address of the page that a form was opened from, where it says what was done. */
export function doneAt({ back, place }: Desk, done: Done, key: string): string {
  const of = key === "" ? `of=${encodeURIComponent(place)}` : `key=${encodeURIComponent(key)}`;
  return `${back}${back.includes("?") ? "&" : "?"}done=${done}&${of}`;
}

/** What was just done, in a sentence; the address says it, so that a page that is loaded again says it again. */
export function said(c: Context, season: Season): string {
  const done = c.req.query("done"), list = c.req.query("at");
  if (done === "same") return "Nothing was changed, so nothing was saved.";
  if (done !== "added" && done !== "changed" && done !== "takenOut") return "";
  const place = list === undefined ? c.req.query("of") ?? "" : rowBelow(list, c.req.query("key") ?? "");
  const found = list === undefined ? null : spotAt(season, place);
  const thing = found === null
    ? list === undefined ? contentOf(place)?.title ?? "" : c.req.query("key") ?? ""
    : thingAt(season, found.path);
  const words = `${thing} was ${verbsAt(place)[done]}.`;
  return `${words[0]?.toUpperCase()}${words.slice(1)} The year is being planned again.`;
}
