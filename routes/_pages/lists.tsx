import type { VNode } from "preact";
import { formatDay } from "../../core/calendar.ts";
import { capital, fromTo, grain, malt, money, percent, shortDay } from "../../islands/_charts/words.ts";
import type { HazardousKind } from "../../core/cautions.ts";
import { Cautions, gravest } from "./cautions.tsx";
import { type Cell, Part } from "./tables.tsx";
import type { YearView } from "./view.ts";

/** What the year falls short of: when, how much, and the first cause. */
export function Shortfalls({ view }: { view: YearView }): VNode {
  const { shortfalls, year } = view;
  return (
    <Part
      title="What falls short"
      wide
      columns={[{ name: "When" }, { name: "Missing", number: true }, { name: "What, and the first cause", prose: true }]}
      rows={shortfalls.map((one) => [
        fromTo(one.fromDay, one.toDay),
        one.massG > 0 ? malt(one.massG, year.units) : `${one.brewIds.length} ${one.brewIds.length === 1 ? "brew" : "brews"}`,
        one.sentence,
      ])}
      none="Nothing: every brew is made, and home malt lasts."
    />
  );
}

/** Everything to order, in order of the last day to do so. */
export function Orders({ view }: { view: YearView }): VNode {
  const { season, year } = view;
  const orders = year.malt.rows.flatMap((row) => row.orders.map((order) => ({ ...order, name: row.name })))
    .filter(({ standing }) => standing !== "done").toSorted((a, b) => a.orderDay - b.orderDay);
  return (
    <Part
      title="To order"
      wide
      columns={[{ name: "Order by" }, { name: "What" }, { name: "Packs", number: true }, { name: "Weight", number: true }, { name: "From" }, { name: "Arrives" }, { name: "Costs", number: true }, { name: "Stands" }]}
      rows={orders.map((one) => [
        shortDay(one.orderDay),
        one.name,
        one.packs,
        malt(one.massG, year.units),
        one.supplier,
        shortDay(one.arriveDay),
        money(one.costCents, season.currency),
        one.standing,
      ])}
      none="Nothing has to be ordered."
    >
      {orders.length > 0 && <Cautions title="Where orders come in" kinds={["order"]} />}
    </Part>
  );
}

/** Grain that leaves its bin otherwise than into the steep: feed loads, moves, seed and sales. */
export function Leaving({ view }: { view: YearView }): VNode {
  const { season, year, plan } = view;
  const urgent = new Map(year.stores.flatMap(({ mustLeave }) => mustLeave.map((one) => [`${one.refId} ${one.storeId}`, one])));
  const revenue = new Map((plan?.feedLoads ?? []).map((load) => [load.id, load.revenueCents]));
  const buyer = new Map((plan?.feedLoads ?? []).map((load) => [load.id, season.feedPickups.find(({ id }) => id === load.pickupId)?.buyer]));
  const names = new Map(year.stores.map(({ id, name }) => [id, name]));
  const seen = new Set<string>();
  const kinds: HazardousKind[] = [];
  const rows = year.stores.flatMap((row) => row.departures.map((event) => ({ row, event })))
    .filter(({ event }) => event.standing !== "done" && event.day <= year.lastDay && event.day >= Math.floor(year.asOf) && WHERE[event.kind] !== undefined)
    .toSorted((a, b) => a.event.day - b.event.day)
    .map(({ row, event }): Cell[] => {
      const must = urgent.get(`${event.refId} ${row.id}`);
      const crop = row.stays.find(({ lotId }) => lotId === event.lotId)?.crop ?? "barley";
      const to = event.kind === "moved out" ? names.get(event.otherStoreId ?? "") ?? "another store" : buyer.get(event.refId) ?? "";
      const first = !seen.has(event.refId);
      seen.add(event.refId);
      kinds.push(HAZARD[event.kind] ?? "bin draw");
      const cautioned = must !== undefined && !seen.has("bin clean by");
      if (cautioned) seen.add("bin clean by");
      return [
        must === undefined ? shortDay(event.day) : <b>{`by ${must.forecast ? "about " : ""}${shortDay(must.byDay)}`}</b>,
        `lot ${event.letter}`,
        grain(event.massG, year.units, crop),
        row.name,
        `${WHERE[event.kind]}${to === "" ? "" : `, ${to}`}`,
        must === undefined ? "" : (
          <>
            {`makes room for lot ${must.nextLetter}, which comes ${must.forecast ? "about " : ""}${shortDay(must.nextDay)}`}
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
      columns={[{ name: "When" }, { name: "Lot" }, { name: "Weight as in bin", number: true }, { name: "Out of" }, { name: "Where" }, { name: "Why then", prose: true }, { name: "Load brings", number: true }]}
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

const WHERE: Readonly<Record<string, string>> = { feed: "to feed", "moved out": "over to", seed: "for seed", sold: "sold" };

/** How much of its open time each vessel is taken, and when it is the limit. */
export function Vessels({ view }: { view: YearView }): VNode {
  const { year } = view;
  return (
    <Part
      title="Use of the vessels"
      about="Share of the open time that is taken, cleaning included."
      columns={[{ name: "Vessel" }, { name: "So far", number: true }, { name: "Ahead", number: true }, { name: "Where it is the limit", prose: true }]}
      rows={year.malthouse.vessels.map((vessel) => [
        vessel.name,
        vessel.useSoFar === null ? "" : percent(vessel.useSoFar),
        vessel.useAhead === null ? "" : percent(vessel.useAhead),
        vessel.full.map(({ text }) => capital(text)).join("; "),
      ])}
      none="The farm has no vessels."
    />
  );
}

/** What the plan costs and brings, part by part. */
export function Money({ view }: { view: YearView }): VNode {
  const { plan, season } = view;
  const parts = plan === null ? [] : [
    ["Runs in the malthouse", plan.goals.money.runsCents],
    ["Orders, packs and freight", plan.goals.money.ordersCents],
    ["Moves from bin to bin", plan.goals.money.movesCents],
    ["Night turns", plan.goals.money.nightTurnsCents],
    ["Hours beyond the roster", plan.goals.money.extraHoursCents],
    ["Feed loads, less haulage", plan.goals.money.feedCents],
    ["Sales under contract", plan.goals.money.salesCents],
    ["Grain left at the end, at its feed price", plan.goals.money.endGrainCents],
    ["Stated price of days below the reserve", plan.goals.money.reserveCents],
    ["Stated price of changed runs", plan.goals.money.changedRunsCents],
  ] as const;
  const shown = parts.filter(([, cents]) => cents !== 0);
  return (
    <Part
      title="Money"
      about="What the plan can still change, from now to twelve weeks past the last day shown; a minus sign brings money."
      columns={[{ name: "For" }, { name: season.currency, number: true }]}
      rows={plan === null ? [] : [...shown.map(([name, cents]) => [name, figure(cents)]), [<b>Together</b>, <b>{figure(plan.goals.moneyCents)}</b>]]}
      none=""
    />
  );
}

function figure(cents: number): string {
  return `${cents < 0 ? "−" : ""}${Math.round(Math.abs(cents) / 100).toLocaleString("en-US")}`;
}

/** What the season check warns of; errors never get this far with a plan. */
export function Warnings({ view }: { view: YearView }): VNode {
  const { findings, season, plan } = view;
  const broken = (plan?.cannotKeep ?? []).map((one): Cell[] => [`${one.kind} ${one.id} cannot be kept`, one.why, ""]);
  return (
    <Part
      title="Look at this in the season"
      about={`${season.bookValues.length} of the values behind this page are book values: published figures that the farm has not replaced yet.`}
      columns={[{ name: "What", prose: true }, { name: "Why it matters", prose: true }, { name: "What to do", prose: true }]}
      rows={[...broken, ...findings.map((one): Cell[] => [one.thing, one.message, one.wayOut])]}
      none="The season check found nothing to warn of."
    />
  );
}

/** The day a plan was made for, in words. */
export function madeFor(asOf: string): string {
  return `${formatDay(asOf.slice(0, 10), "en-US", "long")}, ${asOf.slice(11)}`;
}
