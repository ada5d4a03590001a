import type { VNode } from "preact";
import type { HazardousKind } from "../../core/cautions.ts";
import type { StoreEvent, StoreRow } from "../../core/year/stores-band.ts";
import { grain, money, shortDay } from "../../islands/_charts/words.ts";
import type { Cell, Column } from "./tables.tsx";
import type { YearView } from "./view.ts";

/** Grain that leaves a store otherwise than into the steep: a feed load, a move, seed or a sale. */
export interface Leave {
  readonly row: StoreRow;
  readonly event: StoreEvent;
  readonly hazard: HazardousKind;
  /** It makes room for another lot. */
  readonly must: boolean;
  readonly cells: readonly Cell[];
}

/** Columns of what leaves, the same on screen and on paper. */
export const LEAVE_COLUMNS: readonly Column[] = [
  { name: "Must leave" },
  { name: "Planned for" },
  { name: "Lot" },
  { name: "Weight as in bin", number: true },
  { name: "Out of" },
  { name: "Where", prose: true },
  { name: "Makes room for", prose: true },
  { name: "Load brings", number: true },
  { name: "Stands" },
];

/** All that is still to leave, in order of the day planned for it; what must leave in the very words of the drawing. */
export function leaves({ season, year, plan }: Pick<YearView, "season" | "year" | "plan">): Leave[] {
  const loads = new Map((plan?.feedLoads ?? []).map((load) => [load.id, load]));
  const buyers = new Map(season.feedPickups.map(({ id, buyer }) => [id, buyer]));
  const names = new Map(year.stores.map(({ id, name }) => [id, name]));
  const paid = new Set<string>();
  return year.stores.flatMap((row) => row.departures.map((event) => ({ row, event })))
    .filter(({ event }) =>
      event.standing !== "done" && event.day <= year.lastDay && event.day >= Math.floor(year.asOf) &&
      WHERE[event.kind] !== undefined
    )
    .toSorted((a, b) => a.event.day - b.event.day)
    .map(({ row, event }): Leave => {
      const must = row.mustLeave.find(({ refId, lotId }) => refId === event.refId && lotId === event.lotId);
      const load = loads.get(event.refId);
      const to = event.kind === "moved out"
        ? names.get(event.otherStoreId ?? "") ?? "another store"
        : buyers.get(load?.pickupId ?? "") ?? "";
      // One lorry is paid once, however many lots it takes.
      const brings = load === undefined || paid.has(load.id) ? "" : money(load.revenueCents, season.currency);
      if (load !== undefined) paid.add(load.id);
      const crop = row.stays.find(({ lotId }) => lotId === event.lotId)?.crop ?? "barley";
      const [doing, hazard] = WHERE[event.kind]!;
      return {
        row,
        event,
        hazard,
        must: must !== undefined,
        cells: [
          must === undefined ? "" : <b key="by">{must.words.by}</b>,
          shortDay(event.day),
          event.letter,
          grain(event.massG, year.units, crop),
          row.name,
          to === "" ? doing : doing === "over to" ? `${doing} ${to}` : `${doing}, ${to}`,
          must?.words.comes ?? "",
          brings,
          event.standing,
        ],
      };
    });
}

const WHERE: Readonly<Record<string, readonly [doing: string, hazard: HazardousKind]>> = {
  feed: ["to feed", "feed load"],
  "moved out": ["over to", "move"],
  seed: ["for seed", "seed"],
  sold: ["sold", "grain sale"],
};

/** A caution under the cell it belongs to. */
export function withCaution(cell: Cell, caution: string): VNode {
  return (
    <>
      {cell}
      <span class="caution">{caution}</span>
    </>
  );
}
