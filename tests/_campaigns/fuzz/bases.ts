import { readFileSync } from "node:fs";
import type { Highs } from "highs";
import { MICRO_THEMES } from "../../../core/generate/micro-frame.ts";
import { microSeason } from "../../../core/generate/micro.ts";
import type { Place } from "./edits.ts";
import { livedSeason } from "./lived.ts";

/** A valid season file that is to be corrupted. */
export interface Base {
  readonly name: string;
  readonly file: unknown;
  /** Every place of the file, lists and groups included. */
  readonly places: readonly Place[];
  /** Length of the file's text in bytes. */
  readonly bytes: number;
  /** Small enough to be searched; a large one is planned by the careful person's rules alone. */
  readonly small: boolean;
}

/** A base of a file. */
export function baseOf(name: string, file: unknown, small: boolean): Base {
  return {
    name,
    file,
    places: placesOf(file),
    bytes: new TextEncoder().encode(JSON.stringify(file)).length,
    small,
  };
}

function placesOf(value: unknown, at: Place = []): Place[] {
  if (typeof value !== "object" || value === null) return [at];
  const below = Object.entries(value).flatMap(([key, member]) =>
    placesOf(member, [...at, Array.isArray(value) ? Number(key) : key])
  );
  return at.length === 0 ? below : [at, ...below];
}

function demoFile(name: string): unknown {
  return JSON.parse(readFileSync(new URL(`../../../data-demo/${name}.json`, import.meta.url), "utf8"));
}

/** Micro seasons of each kind, each as it is made and again some days later with records and bookings. */
const MICRO_SEEDS = 5;
const DAYS_LIVED = [3, 12, 20, 30];

/** The demo, the empty farm, and micro seasons of every theme; the more of them, the more cases are different. */
export async function bases(
  highs: Highs,
  seedsEach = MICRO_SEEDS,
): Promise<{ demo: Base; empty: Base; micro: readonly Base[] }> {
  const micro: Base[] = [];
  for (const [row, theme] of MICRO_THEMES.entries()) {
    for (let seed = 1; seed <= seedsEach; seed++) {
      const season = microSeason(seed, theme), days = DAYS_LIVED[(row + seed) % DAYS_LIVED.length]!;
      micro.push(baseOf(`micro ${seed} ${theme}`, season, true));
      micro.push(
        baseOf(`micro ${seed} ${theme}, ${days} days lived`, await livedSeason(season, days, highs), true),
      );
    }
  }
  return {
    demo: baseOf("demo", demoFile("tern-and-furrow"), false),
    empty: baseOf("empty farm", demoFile("empty-farm"), true),
    micro,
  };
}
