import { dateOf, dayNumber } from "../calendar.ts";
import type { BatchFact } from "./batches.ts";
import type { YearParts } from "./draw.ts";
import type { FlowMaker } from "./flow.ts";
import { dayWords, shortMaltWords } from "./words.ts";

/** Moisture of bagged raw grain that was bought: no offer states it. Common practice, no source. */
const BOUGHT_GRAIN_MOISTURE_WB = 0.12;

/** Dry matter of a batch's grams as is. */
export function batchDry({ journal: { season } }: YearParts, batch: BatchFact, massG: number): number {
  const malt = season.maltTypes.find((one) => `malt:${one.id}` === batch.key);
  return massG * (1 - (malt?.maltMoistureWb ?? BOUGHT_GRAIN_MOISTURE_WB));
}

/** The node of a malt, or of bought raw grain. */
export function batchNode(parts: YearParts, maker: FlowMaker, batch: BatchFact): string {
  const name = parts.journal.season.maltTypes.find((one) => `malt:${one.id}` === batch.key)?.name;
  return maker.node(
    batch.key,
    name === undefined ? batch.key.slice("grain:".length) : shortMaltWords(name),
    "malt",
  );
}

/** Malt in store, bought, roasted, sold, counted and left; what runs give comes from `flowGrain`, what brews take goes in `flowBeer`. */
export function flowMalt(parts: YearParts, maker: FlowMaker): void {
  const { journal, malt: levels } = parts;
  const { season, firstDay, lastDay } = journal;
  const openingMalt = maker.node("opening-malt", `malt in store on ${dayWords(firstDay)}`, "source");
  const inVessels = maker.node("opening-vessels", `in the vessels on ${dayWords(firstDay)}`, "source");
  const bought = maker.node("bought-malt", "malt bought", "source");
  const left = maker.node("left-malt", `malt in store on ${dayWords(lastDay)}`, "end");
  const stillIn = maker.node("left-vessels", `in the vessels on ${dayWords(lastDay)}`, "end");
  const sold = maker.node("sold-malt", "malt sold", "end");
  const drumLoss = maker.node("drum", "lost in the drum", "loss");
  const less = maker.node("counted-less", "counted less than the book", "loss");
  const more = maker.node("counted-more", "counted more than the book", "source");

  for (const batch of journal.batches.values()) {
    const to = batchNode(parts, maker, batch);
    const put = (from: string) => maker.link(from, to, batchDry(parts, batch, batch.massG), batch.massG);
    if (batch.source === "opening") put(openingMalt);
    if (batch.source === "order" && batch.inDay <= lastDay) put(bought);
    if (batch.source === "run") {
      const run = journal.runs.find((one) => one.id === batch.sourceId);
      if (run?.drawnBefore) put(inVessels);
      const steeped = run !== undefined && dayNumber(dateOf(run.steepInAt)) <= lastDay;
      if (steeped && batch.inDay > lastDay) {
        maker.link(to, stillIn, batchDry(parts, batch, batch.massG), batch.massG);
      }
    }
    const leftG = levels.get(batch.id)?.[lastDay - firstDay] ?? 0;
    if (leftG > 0) maker.link(to, left, batchDry(parts, batch, leftG), leftG);
  }
  for (const drum of journal.plan?.drums ?? []) {
    const into = journal.batches.get(drum.batchId);
    if (into === undefined || dayNumber(drum.on) > lastDay) continue;
    const outDryG = batchDry(parts, into, drum.massG);
    const inG = drum.from.reduce((sum, one) => sum + one.massG, 0);
    for (const one of drum.from) {
      const batch = journal.batches.get(one.batchId);
      if (batch === undefined) continue;
      const from = batchNode(parts, maker, batch);
      const dryG = batchDry(parts, batch, one.massG);
      const partDryG = inG === 0 ? 0 : outDryG * one.massG / inG;
      maker.link(from, batchNode(parts, maker, into), partDryG, drum.massG * one.massG / inG);
      maker.link(from, drumLoss, dryG - partDryG, 0);
    }
  }
  for (const sale of journal.maltSales) {
    for (const one of sale.day <= lastDay ? sale.from : []) {
      const batch = journal.batches.get(one.batchId);
      if (batch !== undefined) {
        maker.link(batchNode(parts, maker, batch), sold, batchDry(parts, batch, one.massG), one.massG);
      }
    }
  }
  for (const count of season.records.adjustments) {
    const batch = count.batchId === undefined ? undefined : journal.batches.get(count.batchId);
    if (batch === undefined) continue;
    const massG = Math.abs(count.deltaG), dryG = batchDry(parts, batch, massG);
    if (count.deltaG < 0) maker.link(batchNode(parts, maker, batch), less, dryG, massG);
    else maker.link(more, batchNode(parts, maker, batch), dryG, massG);
  }
}
