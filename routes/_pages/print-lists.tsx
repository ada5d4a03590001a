import type { VNode } from "preact";
import { formatDay, isoDate } from "../../core/calendar.ts";
import { fromTo, grain, malt, money, shortDay } from "../../islands/_charts/words.ts";
import { Cautions } from "./cautions.tsx";
import { Part } from "./tables.tsx";
import type { YearView } from "./view.ts";

/** Days ahead whose steeps stand on the sheet. */
const STEEP_DAYS = 28;

/** The second sheet: what falls short, orders, loads and moves, and the steeps of the next four weeks. */
export function PrintLists({ view }: { view: YearView }): VNode {
  return (
    <>
      <Short view={view} />
      <Orders view={view} />
      <Loads view={view} />
      <Steeps view={view} />
    </>
  );
}

function Short({ view }: { view: YearView }): VNode {
  return (
    <Part
      title="What falls short"
      columns={[{ name: "When" }, { name: "What, and the first cause", prose: true }]}
      rows={view.shortfalls.map((one) => [fromTo(one.fromDay, one.toDay), one.sentence])}
      none={view.plan === null ? "Known once there is a plan." : "Nothing."}
    />
  );
}

function Orders({ view: { year, season } }: { view: YearView }): VNode {
  const orders = year.malt.rows.flatMap((row) => row.orders.map((order) => ({ ...order, name: row.name })))
    .filter(({ standing }) => standing !== "done").toSorted((a, b) => a.orderDay - b.orderDay);
  return (
    <Part
      title="Orders"
      columns={[
        { name: "Order by" },
        { name: "What" },
        { name: "Weight", number: true },
        { name: "From", prose: true },
        { name: "Arrives" },
        { name: "Costs", number: true },
      ]}
      rows={orders.map((one) => [
        shortDay(one.orderDay),
        `${one.name}, ${one.packs} packs`,
        malt(one.massG, year.units),
        one.supplier,
        shortDay(one.arriveDay),
        money(one.costCents, season.currency),
      ])}
      none="Nothing has to be ordered."
    />
  );
}

function Loads({ view: { year } }: { view: YearView }): VNode {
  const must = new Set(
    year.stores.flatMap(({ mustLeave }) => mustLeave.map(({ refId, storeId }) => `${refId} ${storeId}`)),
  );
  const names = new Map(year.stores.map(({ id, name }) => [id, name]));
  const events = year.stores.flatMap((row) => row.departures.map((event) => ({ row, event })))
    .filter(({ event }) =>
      ["feed", "moved out", "sold", "seed"].includes(event.kind) && event.standing !== "done" &&
      event.day >= Math.floor(year.asOf) && event.day <= year.lastDay
    )
    .toSorted((a, b) => a.event.day - b.event.day);
  return (
    <Part
      title="Loads and moves"
      columns={[{ name: "Day" }, { name: "Lot" }, { name: "As in bin", number: true }, {
        name: "From, and where",
        prose: true,
      }]}
      rows={events.map(({ row, event }) => {
        const urgent = must.has(`${event.refId} ${row.id}`);
        const where = event.kind === "moved out"
          ? `over to ${names.get(event.otherStoreId ?? "") ?? "another store"}`
          : event.kind === "feed"
          ? "to feed"
          : event.kind === "seed"
          ? "for seed"
          : "sold";
        const crop = row.stays.find(({ lotId }) => lotId === event.lotId)?.crop ?? "barley";
        return [
          urgent ? <b key="day">{shortDay(event.day)}</b> : shortDay(event.day),
          event.letter,
          grain(event.massG, year.units, crop),
          `${row.name}, ${where}${urgent ? ", must leave" : ""}`,
        ];
      })}
      none="Nothing leaves the bins but for the steep."
    >
      {events.length > 0 && <Cautions title="Where bins are emptied" kinds={["bin clean by"]} />}
    </Part>
  );
}

function Steeps({ view: { year } }: { view: YearView }): VNode {
  const today = Math.floor(year.asOf);
  const runs = year.malthouse.runs.filter(({ stages }) => {
    const start = stages[0]?.start ?? 0;
    return start >= today && start < today + STEEP_DAYS;
  });
  const clock = (day: number) => {
    const minutes = Math.round((day - Math.floor(day)) * 1440);
    return `${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, "0")}`;
  };
  const when = (day: number) =>
    `${formatDay(isoDate(Math.floor(day)), "en-US", "long").slice(0, 3)} ${shortDay(day)}, ${clock(day)}`;
  return (
    <Part
      title="Steeps of the next four weeks"
      columns={[{ name: "Steep in" }, { name: "Run" }, { name: "Draw", number: true }, { name: "Malt" }, {
        name: "Strip",
      }, { name: "Stands" }]}
      rows={runs.map((run) => [
        when(run.stages[0]?.start ?? 0),
        `${run.number}, lot ${run.letters}`,
        grain(run.drawnG, year.units, run.crop),
        run.maltName,
        when(run.stages.at(-1)?.end ?? 0),
        run.standing,
      ])}
      none="No steep is planned in these weeks."
    >
      {runs.length > 0 && <Cautions title="At steep, bed and kiln" kinds={["steep", "kiln night"]} />}
    </Part>
  );
}
