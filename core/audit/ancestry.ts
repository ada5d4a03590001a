/** Where a lot's grain comes from, through every mixing. */
import type { Context, Ground } from "./context.ts";

/** What a beer asks for: grain of these fields, or of these lots, and whether anything else may be mixed in. */
export interface Demand {
  readonly kind: "field" | "lot";
  readonly ids: readonly string[];
  readonly unmixed: boolean;
}

/** Lots that recorded mixes tipped into a lot, with their days. */
function tippedIn({ season }: Pick<Ground, "season">, lotId: string): { lotId: string; on: string }[] {
  return season.records.mixes.filter((mix) => mix.intoLotId === lotId)
    .flatMap((mix) => mix.parents.map((parent) => ({ lotId: parent.lotId, on: mix.on })))
    .filter((parent) => parent.lotId !== lotId);
}

/** What is known so far of the lots on the way; one that is still asked about is its own ancestor. */
type Known = Map<string, boolean | "asked">;

/**
 * Does a lot descend from the named fields or lots, and, if that is asked, from nothing else? A purchase, and a lot whose
 * origin nobody wrote down, come from elsewhere. A named lot is good for what it was formed of, whatever that was, but not for
 * what was tipped into it later. A lot that is its own ancestor, which no season should hold, is followed once.
 */
export function descends(ctx: Context, lotId: string, demand: Demand, known: Known = new Map()): boolean {
  const { kind, ids, unmixed } = demand;
  known.set(lotId, "asked");
  const good = kind === "lot" && ids.includes(lotId)
    ? [true, ...laterTipped(ctx, lotId).flatMap((id) => ofLot(ctx, id, demand, known))]
    : parts(ctx, lotId, demand, known);
  const all = unmixed ? good.length > 0 && good.every(Boolean) : good.some(Boolean);
  known.set(lotId, all);
  return all;
}

function ofLot(ctx: Context, lotId: string, demand: Demand, known: Known): boolean[] {
  const answer = known.get(lotId) ?? descends(ctx, lotId, demand, known);
  return answer === "asked" ? [] : [answer];
}

/** Lots tipped into a lot after the day it was formed. */
function laterTipped(ctx: Context, lotId: string): string[] {
  const formedOn = ctx.lots.get(lotId)?.formedOn;
  return tippedIn(ctx, lotId).filter(({ on }) => formedOn === undefined || on > formedOn).map(({ lotId }) =>
    lotId
  );
}

/** Which parts of a lot are as asked: each planting, each other lot in it, and what came from elsewhere. */
function parts(ctx: Context, lotId: string, demand: Demand, known: Known): boolean[] {
  const { kind, ids, unmixed } = demand, { opening, records } = ctx.season;
  const parents = ctx.lots.get(lotId)?.parents ?? [], tipped = tippedIn(ctx, lotId);
  const plantings = ctx.season.plantings.filter((planting) =>
    planting.lotId === lotId ||
    parents.some((parent) => parent.kind === "planting" && parent.plantingId === planting.id)
  );
  const named = (fieldId: string) => kind === "field" && ids.includes(fieldId);
  // Grain that lay there or was binned, of a lot of which only later additions are written down.
  const unknown = parents.every((parent) => parent.kind === "planting") && plantings.length === 0 &&
    tipped.length > 0 &&
    [...opening.grain, ...records.fills].some((row) => row.lotId === lotId && row.massG > 0);
  return [
    ...plantings.map(({ fieldIds }) => unmixed ? fieldIds.every(named) : fieldIds.some(named)),
    ...parents.flatMap((parent) => {
      if (parent.kind === "bought") return [false];
      return parent.kind === "planting" ? [] : ofLot(ctx, parent.lotId, demand, known);
    }),
    ...tipped.flatMap((parent) => ofLot(ctx, parent.lotId, demand, known)),
    ...(unknown ? [false] : []),
  ];
}

/** A lot and every lot that was tipped into it or that it was split from, by its parents and by recorded mixes. */
export function lotsIn(ground: Pick<Ground, "season" | "lots">, lotId: string): ReadonlySet<string> {
  const all = new Set([lotId]);
  for (const id of all) {
    for (const parent of ground.lots.get(id)?.parents ?? []) if (parent.kind === "lot") all.add(parent.lotId);
    tippedIn(ground, id).forEach((parent) => all.add(parent.lotId));
  }
  return all;
}
