/** Where a lot's grain comes from, through every mixing. */
import type { Context, Ground } from "./context.ts";

/** What a beer asks for: grain of these fields, or of these lots, and whether anything else may be mixed in. */
export interface Demand {
  readonly kind: "field" | "lot";
  readonly ids: readonly string[];
  readonly unmixed: boolean;
}

/**
 * Does a lot descend from the named fields or lots, and, if that is asked, from nothing else? A purchase, and a lot whose
 * origin nobody wrote down, come from elsewhere. A lot that is its own ancestor, which no season should hold, is followed once.
 */
export function descends(
  ctx: Context,
  lotId: string,
  demand: Demand,
  trail: ReadonlySet<string> = new Set(),
): boolean {
  const { kind, ids, unmixed } = demand;
  if (kind === "lot" && ids.includes(lotId)) return true;
  const parents = ctx.lots.get(lotId)?.parents ?? [], seen = new Set([...trail, lotId]);
  const plantings = ctx.season.plantings.filter((planting) =>
    planting.lotId === lotId ||
    parents.some((parent) => parent.kind === "planting" && parent.plantingId === planting.id)
  );
  const named = (fieldId: string) => kind === "field" && ids.includes(fieldId);
  const good = [
    ...plantings.map(({ fieldIds }) => unmixed ? fieldIds.every(named) : fieldIds.some(named)),
    ...parents.flatMap((parent) => {
      if (parent.kind === "bought") return [false];
      if (parent.kind === "planting" || seen.has(parent.lotId)) return [];
      return [descends(ctx, parent.lotId, demand, seen)];
    }),
  ];
  return unmixed ? good.length > 0 && good.every(Boolean) : good.some(Boolean);
}

/** A lot and every lot that was tipped into it or that it was split from, by its parents and by recorded mixes. */
export function lotsIn(
  { season, lots }: Pick<Ground, "season" | "lots">,
  lotId: string,
): ReadonlySet<string> {
  const all = new Set([lotId]);
  for (const id of all) {
    for (const parent of lots.get(id)?.parents ?? []) if (parent.kind === "lot") all.add(parent.lotId);
    for (const mix of season.records.mixes) {
      if (mix.intoLotId === id) mix.parents.forEach((parent) => all.add(parent.lotId));
    }
  }
  return all;
}
