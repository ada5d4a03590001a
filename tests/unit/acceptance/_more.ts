import { addDays } from "../../../core/calendar.ts";
import type { Season } from "../../../core/season/season.ts";

/** Ways to have more of something that nobody has to use. Each gives null where the season has nothing of the kind. */
export const MORE: Record<string, (season: Season) => Season | null> = {
  // Grain in a bin would have to be cleared away before a harvest; grain that grows may stay in the field.
  "more grain": (season) => {
    const growing = season.plantings.some((one) => one.state === "sown" || one.state === "planned");
    if (!growing) return null;
    const more = structuredClone(season);
    for (const { yieldKgPerHa } of more.plantings) {
      yieldKgPerHa.bad *= 1.3;
      yieldKgPerHa.likely *= 1.3;
      yieldKgPerHa.good *= 1.3;
    }
    return more;
  },
  "bigger bins": (season) => {
    const more = structuredClone(season);
    for (const store of more.stores) {
      if (store.kind === "bin" && store.shape.kind === "volume") store.shape.volumeL *= 1.5;
    }
    return more;
  },
  "one more bed": (season) => {
    const more = structuredClone(season);
    const bed = more.vessels.find((one) => one.stages.includes("bed"))!;
    more.vessels.push({ ...structuredClone(bed), id: "bed-more", name: "One more bed" });
    return more;
  },
  "wider windows": (season) => {
    const more = structuredClone(season);
    for (const brew of more.brews) {
      brew.earliest = addDays(brew.earliest, -2);
      brew.latest = addDays(brew.latest, 2);
    }
    return more;
  },
};
