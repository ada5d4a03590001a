import { dayNumber, isoDate, weekday } from "../calendar.ts";
import { gristNeed } from "../season/need.ts";
import type { Season } from "../season/season.ts";
import { layMore, type Story } from "./made-story.ts";

/** Brews before as-of with what went into them and their tanks, and the next ones as bookings. */
export function tellBrews(story: Story): void {
  const { season, luck, today } = story;
  const free = new Map(season.tanks.map((tank) => {
    const content = season.opening.tanks.find((one) => one.tankId === tank.id);
    return [tank.id, content === undefined ? -Infinity : dayNumber(content.freeOn)];
  }));
  for (const brew of season.brews) {
    const day = dayNumber(brew.on);
    if (day < today) tellBrew(story, brew, day, free);
  }
  const next = season.brews.filter((brew) => dayNumber(brew.on) > today && dayNumber(brew.on) <= today + 9);
  for (const brew of next.slice(0, luck.int(0, 2))) {
    const closed = season.brewhouse.closed.some((one) => one.from <= brew.on && brew.on <= one.to);
    const open = season.brewhouse.brewWeekdays.includes(weekday(dayNumber(brew.on)));
    if (open && !closed) story.bookings.brews.push({ brewId: brew.id, on: brew.on, by: "The brewer" });
  }
}

/** A brew that finds neither a tank nor all its grist was not made, and nothing is recorded. */
function tellBrew(story: Story, brew: Season["brews"][number], day: number, free: Map<string, number>): void {
  const { season } = story;
  const beer = season.beers.find((one) => one.id === brew.beerId)!;
  const volumeL = brew.volumeL ?? beer.volumeL;
  const tank = season.tanks.find((one) => free.get(one.id)! <= day && one.volumeL >= volumeL);
  if (tank === undefined) return;
  const grist: Story["records"]["brews"][number]["grist"] = [];
  for (const line of gristNeed(season, brew)) {
    const massG = Math.round(line.bookMassG);
    const { ingredient } = line;
    if (ingredient.kind === "grain") {
      const raw = season.lots.find((lot) => lot.use === "raw" && lot.crop === ingredient.crop);
      const storeId = raw === undefined || raw.formedOn > isoDate(story.opened)
        ? null
        : layMore(story, raw.id, massG);
      if (raw !== undefined && storeId !== null) {
        grist.push({ lineId: line.lineId, from: { kind: "lot", lotId: raw.id, storeId }, massG });
        continue;
      }
    }
    const batch = story.malt.find((one) =>
      one.ingredient.kind === "malt"
        ? ingredient.kind === "malt" && one.ingredient.maltId === ingredient.maltId
        : ingredient.kind === "grain" && one.ingredient.crop === ingredient.crop
    );
    if (batch === undefined) return;
    batch.massG += massG;
    grist.push({ lineId: line.lineId, from: { kind: "batch", batchId: batch.id }, massG });
  }
  free.set(tank.id, day + beer.tankDays + tank.turnaroundDays);
  story.records.brews.push({
    brewId: brew.id,
    on: brew.on,
    tanks: [{ tankId: tank.id, volumeL }],
    grist,
    by: "The brewer",
  });
}
