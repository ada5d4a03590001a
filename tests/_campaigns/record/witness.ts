import { isDeepStrictEqual } from "node:util";
import type { EditRow } from "../../../routes/_store/edits.ts";
import type { Change } from "../../../core/edit/change.ts";
import type { Acknowledged } from "./editor.ts";

// deno-lint-ignore no-explicit-any
type Loose = any;

/**
 * Replays the log with a few lines of its own, and holds what clients were told against it: every acknowledged edit is
 * there once, at its revision, and none overwrote a value that its author had not seen.
 */
export class Witness {
  private readonly inLog = new Map<string, EditRow>();
  private readonly byRevision = new Map<number, { row: EditRow; before: Loose }>();
  revision: number;

  constructor(private state: Loose, revision: number) {
    this.revision = revision;
  }

  /** Goes on by these edits, oldest first. Returns what is wrong with them. */
  read(rows: readonly EditRow[]): string[] {
    const faults: string[] = [];
    for (const row of rows) {
      if (row.revision !== this.revision + 1) {
        faults.push(`revision ${row.revision} follows ${this.revision}`);
      }
      if (this.inLog.has(row.edit_id)) faults.push(`edit ${row.edit_id} is in the log twice`);
      this.revision = row.revision;
      this.inLog.set(row.edit_id, row);
      this.byRevision.set(row.revision, { row, before: this.state });
      this.state = replayed(this.state, row.changes);
    }
    return faults;
  }

  /** What is wrong with what a client was told. */
  holds({ asked, revision }: Acknowledged): string[] {
    const row = this.inLog.get(asked.id);
    if (row === undefined) return [`acknowledged edit ${asked.id} is lost`];
    if (row.revision !== revision || row.author !== asked.author) {
      return [`edit ${asked.id} was acknowledged as revision ${revision} and stands at ${row.revision}`];
    }
    const { before } = this.byRevision.get(revision)!;
    const seen = new Map(
      (asked.seen as { at: string; value: unknown }[] ?? []).map((one) => [one.at, one.value]),
    );
    return this.wanted(row, asked).flatMap(({ at, from, to }) => {
      const stood = lookUp(before, at);
      const allowed = seen.has(at) ? [seen.get(at), to] : [from, to];
      return allowed.some((one) => isDeepStrictEqual(one, stood))
        ? []
        : [`edit ${asked.id} overwrote ${JSON.stringify(stood)} at ${at}, which its author had not seen`];
    });
  }

  /** True when the replayed season is this one. */
  is(season: Loose): boolean {
    return isDeepStrictEqual(this.state, markedByPlace(season));
  }

  /** Lets go of what is behind; a long campaign would fill the memory. */
  forget(): void {
    this.byRevision.clear();
  }

  private wanted(row: EditRow, asked: Acknowledged["asked"]): Change[] {
    if (asked.changes !== undefined) return asked.changes as Change[];
    const of = this.byRevision.get((row.undoes ?? row.redoes)!)?.row.changes ?? [];
    const told = of.filter(({ at }) => at !== "/asOf" && !at.startsWith("/bookValues"));
    return row.undoes === null ? [...told] : told.map(({ at, from, to }) => ({ at, from: to, to: from }));
  }
}

/** The season with places for pointers among its book values, as the log speaks of them. */
export function markedByPlace(season: Loose): Loose {
  const bookValues = season.bookValues.map((pointer: string) => {
    let value = season, keyed = true;
    return pointer.split("/").map((step, depth) => {
      if (depth === 0) return step;
      const key = Array.isArray(value) && keyed ? value[Number(step)]?.id : undefined;
      keyed &&= !Array.isArray(value) || key !== undefined;
      value = value?.[step];
      return key === undefined ? step : `=${key}`;
    }).join("/");
  });
  return { ...season, bookValues };
}

const KEYS: Record<string, (row: Loose) => string> = {
  "/records/brews": (row) => row.brewId,
  "/bookings/brews": (row) => row.brewId,
  "/opening/grain": (row) => `${row.lotId} ${row.storeId}`,
  "/opening/tanks": (row) => row.tankId,
  "/bookValues": (row) => row,
};

function split(place: string): string[] {
  return place.split("/").slice(1).map((step) => step.replaceAll("~1", "/").replaceAll("~0", "~"));
}

function indexIn(list: Loose[], path: string, step: string): number {
  const key = KEYS[path] ?? ((row: Loose) => row?.id);
  return step.startsWith("=") ? list.findIndex((row) => key(row) === step.slice(1)) : Number(step);
}

function lookUp(state: Loose, place: string): unknown {
  let value = state, path = "";
  for (const step of split(place)) {
    value = Array.isArray(value) ? value[indexIn(value, path, step)] : value?.[step];
    path += `/${step}`;
  }
  return value;
}

function replayed(state: Loose, changes: readonly Change[]): Loose {
  const copy = structuredClone(state);
  const late = changes.filter((one) => one.index !== undefined && one.from === undefined)
    .sort((a, b) => a.index! - b.index!);
  for (const change of [...changes.filter((one) => !late.includes(one)), ...late]) {
    const steps = split(change.at);
    const last = steps.pop()!;
    const parent = lookUp(
      copy,
      steps.map((step) => `/${step.replaceAll("~", "~0").replaceAll("/", "~1")}`).join(""),
    );
    if (Array.isArray(parent)) {
      const index = indexIn(parent, `/${steps.join("/")}`, last);
      if (change.to === undefined) parent.splice(index, 1);
      else if (index < 0) parent.splice(change.index!, 0, structuredClone(change.to));
      else parent[index] = structuredClone(change.to);
    } else if (change.to === undefined) delete (parent as Loose)[last];
    else (parent as Loose)[last] = structuredClone(change.to);
  }
  return copy;
}
