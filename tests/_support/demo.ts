import { readFileSync } from "node:fs";
import { type Season, seasonSchema } from "../../core/season/season.ts";

/** The demo farm's file as it stands. */
export function demoFile(): unknown {
  return JSON.parse(readFileSync(new URL("../../data-demo/tern-and-furrow.json", import.meta.url), "utf8"));
}

/** The demo farm's season. */
export function demoSeason(): Season {
  return seasonSchema.parse(demoFile());
}
