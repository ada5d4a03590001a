import { isFact } from "../../core/edit/facts.ts";
import { entriesOf, partsOfForm } from "../../core/form/entries.ts";
import { formatDay } from "../../core/day-names.ts";
import { farmSchema } from "../../core/form/contents.ts";
import { wordsOf } from "../../core/form/form-words.ts";
import { makeForm } from "../../core/form/make.ts";
import { merge } from "../../core/form/merge.ts";
import type { FormNode } from "../../core/form/node.ts";
import { keyBy, keyFields, type Place, rowBelow } from "../../core/edit/place.ts";
import { type FormReading, readForm } from "../../core/form/read.ts";
import { farmFields } from "../../core/form/source.ts";
import { canonicalJson } from "../../core/season/canonical.ts";
import { type Finding, pointer, valueAt } from "../../core/season/check/finding.ts";
import { wallTime } from "../../core/zone.ts";
import type { Season } from "../../core/season/season.ts";
import type { Conflict } from "../_edits.ts";
import type { Clash } from "../_pages/form.tsx";
import type { Wrong } from "../_pages/form-notes.tsx";
import type { Parts } from "../_parts.ts";
import { whoIs } from "../_who.ts";
import { readStored, standingOf } from "../_standing.ts";
import { type Desk, deskAt, deskOfGone, isFresh } from "./desk.ts";
import { saveValue } from "./save-value.ts";
import type { SentForm } from "./sent.ts";

/** What became of a form that was sent. */
export type Outcome =
  | { readonly kind: "saved" | "same"; readonly key: string }
  | { readonly kind: "wrong"; readonly form: FormNode; readonly wrongs: readonly Wrong[] }
  | {
    readonly kind: "clash";
    readonly desk: Desk;
    readonly form: FormNode;
    readonly clashes: readonly Clash[];
    readonly notice: string;
  };

/** Reads and saves a form. Nothing is saved as long as anything is wrong. */
export function saveForm(parts: Parts, desk: Desk, sent: SentForm): Outcome {
  const { source, fresh, season } = desk;
  const reading = readForm(source, sent.entries);
  const { value } = reading;
  const list = source.path.filter((step) => typeof step === "string");
  const row = typeof source.path.at(-1) === "number";
  const key = row ? keyBy(value, keyFields(list)) ?? "" : "";
  const wrongs: Wrong[] = [...reading.troubles, ...wrongsOf(desk, sent)];
  if (fresh && wrongs.length === 0 && keysOf(season, list).includes(key)) {
    wrongs.push(taken(reading.form, list));
  }
  if (wrongs.length > 0) return { kind: "wrong", form: reading.form, wrongs };
  if (!fresh && canonicalJson(value) === canonicalJson(source.seen)) return { kind: "same", key };

  const place = fresh ? rowBelow(`/${list.join("/")}`, key) : desk.place;
  const saved = saveValue(parts, season.id, {
    place,
    seen: place === "" ? wholeSeason(season, source.seen) : source.seen,
    value: place === "" ? wholeSeason(season, value) : value,
    author: whoIs(season, sent.who),
    reason: sent.why,
    editId: sent.editId,
  });
  if (saved.kind === "saved") return { kind: "saved", key };
  if (saved.kind === "no reason") return { kind: "wrong", form: reading.form, wrongs: [NO_REASON] };
  if (saved.kind === "findings") {
    return { kind: "wrong", form: reading.form, wrongs: wrongsOfFindings(saved.findings, desk, reading) };
  }
  return clash(parts, place, source.seen, value, season.id, saved.conflicts);
}

export const NO_REASON: Wrong = {
  name: "/why",
  label: "Why",
  message: "There is no reason.",
  wayOut: "Say in a few words why this is done, for those who read it later.",
};

/** Who is always asked; why, when something that happened is corrected or anything is taken out. */
export function wrongsOf({ fresh, place }: Desk, { who, why, act }: SentForm): Wrong[] {
  const wrongs: Wrong[] = [];
  if (who === "") {
    wrongs.push({
      name: "/who",
      label: "Who",
      message: "Nobody is named.",
      wayOut: "Write your name, or choose it.",
    });
  }
  if (why === "" && whyNeeded(place, fresh, act)) {
    wrongs.push(NO_REASON);
  }
  return wrongs;
}

/** Whether a change at a place needs a reason. */
export function whyNeeded(place: Place, fresh: boolean, act: string): boolean {
  return act === "take-out" || !fresh && isFact(place);
}

function keysOf(season: Season, list: readonly string[]): (string | null)[] {
  const rows = valueAt(season, list);
  return Array.isArray(rows) ? rows.map((one) => keyBy(one, keyFields(list))) : [];
}

function taken(form: FormNode, list: readonly string[]): Wrong {
  const name = `/${keyFields(list).at(-1)}`;
  const label = partsOfForm(form).find((part) => part.name === name)?.label ?? "Key";
  const message = "There is one of this already.";
  return { name, label, message, wayOut: "Choose another, or go back and change the one that is there." };
}

/** The season with other fields at its top. */
function wholeSeason(season: Season, fields: unknown): Season {
  const others = Object.entries(season).filter(([key]) => !Object.hasOwn(farmSchema.shape, key));
  return { ...Object.fromEntries(others), ...(fields as object) } as Season;
}

/** What the season check said, beside the fields that it is about; what is of no field here is only said on top. */
function wrongsOfFindings(
  findings: readonly Finding[],
  { source }: Desk,
  reading: Pick<FormReading, "form" | "nameOf">,
): Wrong[] {
  const top = pointer(source.path);
  const parts = new Map(partsOfForm(reading.form).map((part) => [part.name, part]));
  return findings.map(({ field, thing, message, wayOut }) => {
    let name = field.startsWith(`${top}/`) ? reading.nameOf(field.slice(top.length)) : "";
    while (name !== "" && !parts.has(name)) name = name.slice(0, name.lastIndexOf("/"));
    const label = name === "" ? thing : parts.get(name)!.label;
    return { name, label, message, wayOut };
  });
}

/** The form with both people's changes in it, and a choice for each field that both changed. */
function clash(
  parts: Parts,
  place: Place,
  seen: unknown,
  mine: unknown,
  seasonId: string,
  conflicts: readonly Conflict[],
): Outcome {
  const { stored } = readStored(standingOf(parts, seasonId).row);
  const there = deskAt(stored, place);
  const desk = there ?? deskOfGone(stored, place);
  const now = place === "" ? farmFields(stored) : desk.source.seen;
  const merged = merge(seen, mine, there === null ? undefined : now);
  const value = there === null ? mine : merged.value;
  const entries = entriesOf(makeForm({ ...desk.source, seen: value }), true);
  for (const name of merged.out) entries.set(`${name}:out`, ["1"]);
  const form = makeForm(desk.source, entries);
  const last = conflicts[0];
  if (there === null || isFresh(place)) {
    const notice = `${last?.author ?? "Somebody"} has taken this out in the meantime (${
      last === undefined ? "just now" : clockWords(last.at, stored.zone)
    }). Nothing was saved. Save to put it back as it stands here, or go back without saving.`;
    return { kind: "clash", desk, form, clashes: [], notice };
  }
  const nodes = new Map(partsOfForm(form).map((part) => [part.name, part]));
  const clashes = conflicts.flatMap(({ place: at, author, at: when }): Clash[] => {
    let name = nameOfPlace(value, at.slice(place.length));
    while (!nodes.has(name)) name = name.slice(0, name.lastIndexOf("/"));
    const node = nodes.get(name)!;
    const words = { theirs: wordsOf(node, "seen"), mine: wordsOf(node, "typed") };
    return [{ name, label: node.label, ...words, author, at: clockWords(when, stored.zone) }];
  });
  return { kind: "clash", desk, form, clashes, notice: "" };
}

/** An instant as it is read on the farm: day and minute. */
function clockWords(at: string, zone: string): string {
  const [day = "", minute] = wallTime(zone, Math.floor(Date.parse(at) / 60_000)).split("T");
  return `${formatDay(day, undefined, "withYear")}, ${minute}`;
}

/** The name of a form's field for the rest of a place below the form's own. */
function nameOfPlace(value: unknown, rest: Place): string {
  let at = value, name = "";
  for (const step of rest.split("/").slice(1)) {
    const row = Array.isArray(at) && step.startsWith("=")
      ? at.findIndex((one) => keyBy(one, ["id"]) === step.slice(1))
      : step;
    name += `/${row}`;
    at = valueAt(at, [row]);
  }
  return name;
}
