import type { Checking } from "./checking.ts";
import type { Path } from "./finding.ts";
import { pointer } from "./finding.ts";

/** Longest id of a brew: its repeat in the tail puts `tail-` before it, and ids have at most 40 letters. */
export const LONGEST_BREW_ID = 35;

/** Longest id of a run that is still to be stripped: its malt gets a name that puts `m-`, or `m1-`, before it. */
const LONGEST_RUN_ID = 36;

/** Keys that name a new thing; `batchId` does so where a run or an order brings a batch into being. */
function isNewId(key: string, path: Path): boolean {
  if (key === "id") return true;
  return key === "batchId" && (path.includes("outputs") || path.includes("orders"));
}

/** Steps from the top to the deepest id there is, that of a batch in the outputs of a run; what is no season may go on for ever. */
const DEEPEST = 6;

/** Every id that a value brings into the season, with its path. */
export function newIds(value: unknown, path: Path = []): { id: string; path: Path }[] {
  if (typeof value !== "object" || value === null || path.length >= DEEPEST) return [];
  return Object.entries(value).flatMap(([key, member]) => {
    const at = [...path, Array.isArray(value) ? Number(key) : key];
    if (typeof member === "string" && isNewId(key, path)) return [{ id: member, path: at }];
    return newIds(member, at);
  });
}

/** Ids are unique in the whole season; brews leave room for their repeats in the tail, and runs for their malt. */
export function checkIds({ season, tell }: Checking): void {
  const first = new Map<string, Path>();
  for (const { id, path } of newIds(season)) {
    const before = first.get(id);
    if (before === undefined) {
      first.set(id, path);
      continue;
    }
    const done = path[0] === "bookings" && before[0] === "records";
    tell("duplicate-id", path, {
      limit: "each id once in the whole season",
      message: `The id "${id}" is used already at ${pointer(before)}.`,
      wayOut: done
        ? "What is recorded is no longer booked: take the booking out."
        : "Give one of the two another id.",
    });
  }
  for (const [index, brew] of season.brews.entries()) {
    const path = ["brews", index, "id"];
    if (brew.id.length > LONGEST_BREW_ID) {
      tell("tail-id-too-long", path, {
        limit: `at most ${LONGEST_BREW_ID} letters`,
        message: "The id of a brew is too long for its repeat after the horizon, which puts tail- before it.",
        wayOut: "Shorten it.",
      });
    }
    if (first.has(`tail-${brew.id}`)) {
      tell("tail-id-taken", first.get(`tail-${brew.id}`)!, {
        limit: `not tail-${brew.id}`,
        message: `This id belongs to the repeat of brew ${brew.id} after the horizon.`,
        wayOut: "Give it another id.",
      });
    }
  }
  for (const part of ["records", "bookings"] as const) {
    for (const [index, run] of season[part].runs.entries()) {
      const named = "outputs" in run && run.outputs.length > 0;
      if (named || run.id.length <= LONGEST_RUN_ID) continue;
      tell("run-id-too-long", [part, "runs", index, "id"], {
        limit: `at most ${LONGEST_RUN_ID} letters`,
        message: "The id of a run is too long for the name of its malt, which puts m- before it.",
        wayOut: "Shorten it.",
      });
    }
  }
}
