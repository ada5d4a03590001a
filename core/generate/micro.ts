import { dayNumber, isoDate } from "../calendar.ts";
import { type Season, seasonSchema } from "../season/season.ts";
import { chance } from "./chance.ts";
import { microBrewing, microTrade } from "./micro-brewing.ts";
import { MICRO_DAYS, MICRO_THEMES, type MicroFrame, type MicroTheme } from "./micro-frame.ts";
import { microGrain } from "./micro-grain.ts";
import { microMalthouse } from "./micro-malthouse.ts";

/**
 * The micro season of a seed: one steep, one bed, one kiln, two lots, two malts, four brews, six weeks, at most five legal
 * steep-in days, so that every plan can be tried. Each season is made to run into one limit, its theme. The same seed
 * gives the same season. Every number is made up; the ranges are those of a very small malthouse, common practice, no
 * source.
 */
export function microSeason(seed: number, theme?: MicroTheme): Season {
  const frame = frameOf(seed, theme);
  const { luck, day } = frame;
  const now = `${day(0)}T06:00`;
  return seasonSchema.parse({
    format: "rickyard-season",
    version: 1,
    id: `micro-${Math.abs(seed)}`,
    name: `Micro season ${seed}`,
    about:
      `Made by the generator of micro seasons, seed ${seed}, limit "${frame.theme}". All of it is invented.`,
    zone: luck.pick(["Europe/Dublin", "America/New_York", "UTC"]),
    readerUnits: "metric",
    currency: "EUR",
    positionAt: now,
    asOf: now,
    horizonEnd: day(MICRO_DAYS),
    ...microGrain(frame),
    ...microMalthouse(frame),
    ...microBrewing(frame),
    ...microTrade(frame),
    records: {},
    bookings: {},
  });
}

function frameOf(seed: number, asked: MicroTheme | undefined): MicroFrame {
  const luck = chance(seed);
  const chosen = luck.pick(MICRO_THEMES);
  const theme = asked ?? chosen;
  const today = dayNumber("2027-01-04") + 7 * luck.int(0, 51);
  const loadG = 10_000 * luck.int(22, 40);
  const fewLoads = theme === "grain";
  const lotG = () => Math.round(loadG * luck.int(fewLoads ? 8 : 20, fewLoads ? 17 : 40) / 10);
  const startDays = luck.pick([[0, 7, 14, 21, 28], [0, 3, 7, 10, 14]]);
  return {
    luck,
    theme,
    today,
    day: (after) => isoDate(today + after),
    loadG,
    starts: startDays.slice(0, luck.int(3, 5)),
    secondCrop: luck.oneIn(3) ? "wheat" : "barley",
    firstLotG: lotG(),
    secondLotG: lotG(),
    secondLot: theme === "bins" ? luck.pick(["harvested", "bought"]) : "in its bin",
    arrives: luck.int(10, 20),
  };
}
