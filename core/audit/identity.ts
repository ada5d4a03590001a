/** Does the plan belong to this season, and does everything it names exist and stand once? */
import type { Standing } from "../plan/plan.ts";
import { instant } from "../zone.ts";
import { type Breach, breach } from "./breach.ts";
import type { Context } from "./context.ts";

function origin({ season, plan, asOf, zone }: Context): Breach[] {
  const found: Breach[] = [];
  if (plan.seasonId !== season.id) {
    const message = `The plan was made for the season "${plan.seasonId}", not for "${season.id}".`;
    found.push(breach("plan-season", plan.seasonId, null, plan.seasonId, season.id, message));
  }
  if (asOf < instant(zone, season.asOf)) {
    const message = `The plan was made for ${plan.asOf}, but the season's records reach to ${season.asOf}.`;
    found.push(breach("plan-as-of", season.id, null, plan.asOf, `${season.asOf} or later`, message));
  }
  return found;
}

function repeated(kind: string, ids: readonly string[], taken: ReadonlySet<string> = new Set()): Breach[] {
  const seen = new Set<string>(), found: Breach[] = [];
  for (const id of ids) {
    if (seen.has(id) || taken.has(id)) {
      const message = `The ${kind} id "${id}" is used more than once; every ${kind} needs its own.`;
      found.push(breach("duplicate-id", id, null, "used again", "used once", message));
    }
    seen.add(id);
  }
  return found;
}

function duplicates({ season, plan, underWay, recordedOrders }: Context): Breach[] {
  const { records, opening } = season;
  const over = records.runs.filter((run) => !underWay.has(run.id)).map((run) => run.id);
  const known = [
    ...opening.malt.map((batch) => batch.id),
    ...records.runs.filter((run) => !underWay.has(run.id)).flatMap((run) =>
      run.outputs.map((out) => out.batchId)
    ),
    ...records.orders.map((order) => order.batchId),
  ];
  const fresh = plan.orders.filter((order) => !recordedOrders.has(order.id));
  return [
    ...repeated("run", plan.runs.map((run) => run.id), new Set(over)),
    ...repeated("drum load", plan.drums.map((drum) => drum.id)),
    ...repeated("order", plan.orders.map((order) => order.id)),
    ...repeated("move", plan.moves.map((move) => move.id), new Set(records.moves.map((move) => move.id))),
    ...repeated(
      "feed load",
      plan.feedLoads.map((load) => load.id),
      new Set(records.feedLoads.map((load) => load.id)),
    ),
    ...repeated("batch", [
      ...plan.runs.flatMap((run) => run.outputs.map((out) => out.batchId)),
      ...plan.drums.map((drum) => drum.batchId),
      ...fresh.map((order) => order.batchId),
    ], new Set(known)),
  ];
}

function unknowns(ctx: Context): Breach[] {
  const { plan, season, lots, stores, vessels, malts, beers, tanks, offers, contracts, pickups } = ctx;
  const found: Breach[] = [];
  const need = (known: boolean, kind: string, id: string, thing: string) => {
    if (known) return;
    const message = `${thing} names the ${kind} "${id}", which the season does not have.`;
    found.push(breach("unknown-id", id, null, `${kind} ${id}`, `a ${kind} of the season`, message));
  };
  const lot = (id: string, thing: string) => need(lots.has(id), "lot", id, thing);
  const store = (id: string, thing: string) => need(stores.has(id), "store", id, thing);
  const batch = (id: string, thing: string) => need(ctx.malt.batches.has(id), "batch", id, thing);
  const inStore = (item: { lotId: string; storeId: string }, thing: string) => {
    lot(item.lotId, thing);
    store(item.storeId, thing);
  };
  for (const { run, malt, made, profile } of ctx.runs) {
    const thing = `Run ${run.id}`;
    run.draws.forEach((draw) => inStore(draw, thing));
    need(malt !== undefined, "malt", run.maltId, thing);
    need(made === undefined || profile !== undefined, "profile", run.profileId, thing);
    Object.values(run.vesselIds).forEach((id) => need(vessels.has(id), "vessel", id, thing));
    run.outputs.forEach((out) => need(malts.has(out.maltId), "malt", out.maltId, thing));
  }
  for (const drum of plan.drums) {
    need(malts.has(drum.maltId), "malt", drum.maltId, `Drum load ${drum.id}`);
    drum.from.forEach((item) => batch(item.batchId, `Drum load ${drum.id}`));
  }
  for (const brew of plan.brews) {
    const thing = `Brew ${brew.id}`, lines = beers.get(brew.beerId)?.grist;
    need(lines !== undefined, "beer", brew.beerId, thing);
    brew.tanks.forEach((tank) => need(tanks.has(tank.tankId), "tank", tank.tankId, thing));
    for (const { lineId, from } of brew.grist) {
      need(
        lines === undefined || lines.some((line) => line.id === lineId),
        "line of the grist",
        lineId,
        thing,
      );
      if (from.kind === "batch") batch(from.batchId, thing);
      else inStore(from, thing);
    }
  }
  const contract = (id: string, kind: "sell-grain" | "sell-malt", thing: string) =>
    need(contracts.get(id)?.kind === kind, `${kind} contract`, id, thing);
  for (const delivery of plan.maltDeliveries) {
    contract(delivery.contractId, "sell-malt", "A malt delivery");
    delivery.from.forEach((item) => batch(item.batchId, `The delivery under ${delivery.contractId}`));
  }
  for (const delivery of plan.grainDeliveries) {
    contract(delivery.contractId, "sell-grain", "A grain delivery");
    inStore(delivery, `The delivery under ${delivery.contractId}`);
  }
  plan.unsold.forEach((item) => {
    const kind = contracts.get(item.contractId)?.kind;
    need(
      kind === "sell-grain" || kind === "sell-malt",
      "contract to sell",
      item.contractId,
      "An unsold entry",
    );
  });
  plan.orders.forEach((order) =>
    need(offers.has(order.offerId), "offer", order.offerId, `Order ${order.id}`)
  );
  plan.fills.forEach((fill) => inStore(fill, "A fill"));
  plan.leftOut.forEach((item) => lot(item.lotId, "Grain left out"));
  plan.moves.forEach((move) => {
    inStore({ lotId: move.lotId, storeId: move.fromStoreId }, `Move ${move.id}`);
    store(move.toStoreId, `Move ${move.id}`);
  });
  plan.feedLoads.forEach((load) => {
    need(pickups.has(load.pickupId), "pick-up", load.pickupId, `Feed load ${load.id}`);
    load.items.forEach((item) => inStore(item, `Feed load ${load.id}`));
  });
  plan.seedTaken.forEach((item) => {
    const known = season.seedReserves.some((reserve) => reserve.id === item.reserveId);
    need(known, "seed reserve", item.reserveId, "Seed taken");
    inStore(item, `Seed for ${item.reserveId}`);
  });
  const booked = bookedIds(ctx);
  plan.cannotKeep.forEach(({ kind, id }) =>
    need(booked[kind].has(id), `booked ${kind}`, id, "The list of bookings that cannot be kept")
  );
  return found;
}

/** Ids of all bookings, by the kinds that a plan names. */
function bookedIds({ season }: Context) {
  const { bookings } = season;
  return {
    run: new Set(bookings.runs.map((run) => run.id)),
    brew: new Set(bookings.brews.map((brew) => brew.brewId)),
    order: new Set(bookings.orders.map((order) => order.id)),
    "feed load": new Set(bookings.feedLoads.map((load) => load.id)),
    move: new Set(bookings.moves.map((move) => move.id)),
  };
}

function standings(ctx: Context): Breach[] {
  const { plan, underWay, recordedOrders } = ctx;
  const booked = bookedIds(ctx), none = new Set<string>();
  const found: Breach[] = [];
  const judge = (
    kind: keyof typeof booked,
    things: readonly { id: string; standing: Standing }[],
    begun: { has(id: string): boolean },
  ) => {
    for (const { id, standing } of things) {
      const isBegun = begun.has(id), isBooked = !isBegun && booked[kind].has(id);
      // A booking that cannot be kept leaves its brew free to be made on another day.
      const mayBeFree = kind === "brew" &&
        plan.cannotKeep.some((item) => item.kind === "brew" && item.id === id);
      const should: Standing = isBegun ? "under way" : isBooked ? "booked" : "not booked";
      if (standing === should || (standing === "not booked" && mayBeFree)) continue;
      const message = `The ${kind} ${id} is called "${standing}" in the plan, but it is ${should}.`;
      found.push(breach("standing", id, null, standing, should, message));
    }
  };
  judge("run", plan.runs, underWay);
  judge("brew", plan.brews, none);
  judge("order", plan.orders, recordedOrders);
  judge("feed load", plan.feedLoads, none);
  judge("move", plan.moves, none);
  return found;
}

/** Season, as-of, ids and standings. */
export function identity(ctx: Context): Breach[] {
  return [...origin(ctx), ...duplicates(ctx), ...unknowns(ctx), ...standings(ctx)];
}
