import type { VNode } from "preact";
import type { HazardousKind } from "../../core/cautions.ts";
import { grain, money, shortDay } from "../../islands/_charts/words.ts";
import { Cautions, gravest } from "./cautions.tsx";
import { type Cell, Part } from "./tables.tsx";
import type { YearView } from "./view.ts";

/** Grain that leaves its bin otherwise than into the steep: feed loads, moves, seed and sales. */
export function Leaving({ view }: { view: YearView }): VNode {
  const { season, year, plan } = view;
  const urgent = new Map(
    year.stores.flatMap(({ mustLeave }) => mustLeave.map((one) => [`${one.refId} ${one.storeId}`, one])),
  );
  const revenue = new Map((plan?.feedLoads ?? []).map((load) => [load.id, load.revenueCents]));
  const buyer = new Map(
    (plan?.feedLoads ?? []).map((load) => [
      load.id,
      season.feedPickups.find(({ id }) => id === load.pickupId)?.buyer,
    ]),
  );
  const names = new Map(year.stores.map(({ id, name }) => [id, name]));
  const seen = new Set<string>();
  const kinds: HazardousKind[] = [];
  const rows = year.stores.flatMap((row) => row.departures.map((event) => ({ row, event })))
    .filter(({ event }) =>
      event.standing !== "done" && event.day <= year.lastDay && event.day >= Math.floor(year.asOf) &&
      WHERE[event.kind] !== undefined
    )
    .toSorted((a, b) => a.event.day - b.event.day)
    .map(({ row, event }): Cell[] => {
      const must = urgent.get(`${event.refId} ${row.id}`);
      const crop = row.stays.find(({ lotId }) => lotId === event.lotId)?.crop ?? "barley";
      const to = event.kind === "moved out"
        ? names.get(event.otherStoreId ?? "") ?? "another store"
        : buyer.get(event.refId) ?? "";
      const first = !seen.has(event.refId);
      seen.add(event.refId);
      kinds.push(HAZARD[event.kind] ?? "bin draw");
      const cautioned = must !== undefined && !seen.has("bin clean by");
      if (cautioned) seen.add("bin clean by");
      return [
        must === undefined
          ? shortDay(event.day)
          : <b key="by">{`by ${must.forecast ? "about " : ""}${shortDay(must.byDay)}`}</b>,
        `lot ${event.letter}`,
        grain(event.massG, year.units, crop),
        row.name,
        `${WHERE[event.kind]}${to === "" ? "" : `, ${to}`}`,
        must === undefined ? "" : (
          <>
            {`makes room for lot ${must.nextLetter}, which comes ${must.forecast ? "about " : ""}${
              shortDay(must.nextDay)
            }`}
            {cautioned && <span class="caution">{gravest("bin clean by")}</span>}
          </>
        ),
        first && revenue.has(event.refId) ? money(revenue.get(event.refId)!, season.currency) : "",
      ];
    });
  return (
    <Part
      title="Out of the bins"
      wide
      columns={[
        { name: "When" },
        { name: "Lot" },
        { name: "Weight as in bin", number: true },
        { name: "Out of" },
        { name: "Where" },
        { name: "Why then", prose: true },
        { name: "Load brings", number: true },
      ]}
      rows={rows}
      none="Nothing has to be moved, fed or sold."
    >
      <Cautions title="Where grain is moved, fed or sold" kinds={[...new Set(kinds)]} />
    </Part>
  );
}

const HAZARD: Readonly<Record<string, HazardousKind>> = {
  feed: "feed load",
  "moved out": "move",
  seed: "seed",
  sold: "grain sale",
};

const WHERE: Readonly<Record<string, string>> = {
  feed: "to feed",
  "moved out": "over to",
  seed: "for seed",
  sold: "sold",
};
