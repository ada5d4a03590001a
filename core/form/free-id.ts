import { newIds } from "../season/check/ids.ts";
import type { Season } from "../season/season.ts";

/** Longest stem of an id that is made here, so that a number, and what the planner puts before it, still fit. */
const LONGEST_STEM = 30;

/** Every id that is used in a season. */
export function usedIds(season: Season): Set<string> {
  return new Set(newIds(season).map(({ id }) => id));
}

/** The letters of a name that an id may have: "Bère, 2nd" gives "bere-2nd". Empty when the name has none. */
export function stemOf(name: string): string {
  return name.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase().replace(/[^a-z0-9]+/g, "-")
    .slice(0, LONGEST_STEM).replace(/^-+|-+$/g, "");
}

/** An id that is not used yet: the stem by itself, or with a number behind it. */
export function freeId(stem: string, used: ReadonlySet<string>): string {
  if (!used.has(stem)) return stem;
  let number = 2;
  while (used.has(`${stem}-${number}`)) number++;
  return `${stem}-${number}`;
}

/** The id that goes on counting: the stem with the number after the greatest one that is used with it. */
export function nextId(stem: string, used: ReadonlySet<string>): string {
  const numbers = [...used].filter((id) => id.startsWith(`${stem}-`)).map((id) => id.slice(stem.length + 1));
  const counted = numbers.filter((text) => /^\d{1,6}$/.test(text)).map(Number);
  return `${stem}-${Math.max(0, ...counted) + 1}`;
}
