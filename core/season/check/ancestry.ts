import type { Checking } from "./checking.ts";

/** Ids on a way from one id back to itself, or null; `next` names what each id is made from. */
function cycleFrom(start: string, next: ReadonlyMap<string, readonly string[]>): string[] | null {
  const seen = new Set<string>();
  // An explicit stack, because a chain of lots may be as long as somebody cares to write it.
  const stack: { id: string; way: string[] }[] = [{ id: start, way: [start] }];
  while (stack.length > 0) {
    const { id, way } = stack.pop()!;
    for (const parent of next.get(id) ?? []) {
      if (parent === start) return [...way, start];
      if (seen.has(parent)) continue;
      seen.add(parent);
      stack.push({ id: parent, way: way.length < MOST_NAMED ? [...way, parent] : way });
    }
  }
  return null;
}

/** Steps of a cycle that are named in the message. */
const MOST_NAMED = 8;

/** No lot descends from itself. */
export function checkLotCycles({ season, tell }: Checking): void {
  const parents = new Map<string, string[]>();
  for (const lot of season.lots) {
    parents.set(lot.id, lot.parents.flatMap((parent) => parent.kind === "lot" ? [parent.lotId] : []));
  }
  for (const mix of season.records.mixes) {
    parents.get(mix.intoLotId)?.push(...mix.parents.map((parent) => parent.lotId));
  }
  const named = new Set<string>();
  for (const [i, lot] of season.lots.entries()) {
    const cycle = named.has(lot.id) ? null : cycleFrom(lot.id, parents);
    if (cycle === null) continue;
    cycle.forEach((id) => named.add(id));
    tell("lot-cycle", ["lots", i, "parents"], {
      value: cycle.join(" from "),
      limit: "no lot among its own parents",
      message: `${lot.name} descends from itself.`,
      wayOut: "Take one of these parents out.",
    });
  }
}

/** No malt is made from itself, in the drum or as a by-malt. */
export function checkMaltCycles({ season, tell }: Checking): void {
  const sources = new Map<string, string[]>();
  for (const malt of season.maltTypes) {
    sources.set(malt.id, malt.made.from === "malt" ? [malt.made.maltId] : []);
  }
  for (const [i, malt] of season.maltTypes.entries()) {
    const cycle = cycleFrom(malt.id, sources);
    const ownByMalt = malt.made.from === "grain" && malt.made.alsoGives.some((one) => one.maltId === malt.id);
    if (cycle === null && !ownByMalt) continue;
    tell("malt-cycle", ["maltTypes", i, "made"], {
      value: cycle?.join(" from ") ?? malt.id,
      limit: "made from something else",
      message: `${malt.name} is made from itself.`,
      wayOut: "Name another malt, or make it from grain.",
    });
  }
}
