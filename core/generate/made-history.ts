import { type Season, seasonSchema } from "../season/season.ts";
import type { MadeFrame } from "./made-frame.ts";
import { emptyStory } from "./made-story.ts";
import { tellBrews } from "./made-story-brews.ts";
import { tellGrain } from "./made-story-grain.ts";
import { tellOrders } from "./made-story-orders.ts";
import { tellRuns } from "./made-story-runs.ts";

/** The season with records of what led to it and bookings of what comes next; micro seasons have neither. */
export function withHistory(frame: MadeFrame, season: Season): Season {
  if (frame.size === "micro") return season;
  const story = emptyStory(frame, season);
  // Malt on its way into a store that is too small would be a breach that no plan can avoid.
  if (frame.limit !== "store") {
    tellRuns(story);
    tellOrders(story);
  }
  if (frame.opened < frame.today) tellGrain(story);
  tellBrews(story);
  return seasonSchema.parse({
    ...season,
    opening: { ...season.opening, grain: story.grain, malt: story.malt },
    records: story.records,
    bookings: story.bookings,
  });
}
