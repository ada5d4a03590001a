import { dayNumber, isoDate, weekday } from "../calendar.ts";
import { layMore, oldLots, pastDay, type Story } from "./made-story.ts";

/** Grain that came, was mixed, moved, fetched or delivered, and what the scales set right. */
export function tellGrain(story: Story): void {
  tellFills(story);
  tellMix(story);
  tellMove(story);
  tellFeed(story);
  tellDelivery(story);
  tellCounts(story);
}

/** What was cut after the opening came as a fill. */
function tellFills(story: Story): void {
  const opened = isoDate(story.opened);
  for (const lot of story.season.lots) {
    if (lot.forecast || lot.formedOn <= opened || lot.parents.some((one) => one.kind === "lot")) continue;
    for (const [at, lay] of [...story.grain].filter((one) => one.lotId === lot.id).entries()) {
      story.grain.splice(story.grain.indexOf(lay), 1);
      story.records.fills.push({
        id: `fill-${lot.id}-${at + 1}`,
        on: lot.formedOn,
        lotId: lot.id,
        storeId: lay.storeId,
        massG: lay.massG,
      });
    }
  }
}

/** A lot whose parents are lots was tipped together in the story's time, if it was not before. */
function tellMix(story: Story): void {
  const opened = isoDate(story.opened);
  const lot = story.season.lots.find((one) =>
    one.parents.some((parent) => parent.kind === "lot") && one.formedOn > opened
  );
  const lay = story.grain.find((one) => one.lotId === lot?.id);
  if (lot === undefined || lay === undefined) return;
  story.grain.splice(story.grain.indexOf(lay), 1);
  const parents = lot.parents.flatMap((parent) => {
    if (parent.kind !== "lot") return [];
    const storeId = layMore(story, parent.lotId, parent.massG);
    return storeId === null ? [] : [{ lotId: parent.lotId, storeId, massG: parent.massG }];
  });
  const massG = parents.reduce((sum, one) => sum + one.massG, 0);
  if (massG === 0) return;
  story.records.mixes.push({
    id: "mix-past",
    on: lot.formedOn,
    parents,
    intoLotId: lot.id,
    storeId: lay.storeId,
    note: "Two tails tipped together",
  });
}

/** A little of a lot went from its bin into a bag; sometimes the same is booked for next week. */
function tellMove(story: Story): void {
  const { season, luck, today } = story;
  const bags = season.stores.find((store) => store.kind === "bags");
  const lot = oldLots(story).find((one) =>
    season.opening.grain.some((lay) => lay.lotId === one.id && lay.storeId !== bags?.id && lay.massG > 3e6)
  );
  if (bags === undefined || lot === undefined || bags.places < 5) return;
  const massG = 300_000, lossG = 1500;
  if (luck.oneIn(3)) {
    const from = season.opening.grain.find((lay) => lay.lotId === lot.id)!.storeId;
    const move = { lotId: lot.id, fromStoreId: from, toStoreId: bags.id, massG, lossG };
    story.bookings.moves.push({ id: "move-booked", on: isoDate(today + 6), ...move });
    return;
  }
  if (!luck.oneIn(2)) return;
  const storeId = layMore(story, lot.id, massG);
  if (storeId === null) return;
  const on = pastDay(story, 0.6);
  story.records.moves.push({
    id: "move-past",
    on,
    lotId: lot.id,
    fromStoreId: storeId,
    toStoreId: bags.id,
    massG,
    lossG,
  });
}

/** Part of a failed lot was fetched as feed, or is booked to be. */
function tellFeed(story: Story): void {
  const { season, luck, today } = story;
  const lot = season.lots.find((one) => one.use === "feed" && one.formedOn <= isoDate(story.opened));
  const lay = season.opening.grain.find((one) => one.lotId === lot?.id);
  if (lot === undefined || lay === undefined) return;
  const open = (day: number) =>
    season.feedPickups.find((one) =>
      one.from <= isoDate(day) && isoDate(day) <= one.to && one.weekdays.includes(weekday(day)) &&
      one.crops.includes(lot.crop) && one.donPpmMost >= 10
    );
  const past = dayNumber(pastDay(story, 0.5));
  const then = open(past);
  if (then !== undefined) {
    const massG = Math.max(then.leastG, 200_000);
    const storeId = massG > then.greatestG ? null : layMore(story, lot.id, massG);
    if (storeId !== null) {
      const items = [{ lotId: lot.id, storeId, massG }];
      story.records.feedLoads.push({ id: "load-past", pickupId: then.id, on: isoDate(past), items });
    }
  }
  const soon = [4, 5, 6, 7, 8].map((after) => today + after).find((day) => open(day) !== undefined);
  const next = soon === undefined ? undefined : open(soon)!;
  if (soon === undefined || next === undefined || luck.oneIn(2)) return;
  if (lay.massG < next.leastG || lay.massG > next.greatestG) return;
  story.bookings.feedLoads.push({
    id: "load-booked",
    pickupId: next.id,
    on: isoDate(soon),
    items: [{ lotId: lot.id, storeId: lay.storeId, massG: lay.massG }],
  });
}

/** The first part of a grain sale has gone. */
function tellDelivery(story: Story): void {
  for (const contract of story.season.contracts) {
    if (contract.kind !== "sell-grain" || contract.from >= isoDate(story.today)) continue;
    const lot = story.season.lots.find((one) => one.id === contract.lotId)!;
    if (lot.formedOn > isoDate(story.opened)) continue;
    const massG = Math.round(contract.massG * 0.4);
    const storeId = layMore(story, lot.id, massG);
    if (storeId === null) continue;
    story.records.deliveries.push({
      id: "delivery-past",
      contractId: contract.id,
      on: contract.from,
      lotId: lot.id,
      storeId,
      massG,
    });
  }
}

/** Sweepings and a torn sack. */
function tellCounts(story: Story): void {
  const lot = oldLots(story)[0];
  const storeId = lot === undefined ? null : layMore(story, lot.id, 15_000);
  if (lot !== undefined && storeId !== null) {
    story.records.adjustments.push({
      id: "count-grain",
      on: pastDay(story, 0.8),
      lotId: lot.id,
      storeId,
      deltaG: -15_000,
      reason: "Swept out and fed",
    });
  }
  const batch = story.malt[0];
  if (batch === undefined) return;
  batch.massG += 2000;
  story.records.adjustments.push({
    id: "count-malt",
    on: pastDay(story, 0.9),
    batchId: batch.id,
    deltaG: -2000,
    reason: "A torn sack",
  });
}
