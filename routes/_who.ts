import type { Context } from "hono";
import { getCookie, setCookie } from "hono/cookie";
import type { Season } from "../core/season/season.ts";

const COOKIE = "rickyard-person";
/** A browser forgets who writes here after this many seconds: one year. */
const KEPT_S = 365 * 24 * 3600;
/** The longest name that a record can carry. */
export const LONGEST_NAME = 60;

/** Who writes at this browser: the id of a person of the season, or a name; null when nobody has said. */
export function whoOf(c: Context): string | null {
  const name = (getCookie(c, COOKIE) ?? "").trim().slice(0, LONGEST_NAME);
  return name === "" ? null : name;
}

/** Remembers who writes at this browser. */
export function rememberWho(c: Context, who: string): void {
  setCookie(c, COOKIE, who, { path: "/", maxAge: KEPT_S, sameSite: "Lax", httpOnly: true });
}

/**
 * The name of who wrote something: people of the season are written down by their id. What follows a comma describes the
 * person and is left out.
 */
export function nameOfWho(season: Season, who: string): string {
  const name = season.people.find((one) => one.id === who)?.name ?? who;
  return name.split(",")[0]!.trim() || who;
}

/** How a typed name is written down: as the id of the person of the season who has it. */
export function whoIs(season: Season, name: string): string {
  const wanted = name.trim();
  const person = season.people.find((one) => one.name === wanted || one.id === wanted) ??
    season.people.find((one) => nameOfWho(season, one.id) === wanted);
  return person?.id ?? wanted.slice(0, LONGEST_NAME);
}
