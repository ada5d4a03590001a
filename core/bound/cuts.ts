import { findLotCuts, type LotCut, lotRow, lotSets } from "./lot-cuts.ts";
import { findMaltCuts, type Found } from "./find-malt-cuts.ts";
import { type MaltCut, maltRow, maltSets } from "./malt-cuts.ts";
import type { BoundModel } from "./model.ts";
import { type StoreCut, storeCutFinder, storeRow } from "./store-cuts.ts";
import { type VesselCut, vesselCutFinder, vesselRow } from "./vessel-cuts.ts";
import type { CutRow } from "./rounding.ts";

/** A row that no plan breaks, though the relaxation's points do: in few figures, from which its row is built anew when it is rechecked. */
export type Cut = MaltCut | LotCut | VesselCut | StoreCut;

/** The row of a cut; null where it gives none. */
export function cutRow(of: BoundModel, cut: Cut): CutRow | null {
  if (cut.kind === "store") return storeRow(of, cut);
  if (cut.kind === "vessels") return vesselRow(of, cut);
  return cut.kind === "malt" ? maltRow(of, cut) : lotRow(of, cut);
}

/** Adds a cut's row to the model. Throws a RangeError where it has none. */
export function addCut(of: BoundModel, cut: Cut): void {
  const row = cutRow(of, cut);
  if (!row) throw new RangeError(`the cut ${JSON.stringify(cut)} has no row`);
  of.model.row(row.lower, Infinity, row.entries);
}

/** Looks for cuts that a point violates: at most `most` of them, those it violates most for their length. */
export function cutFinder(of: BoundModel): (values: Float64Array, most: number) => Cut[] {
  const malts = maltSets(of);
  const lots = lotSets(of);
  const findVesselCuts = vesselCutFinder(of);
  const findStoreCuts = storeCutFinder(of);
  // Names of those returned so far: in the model, they are violated by no more than rounding.
  const known = new Set<string>();
  return (values, most) => {
    const found: Found<Cut>[] = [
      ...malts.flatMap((set) => [
        ...findMaltCuts(of, set, false, values),
        ...findMaltCuts(of, set, true, values),
      ]),
      ...findVesselCuts(values),
      ...findStoreCuts(values),
      ...lots.flatMap((set) => findLotCuts(of, set, values)),
    ];
    const chosen: Cut[] = [];
    for (const { cut } of found.sort((a, b) => b.by - a.by)) {
      if (chosen.length >= most) break;
      const name = JSON.stringify(cut);
      if (known.has(name)) continue;
      known.add(name);
      chosen.push(cut);
    }
    return chosen;
  };
}
