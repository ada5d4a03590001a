import { dayNumber } from "../calendar.ts";
import { clockDay, type Journal } from "./journal.ts";
import type { Edge, Graph, Node, NodeKind } from "./trace.ts";
import { dayWords, listWords, nameWords, shortMaltWords, stretchWords } from "./words.ts";

/** Collects nodes and edges; an edge to something unknown makes no node. */
class GraphMaker {
  readonly nodes = new Map<string, Node>();
  readonly edges: Edge[] = [];

  put(kind: NodeKind, refId: string, rest: Omit<Node, "id" | "kind" | "refId">): void {
    const id = nodeId(kind, refId);
    if (!this.nodes.has(id)) this.nodes.set(id, { id, kind, refId, ...rest });
  }

  join(from: string, to: string, massG: number, day: number): void {
    this.edges.push({ from, to, massG, day });
  }
}

/** The node of a thing: `run:run-14`, `bought-grain:contract-2`. */
export function nodeId(kind: NodeKind, refId: string): string {
  return `${kind.replace(" ", "-")}:${refId}`;
}

/** Everything that became something else, from the plantings to the brews. */
export function graphOf(journal: Journal): Graph {
  const maker = new GraphMaker();
  putGrain(journal, maker);
  putRuns(journal, maker);
  putMalt(journal, maker);
  putBrews(journal, maker);
  putLeavings(journal, maker);
  const edges = maker.edges.filter((one) => maker.nodes.has(one.from) && maker.nodes.has(one.to));
  return { units: journal.season.readerUnits, nodes: [...maker.nodes.values()], edges };
}

const plain = { place: null, massG: 0, homeShare: null };

function putGrain({ season, fills }: Journal, maker: GraphMaker): void {
  const storeOf = (lotId: string) =>
    season.opening.grain.find((one) => one.lotId === lotId)?.storeId ??
      fills.find((one) => one.lotId === lotId)?.storeId ??
      season.records.mixes.find((one) => one.intoLotId === lotId)?.storeId ?? null;

  for (const planting of season.plantings) {
    const tickets = season.weighTickets.filter((one) => one.plantingId === planting.id);
    const names = listWords(
      planting.fieldIds.map((id) => season.fields.find((one) => one.id === id)?.name ?? id),
    );
    const cutOn = tickets[0]?.on ?? planting.harvest.likely;
    const day = dayNumber(cutOn);
    const when = tickets.length > 0
      ? `cut ${dayWords(day)}`
      : planting.state === "harvested"
      ? `cut about ${dayWords(day)}`
      : `to be cut about ${dayWords(day)}`;
    const massG = tickets.length > 0
      ? tickets.reduce((sum, one) => sum + one.massG, 0)
      : Math.round(planting.areaM2 / 10_000 * planting.yieldKgPerHa.likely * 1000);
    maker.put("planting", planting.id, { ...plain, day, label: `${names}, ${when}`, massG });
    const byLot = new Map<string, number>();
    for (const one of tickets) byLot.set(one.lotId, (byLot.get(one.lotId) ?? 0) + one.massG);
    const parents = season.lots.filter((lot) =>
      lot.parents.some((one) => one.kind === "planting" && one.plantingId === planting.id)
    );
    if (byLot.size === 0) {
      for (const lot of parents.length > 0 ? parents : [{ id: planting.lotId }]) byLot.set(lot.id, massG);
    }
    for (const [lotId, weighedG] of byLot) {
      maker.join(nodeId("planting", planting.id), nodeId("lot", lotId), weighedG, day);
    }
  }

  for (const lot of season.lots) {
    const day = dayNumber(lot.formedOn);
    const lay = season.opening.grain.filter((one) => one.lotId === lot.id);
    const came = fills.filter((one) => one.lotId === lot.id);
    maker.put("lot", lot.id, {
      ...plain,
      day: lay.length === 0 && came.length > 0 ? came[0]!.day : day,
      label: `lot ${lot.letter}`,
      place: storeOf(lot.id),
      massG: [...lay, ...came].reduce((sum, one) => sum + one.massG, 0),
    });
    const mixed = season.records.mixes.some((one) => one.intoLotId === lot.id);
    for (const parent of lot.parents) {
      if (parent.kind === "lot" && !mixed) {
        maker.join(nodeId("lot", parent.lotId), nodeId("lot", lot.id), parent.massG, day);
      }
      if (parent.kind === "bought") {
        maker.put("bought grain", lot.id, { ...plain, day, label: `bought of ${nameWords(parent.from)}` });
        maker.join(nodeId("bought grain", lot.id), nodeId("lot", lot.id), 0, day);
      }
    }
  }
  for (const mix of season.records.mixes) {
    const day = dayNumber(mix.on);
    const massG = mix.parents.reduce((sum, one) => sum + one.massG, 0);
    maker.put("mix", mix.id, { ...plain, day, label: `mixed ${dayWords(day)}`, place: mix.storeId, massG });
    for (const one of mix.parents) {
      maker.join(nodeId("lot", one.lotId), nodeId("mix", mix.id), one.massG, day);
    }
    maker.join(nodeId("mix", mix.id), nodeId("lot", mix.intoLotId), massG, day);
  }
}

function putRuns(journal: Journal, maker: GraphMaker): void {
  journal.runs.forEach((run, at) => {
    const day = clockDay(run.steepInAt);
    const id = nodeId("run", run.id);
    maker.put("run", run.id, {
      ...plain,
      day,
      label: run.standing === "dumped" ? `run ${at + 1}, dumped` : `run ${at + 1}`,
      place: run.vesselIds.steep,
      massG: run.draws.reduce((sum, one) => sum + one.massG, 0),
    });
    for (const draw of run.draws) maker.join(nodeId("lot", draw.lotId), id, draw.massG, day);
    for (const out of run.outputs) {
      maker.join(id, nodeId("batch", out.batchId), out.massG, clockDay(run.endAt));
    }
  });
}

function putMalt(journal: Journal, maker: GraphMaker): void {
  const { season, batches } = journal;
  for (const batch of batches.values()) {
    const name = season.maltTypes.find((one) => `malt:${one.id}` === batch.key)?.name;
    const label = name === undefined ? batch.key.slice("grain:".length) : shortMaltWords(name);
    const day = Number.isFinite(batch.readyDay) ? Math.max(batch.readyDay, journal.firstDay) : batch.inDay;
    maker.put("batch", batch.id, { ...plain, day, label, massG: batch.massG });
    if (batch.source === "opening") {
      const known = journal.runs.some((run) => run.outputs.some((one) => one.batchId === batch.id));
      // Malt that was there at the opening names its lots; how much of each is in it is not known, so they share evenly.
      for (const lotId of known ? [] : batch.lotIds) {
        const partG = batch.massG / batch.lotIds.length;
        maker.join(nodeId("lot", lotId), nodeId("batch", batch.id), partG, batch.inDay);
      }
    }
  }
  for (const order of journal.orders) {
    const offer = season.supplyOffers.find((one) => one.id === order.offerId);
    const label = `${nameWords(offer?.supplier ?? "bought")}, ordered ${dayWords(order.orderDay)}`;
    maker.put("order", order.id, { ...plain, day: order.orderDay, label, massG: order.massG });
    maker.join(nodeId("order", order.id), nodeId("batch", order.batchId), order.massG, order.arriveDay);
  }
  for (const drum of journal.plan?.drums ?? []) {
    const day = dayNumber(drum.on);
    maker.put("drum", drum.id, { ...plain, day, label: `drum ${dayWords(day)}`, massG: drum.massG });
    for (const one of drum.from) {
      maker.join(nodeId("batch", one.batchId), nodeId("drum", drum.id), one.massG, day);
    }
    maker.join(nodeId("drum", drum.id), nodeId("batch", drum.batchId), drum.massG, day);
  }
}

function putBrews(journal: Journal, maker: GraphMaker): void {
  for (const fact of journal.brews) {
    const id = nodeId("brew", fact.brew.id);
    const massG = fact.grist.reduce((sum, use) => sum + use.massG, 0);
    maker.put("brew", fact.brew.id, {
      ...plain,
      day: fact.day,
      label: `${fact.beer.name} ${dayWords(fact.day)}`,
      massG,
      homeShare: fact.made && fact.grist.length > 0 ? fact.homeShare : null,
    });
    for (const use of fact.grist) {
      const from = use.from.kind === "batch"
        ? nodeId("batch", use.from.batchId)
        : nodeId("lot", use.from.lotId);
      maker.join(from, id, use.massG, fact.day);
    }
  }
}

function putLeavings(journal: Journal, maker: GraphMaker): void {
  const { season } = journal;
  for (const load of journal.feedLoads) {
    const buyer = season.feedPickups.find((one) => one.id === load.pickupId)?.buyer ?? "a buyer";
    const massG = load.items.reduce((sum, one) => sum + one.massG, 0);
    const label = `feed to ${nameWords(buyer)} ${dayWords(load.day)}`;
    maker.put("feed", load.id, { ...plain, day: load.day, label, massG });
    for (const one of load.items) {
      maker.join(nodeId("lot", one.lotId), nodeId("feed", load.id), one.massG, load.day);
    }
  }
  for (const seed of journal.seed) {
    const { day, massG } = seed;
    maker.put("seed", seed.refId, { ...plain, day, label: `seed ${dayWords(day)}`, massG });
    maker.join(nodeId("lot", seed.lotId), nodeId("seed", seed.refId), massG, day);
  }
  const parts = [
    ...journal.grainSales.map(({ refId, day, lotId, massG }) => ({
      contractId: refId,
      day,
      from: nodeId("lot", lotId),
      massG,
    })),
    ...journal.maltSales.flatMap(({ contractId, day, from }) =>
      from.map(({ batchId, massG }) => ({ contractId, day, from: nodeId("batch", batchId), massG }))
    ),
  ].toSorted((a, b) => a.day - b.day);
  for (const contractId of new Set(parts.map((one) => one.contractId))) {
    // A contract may be met in parts, out of several stores or on several days: it is one sale.
    const own = parts.filter((one) => one.contractId === contractId);
    const { day } = own[0]!;
    const party = season.contracts.find((one) => one.id === contractId)?.party ?? "a customer";
    const label = `sold to ${nameWords(party)} ${stretchWords(day, own.at(-1)!.day)}`;
    const massG = own.reduce((sum, one) => sum + one.massG, 0);
    maker.put("sale", contractId, { ...plain, day, label, massG });
    for (const one of own) maker.join(one.from, nodeId("sale", contractId), one.massG, one.day);
  }
}
