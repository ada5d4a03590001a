import type { Season } from "../../../core/season/season.ts";

/** Fields that people read and no rule does. */
const WORDS = new Set([
  ...[
    "name",
    "about",
    "letter",
    "supplier",
    "party",
    "buyer",
    "what",
    "reason",
    "note",
    "varietyClass",
  ],
]);

/** The season with every name, letter and remark another one, ids as they were. */
export function renamed(season: Season): Season {
  const walk = (value: unknown): unknown => {
    if (Array.isArray(value)) return value.map(walk);
    if (value === null || typeof value !== "object") return value;
    return Object.fromEntries(
      Object.entries(value).map(([key, member]) => [
        key,
        WORDS.has(key) && typeof member === "string"
          ? (key === "letter" ? "z" : `x ${member}`.slice(0, 40))
          : walk(member),
      ]),
    );
  };
  return walk(season) as Season;
}

/** The season with the rows of every list that has ids the other way round. Lists whose order is content stay. */
export function turned(season: Season): Season {
  const walk = (value: unknown): unknown => {
    if (Array.isArray(value)) {
      const rows = value.map(walk);
      return rows.every((row) => typeof row === "object" && row !== null && "id" in row)
        ? rows.reverse()
        : rows;
    }
    if (value === null || typeof value !== "object") return value;
    return Object.fromEntries(Object.entries(value).map(([key, member]) => [key, walk(member)]));
  };
  return walk(season) as Season;
}
