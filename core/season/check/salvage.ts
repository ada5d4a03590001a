import type { z } from "zod";
import { type Season, seasonSchema } from "../season.ts";
import type { Path } from "./finding.ts";
import { newIds } from "./ids.ts";

/** What could be read of a season in spite of faults in its shape. */
export interface Salvage {
  readonly season: Season;
  /** Ids of the rows that were left out. */
  readonly lost: ReadonlySet<string>;
  /** Where a value of `season` stands in the file, in which rows before it may have been left out. */
  readonly inFile: (path: Path) => Path;
}

type Step = PropertyKey;

/** Rows stand in a list of the season, or in a list of one of its parts. */
function rowOf(path: readonly Step[]): readonly Step[] | undefined {
  if (typeof path[1] === "number") return path.slice(0, 2);
  return typeof path[2] === "number" ? path.slice(0, 3) : undefined;
}

/**
 * Leaves out the rows that do not fit the schema, so that the others can be checked in the same go. Null when a fault lies
 * outside all lists and so nothing is left to stand on.
 */
export function salvage(input: object, issues: readonly z.core.$ZodIssue[]): Salvage | null {
  const copy = { ...input } as Record<Step, unknown>;
  const rows = new Map<string, readonly Step[]>();
  for (const issue of issues) {
    const row = rowOf(issue.path);
    if (row !== undefined) rows.set(JSON.stringify(row), row);
    else if (issue.code === "unrecognized_keys" && issue.path.length === 0) {
      issue.keys.forEach((key) => delete copy[key]);
    } else return null;
  }
  const lost = new Set<string>();
  const kept = new Map<string, number[]>();
  const byList = Map.groupBy(rows.values(), (row) => JSON.stringify(row.slice(0, -1)));
  for (const gone of byList.values()) {
    const listPath = gone[0]!.slice(0, -1);
    const numbers = new Set(gone.map((row) => row.at(-1)));
    const [part, list] = listPath as [string, string | undefined];
    const held = list === undefined ? copy : { ...(copy[part] as Record<Step, unknown>) };
    const name = list ?? part;
    const all = held[name] as unknown[];
    held[name] = all.filter((_, index) => !numbers.has(index));
    all.filter((_, index) => numbers.has(index)).flatMap((row) => newIds(row, [name])).forEach(({ id }) =>
      lost.add(id)
    );
    kept.set(JSON.stringify(listPath), [...all.keys()].filter((index) => !numbers.has(index)));
    if (list !== undefined) copy[part] = held;
  }
  const parsed = seasonSchema.safeParse(copy);
  if (!parsed.success) return null;
  const inFile = (path: Path): Path => {
    const depth = typeof path[1] === "number" ? 1 : 2;
    const index = kept.get(JSON.stringify(path.slice(0, depth)))?.[Number(path[depth])];
    return index === undefined ? path : path.toSpliced(depth, 1, index);
  };
  return { season: parsed.data, lost, inFile };
}
