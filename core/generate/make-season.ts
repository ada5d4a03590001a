import { isoDate } from "../calendar.ts";
import { canonicalJson } from "../season/canonical.ts";
import type { Batch } from "../season/records.ts";
import { type Season, type SeasonFile, seasonSchema } from "../season/season.ts";
import { madeBeers, requiring } from "./made-beers.ts";
import { madeBrews } from "./made-brews.ts";
import { madeTanks } from "./made-cellar.ts";
import { frameOf, type Knobs, type MadeFrame } from "./made-frame.ts";
import { withHistory } from "./made-history.ts";
import { madeLand } from "./made-land.ts";
import { lotPlans } from "./lot-plans.ts";
import { madeVessels } from "./made-malthouse.ts";
import { madeMalts } from "./made-malts.ts";
import { openingMalt, rawNeedG } from "./made-opening.ts";
import { madePeople } from "./made-people.ts";
import { madeStores } from "./made-stores.ts";
import { madeLots } from "./made-lots.ts";
import { madeTrade } from "./made-trade.ts";
import { microSeason } from "./micro.ts";
import { firstKnobs, turned } from "./made-knobs.ts";
import { LIMITS, type PlantedLimit, type SeasonSize } from "./sizes.ts";
import { homeNeeds } from "./tight-need.ts";
import { tightnessOf } from "./tightness.ts";

/** Turns of the knobs; three are usually enough. */
const MOST_TURNS = 12;
const ZONES = ["Europe/Dublin", "America/New_York", "UTC", "Europe/Oslo", "America/Halifax"];
const CURRENCIES = ["EUR", "USD", "GBP", "CAD", "NOK"];

/**
 * A made season of a size: the same size, seed and limit give the same season, byte for byte. With a limit, that one binds and
 * no other does; with `none` every brew can be made from home-grown malt. Left out, the seed chooses, and more than
 * half of the seeds choose a limit that binds; micro seasons are then those of `microSeason`. Every number is made up.
 */
export function makeSeason(size: SeasonSize, seed: number, asked?: PlantedLimit): Season {
  if (size === "micro" && asked === undefined) return microSeason(seed);
  const limit = asked ?? limitOf(size, seed);
  const frame = frameOf(size, seed, limit);
  let knobs = firstKnobs(frame);
  let season = build(frame, knobs);
  for (let turn = 0; turn < MOST_TURNS; turn++) {
    const next = turned(frame, knobs, tightnessOf(season));
    if (canonicalJson(next) === canonicalJson(knobs)) break;
    knobs = next;
    season = build(frame, knobs);
  }
  return season;
}

function limitOf(size: SeasonSize, seed: number): PlantedLimit {
  return frameOf(size, seed, "none").luck("limit").pick([...LIMITS, "none", "none", "none"] as const);
}

/** One farm at one setting of the knobs. */
function build(frame: MadeFrame, knobs: Knobs): Season {
  const { size, seed, limit, luck, opened, today, horizon } = frame;
  const chances = luck("farm");
  const at = chances.pick(["05:30", "06:00", "07:00"]);
  const beers = madeBeers(frame, knobs);
  const malts = madeMalts(frame);
  const calendar = madeBrews(frame, beers);
  const { tanks, contents } = madeTanks(frame, knobs, beers, calendar.brews ?? []);
  const bare: SeasonFile = {
    format: "rickyard-season",
    version: 1,
    id: `made-${size}-${Math.abs(seed)}-${limit}`,
    name: `Made ${size} farm ${seed}`,
    about:
      `Made by the generator of seasons: size ${size}, seed ${seed}, planted limit ${limit}. All of it is invented; it is no real farm.`,
    zone: chances.pick(ZONES),
    readerUnits: chances.pick(["metric", "metric", "us"]),
    currency: chances.pick(CURRENCIES),
    weekStartsOn: chances.pick([1, 1, 7]),
    positionAt: opened === today ? `${isoDate(today)}T${at}` : `${isoDate(opened)}T00:00`,
    asOf: `${isoDate(today)}T${at}`,
    ...(chances.oneIn(6) ? { fixedAsOf: `${isoDate(today)}T${at}` } : {}),
    horizonEnd: isoDate(horizon),
    bookValues: ["/maltTypes/0/made/steepLossDm", "/maltTypes/0/restDays", "/costs/moveLoss"],
    ...madePeople(frame),
    vessels: madeVessels(frame, knobs),
    maltTypes: malts,
    maltStore: { places: knobs.places, placeG: placeG(frame) },
    beers,
    ...calendar,
    tanks,
    costs: { reservePerTonneDayCents: 0, changedRunCents: 0 },
    opening: { tanks: contents },
    records: {},
    bookings: {},
  };
  const planned = seasonSchema.parse(bare);
  const malt = openingMalt(frame, planned, []);
  const needs = homeNeeds({ ...planned, opening: { ...planned.opening, malt } });
  const plans = lotPlans(frame, knobs, needs, rawNeedG(planned, today, horizon + 1));
  // A crop with a single lot cannot do without it.
  const needed = new Set(
    plans.filter((plan) =>
      !plans.some((other) => other !== plan && other.crop === plan.crop && other.kind === "malting")
    ).map((plan) => plan.id),
  );
  const { stores, lays } = madeStores(frame, knobs, plans);
  const whole = seasonSchema.parse({
    ...bare,
    maltStore: { places: placesOf(frame, knobs, malt), placeG: placeG(frame) },
    ...madeLand(frame, plans),
    beers: requiring(frame, beers, plans),
    lots: madeLots(frame, plans, needed),
    stores,
    dryers: [{
      id: "dryer",
      name: "Dryer",
      kind: chances.pick(["static", "mixed-flow"]),
      greatestAirTempC: 38,
      waterKgPerHour: chances.int(40, 160),
      energyMjPerKgWater: 4.65,
      fuelCentsPerMj: chances.int(15, 30) / 10,
    }],
    ...madeTrade(frame, plans, malts, knobs.bedG),
    opening: { grain: lays, malt: openingMalt(frame, planned, plans), tanks: contents },
  });
  return withHistory(frame, whole);
}

/** Where the store is not to be short, what lies there at as-of leaves room for the runs and orders to come. */
function placesOf(frame: MadeFrame, knobs: Knobs, malt: readonly Batch[]): number {
  if (frame.limit === "store") return knobs.places;
  const taken = malt.reduce((sum, batch) => sum + Math.ceil(batch.massG / placeG(frame)), 0);
  const aRun = Math.ceil(knobs.bedG / placeG(frame));
  return Math.max(knobs.places, 2 * taken + 3 * aRun * frame.spec.beds + frame.spec.malts);
}

/** Weight of malt on one place: sacks on a small farm, bulk bags on a large one. */
function placeG({ size }: MadeFrame): number {
  return { micro: 50_000, small: 50_000, typical: 100_000, large: 100_000, coop: 300_000 }[size];
}
