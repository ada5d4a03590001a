/** Where a lot's grain comes from, through every mixing. */
import type { Context } from "./context.ts";

/** One place of origin: a field, a lot that has no known parents, or a purchase. */
interface Ancestry {
  /** Ids of the lot itself and all lots it descends from. */
  readonly lotIds: ReadonlySet<string>;
  readonly fieldIds: ReadonlySet<string>;
  /** Lots at the root, with no lots behind them. */
  readonly rootLotIds: ReadonlySet<string>;
  /** True when some of it is known to come from elsewhere, or its origin is not known. */
  readonly foreign: boolean;
}

/** Follows a lot back to its fields. A lot that is its own ancestor, which a season should not have, ends there. */
export function ancestry(ctx: Context, lotId: string, trail: ReadonlySet<string> = new Set()): Ancestry {
  const lotIds = new Set([lotId]), fieldIds = new Set<string>(), rootLotIds = new Set<string>();
  let foreign = false;
  const lot = ctx.lots.get(lotId), seen = new Set([...trail, lotId]);
  const plantings = ctx.season.plantings.filter((planting) =>
    planting.lotId === lotId ||
    lot?.parents.some((parent) => parent.kind === "planting" && parent.plantingId === planting.id) === true
  );
  for (const planting of plantings) planting.fieldIds.forEach((id) => fieldIds.add(id));
  const older = (lot?.parents ?? []).filter((parent) => parent.kind === "lot");
  for (const parent of older) {
    if (seen.has(parent.lotId)) continue;
    const behind = ancestry(ctx, parent.lotId, seen);
    behind.lotIds.forEach((id) => lotIds.add(id));
    behind.fieldIds.forEach((id) => fieldIds.add(id));
    behind.rootLotIds.forEach((id) => rootLotIds.add(id));
    foreign = foreign || behind.foreign;
  }
  if (older.length === 0) rootLotIds.add(lotId);
  if (lot?.parents.some((parent) => parent.kind === "bought") === true) foreign = true;
  if (plantings.length === 0 && older.length === 0) foreign = true;
  return { lotIds, fieldIds, rootLotIds, foreign };
}

/** Does a lot count for a beer's demand: does it descend from the named fields or lots, and, if asked, from nothing else? */
export function descends(
  ctx: Context,
  lotId: string,
  kind: "field" | "lot",
  ids: readonly string[],
  unmixed: boolean,
): boolean {
  const from = ancestry(ctx, lotId);
  if (kind === "field") {
    const some = ids.some((id) => from.fieldIds.has(id));
    return some && (!unmixed || (!from.foreign && [...from.fieldIds].every((id) => ids.includes(id))));
  }
  if (!unmixed) return ids.some((id) => from.lotIds.has(id));
  return ids.includes(lotId) || [...from.rootLotIds].every((id) => ids.includes(id));
}
