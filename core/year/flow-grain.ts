import { dateOf, dayNumber } from "../calendar.ts";
import { forecastMassG } from "../season/forecast.ts";
import type { Planting } from "../season/land.ts";
import type { YearParts } from "./draw.ts";
import { forecastCutG } from "./fields.ts";
import type { FlowMaker } from "./flow.ts";
import type { RunFact } from "./journal-runs.ts";
import { dayWords, listWords, shortMaltWords } from "./words.ts";

/** Field to lot to run: everything that happens to grain until it is malt, raw grist, feed, seed or still there. */
export function flowGrain(parts: YearParts, maker: FlowMaker): void {
  const { journal, changes, grain } = parts;
  const { season, firstDay, lastDay } = journal;
  const lots = new Map(season.lots.map((lot) => [lot.id, lot]));
  const dry = (lotId: string, massG: number) => massG * (1 - (lots.get(lotId)?.moistureWb ?? 0));
  const lotNode = (lotId: string) =>
    maker.node(`lot:${lotId}`, `lot ${lots.get(lotId)?.letter ?? lotId}`, "lot");

  const opening = maker.node("opening-grain", `in store on ${dayWords(firstDay)}`, "source");
  for (const lay of season.opening.grain) {
    maker.link(opening, lotNode(lay.lotId), dry(lay.lotId, lay.massG), lay.massG);
  }
  flowHarvest(parts, maker, lotNode, dry);

  const ends = {
    feed: maker.node("feed", "to feed", "end"),
    seed: maker.node("seed", "seed", "end"),
    sold: maker.node("sold-grain", "grain sold", "end"),
    lost: maker.node("moving", "lost in moving", "loss"),
    less: maker.node("counted-less", "counted less than the book", "loss"),
    more: maker.node("counted-more", "counted more than the book", "source"),
    left: maker.node("left-grain", `in store on ${dayWords(lastDay)}`, "end"),
  };
  for (const { day, kind, lotId, deltaG, refId } of changes) {
    if (day > lastDay) continue;
    const from = lotNode(lotId);
    const massG = Math.abs(deltaG);
    if (kind === "feed") maker.link(from, ends.feed, dry(lotId, massG), massG);
    if (kind === "seed") maker.link(from, ends.seed, dry(lotId, massG), massG);
    if (kind === "sold") maker.link(from, ends.sold, dry(lotId, massG), massG);
    if (kind === "counted" && deltaG < 0) maker.link(from, ends.less, dry(lotId, massG), massG);
    if (kind === "counted" && deltaG > 0) maker.link(ends.more, from, dry(lotId, massG), massG);
    if (kind === "mixed out") {
      const into = season.records.mixes.find((one) => one.id === refId)?.intoLotId;
      if (into !== undefined) maker.link(from, lotNode(into), dry(lotId, massG), massG);
    }
  }
  for (const move of journal.moves) {
    if (move.day <= lastDay) {
      maker.link(lotNode(move.lotId), ends.lost, dry(move.lotId, move.lossG), move.lossG);
    }
  }
  for (const lot of season.lots) {
    const leftG = grain.at(lot.id, lastDay);
    if (leftG > 0) maker.link(lotNode(lot.id), ends.left, dry(lot.id, leftG), leftG);
  }
  for (const run of journal.runs) {
    if (!run.drawnBefore && dayNumber(dateOf(run.steepInAt)) <= lastDay) {
      flowRun(parts, maker, run, lotNode, dry);
    }
  }
}

/** Plantings that come into store on a day shown: cut weight, less handling and dirt, into the lot. */
function flowHarvest(
  { journal }: YearParts,
  maker: FlowMaker,
  lotNode: (lotId: string) => string,
  dry: (lotId: string, massG: number) => number,
): void {
  const { season, firstDay, lastDay } = journal;
  const handling = maker.node("handling", "lost in handling", "loss");
  const dirt = maker.node("intake-dirt", "dirt and thins at intake", "loss");
  const left = maker.node("left-out", "no room: left in the field", "loss");
  const bought = maker.node("bought-grain", "grain bought", "source");
  const boughtLots = new Set(season.contracts.flatMap((one) => one.kind === "buy-grain" ? [one.lotId] : []));
  const filled = new Map<string, number>();
  for (const fill of journal.fills) {
    if (fill.day < firstDay || fill.day > lastDay) continue;
    if (boughtLots.has(fill.lotId)) {
      maker.link(bought, lotNode(fill.lotId), dry(fill.lotId, fill.massG), fill.massG);
    } else filled.set(fill.lotId, (filled.get(fill.lotId) ?? 0) + fill.massG);
  }
  const leftOut = new Map<string, number>();
  for (const one of journal.plan?.leftOut ?? []) {
    if (dayNumber(one.on) > lastDay) continue;
    leftOut.set(one.lotId, (leftOut.get(one.lotId) ?? 0) + one.massG);
  }

  for (const lotId of new Set([...filled.keys(), ...leftOut.keys()])) {
    if (boughtLots.has(lotId)) continue;
    const shares = harvestShares(season.plantings, season.weighTickets, lotId, firstDay);
    const binnedG = shares.reduce((sum, one) => sum + one.binG, 0);
    const keptG = filled.get(lotId) ?? 0;
    const leftG = leftOut.get(lotId) ?? 0;
    for (const one of shares) {
      const { planting } = one;
      const names = listWords(
        planting.fieldIds.map((id) => season.fields.find((field) => field.id === id)?.name ?? id),
      );
      const from = maker.node(`planting:${planting.id}`, names, "source");
      const part = binnedG === 0 ? 0 : one.binG / binnedG;
      maker.link(from, lotNode(lotId), dry(lotId, keptG * part), keptG * part);
      maker.link(from, left, dry(lotId, leftG * part), leftG * part);
      maker.link(from, handling, one.handlingDryG, one.handlingG);
      maker.link(from, dirt, one.dirtDryG, one.dirtG);
      const waterG = one.cutG - one.handlingG - one.dirtG - one.binG;
      if (waterG > 0) maker.water.push({ from, massG: waterG });
    }
  }
}

interface HarvestShare {
  readonly planting: Planting;
  readonly cutG: number;
  readonly handlingG: number;
  readonly handlingDryG: number;
  readonly dirtG: number;
  readonly dirtDryG: number;
  readonly binG: number;
}

/** What each planting of a lot gives and loses: by its weigh tickets where there are some, else by its likely yield. */
function harvestShares(
  plantings: readonly Planting[],
  tickets: readonly { plantingId: string; lotId: string; on: string; massG: number; moistureWb: number }[],
  lotId: string,
  firstDay: number,
): HarvestShare[] {
  return plantings.flatMap((planting) => {
    const loads = tickets.filter((one) =>
      one.plantingId === planting.id && one.lotId === lotId && dayNumber(one.on) >= firstDay
    );
    const standing = planting.state === "planned" || planting.state === "sown";
    if (loads.length === 0 && !(standing && planting.lotId === lotId)) return [];
    const cuts = loads.length > 0
      ? loads
      : [{ massG: forecastCutG(planting).likely, moistureWb: planting.moistureAtHarvestWb }];
    let cutG = 0, handlingG = 0, handlingDryG = 0, dirtG = 0, dirtDryG = 0, binG = 0;
    for (const { massG, moistureWb } of cuts) {
      const storedWb = Math.min(moistureWb, planting.dryToWb);
      const lostG = massG * planting.handlingLoss;
      const driedG = (massG - lostG) * (1 - moistureWb) / (1 - storedWb);
      const thinsG = driedG * planting.intakeCleaningLoss;
      cutG += massG;
      handlingG += lostG;
      handlingDryG += lostG * (1 - moistureWb);
      dirtG += thinsG;
      dirtDryG += thinsG * (1 - storedWb);
      binG += driedG - thinsG;
    }
    const exactG = loads.length > 0 ? binG : forecastMassG(planting);
    return [{ planting, cutG, handlingG, handlingDryG, dirtG, dirtDryG, binG: exactG }];
  });
}

/** One run: screenings, steep and breath, rootlets, and malt by kind; or what was dumped or fed. */
function flowRun(
  { journal }: YearParts,
  maker: FlowMaker,
  run: RunFact,
  lotNode: (lotId: string) => string,
  dry: (lotId: string, massG: number) => number,
): void {
  const { season } = journal;
  const malt = season.maltTypes.find((one) => one.id === run.maltId);
  if (malt?.made.from !== "grain") return;
  const drawnG = run.draws.reduce((sum, one) => sum + one.massG, 0);
  const record = season.records.runs.find((one) => one.id === run.id);
  const screenings = maker.node("screenings", "screenings", "loss");
  const breath = maker.node("steep-and-breath", "steep and respiration", "loss");
  const rootlets = maker.node("rootlets", "rootlets", "loss");
  const dumped = maker.node("dumped", "dumped", "loss");
  const feed = maker.node("feed", "to feed", "end");
  for (const draw of run.draws) {
    const from = lotNode(draw.lotId);
    const part = drawnG === 0 ? 0 : draw.massG / drawnG;
    const screenedG = run.screeningsG * part;
    const cleanG = draw.massG - screenedG;
    const cleanDryG = dry(draw.lotId, cleanG);
    maker.link(from, screenings, dry(draw.lotId, screenedG), screenedG);
    if (run.standing === "dumped") {
      maker.link(from, dumped, cleanDryG, cleanG);
      continue;
    }
    const rootletsDryG = cleanDryG * malt.made.rootletLossDm;
    maker.link(from, rootlets, rootletsDryG, rootletsDryG / (1 - malt.made.culmMoistureWb));
    if (record?.outcome === "feed") {
      maker.link(from, feed, cleanDryG - rootletsDryG, cleanG);
      continue;
    }
    const bookLossDryG = cleanDryG * (malt.made.steepLossDm + malt.made.respirationLossDm);
    let maltDryG = 0;
    for (const out of run.outputs) {
      const type = season.maltTypes.find((one) => one.id === out.maltId);
      const to = maker.node(`malt:${out.maltId}`, shortMaltWords(type?.name ?? out.maltId), "malt");
      const outDryG = out.massG * part * (1 - (type?.maltMoistureWb ?? 0));
      maltDryG += outDryG;
      maker.link(from, to, outDryG, out.massG * part);
    }
    // A run that was weighed breathed what is missing from the scales; for a planned one the book says it.
    const weighed = record?.stripAt !== undefined;
    const lossDryG = weighed ? Math.max(0, cleanDryG - rootletsDryG - maltDryG) : bookLossDryG;
    maker.link(from, breath, lossDryG, lossDryG);
  }
}
