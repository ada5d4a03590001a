import { z } from "zod";
import {
  at,
  cents,
  clockTime,
  crop,
  date,
  fraction,
  hours,
  id,
  massG,
  monthTable,
  number,
  text,
  timeOfDay,
  weekday,
} from "./quantity.ts";

export const STAGES = ["steep", "bed", "kiln"] as const;
/** The three stages of a run, in order; nothing waits between them. */
export type Stage = (typeof STAGES)[number];

export const HAND_OVERS = ["steepIn", "castToBed", "kilnLoading", "strip"] as const;
/** The four hand-overs of a run; each happens at one staffed minute. */
export type HandOver = (typeof HAND_OVERS)[number];

const handOver = z.enum(HAND_OVERS);

/** A stretch in which a thing cannot be used; half-open. */
export const closureSchema = z.strictObject({
  from: at("first minute closed"),
  to: at("first minute open again"),
  reason: text("why"),
});

/** How germinating grain is kept from felting. A bed or kiln is never assumed to be safely left alone. */
const turningSchema = z.discriminatedUnion("by", [
  z.strictObject({
    by: z.literal("machine"),
    lookInEveryHours: hours(
      "someone looks in at least this often, staffed hours and look-ins both counting",
      {
        limits: [1, 168],
      },
    ),
  }),
  z.strictObject({
    by: z.literal("hand"),
    everyHours: hours("a turn at least this often", { limits: [1, 48], plausible: [4, 12] }),
    nightTurnCents: cents("paid for a turn outside staffed hours"),
    mostNightTurnsPerWeek: z.int().min(0).max(168).meta({
      description: "most turns outside staffed hours in any farm week",
    }),
  }),
]);

/** A vessel. One that serves several stages keeps its load from stage to stage without cleaning. */
export const vesselSchema = z.strictObject({
  id,
  name: text("name", 40),
  stages: z.array(z.enum(STAGES)).min(1),
  line: text("a run stays in vessels of one line; vessels without a line go with any", 40).optional(),
  loadLimits: z.array(z.strictObject({
    crop,
    leastG: massG("least load", { basis: "clean grain, as is, before steeping" }),
    greatestG: massG("greatest load", { basis: "clean grain, as is, before steeping" }),
  })).meta({ description: "a crop that is not listed cannot go in" }),
  monthLoadFactor: monthTable(
    fraction("share of the greatest load allowed in that month, 0 = closed", { limits: [0, 1.5] }),
  )
    .optional(),
  cleaningHours: hours("from emptied to ready for the same crop", {
    plausible: [0, 72],
    source: "2 h in a large kiln; 4 to 8 h in a small house, from memory",
  }),
  changeOver: z.array(
    z.strictObject({ from: crop, to: crop, hours: hours("from emptied to ready, instead of cleaningHours") }),
  )
    .default([]),
  turning: turningSchema.optional(),
  firedLookInEveryHours: hours(
    "while a kiln is fired someone on the farm looks in at least this often, day and night",
    {
      limits: [1, 48],
    },
  ).optional(),
  closures: z.array(closureSchema).default([]),
});

/** A person. Names in the demo are trades, not people. */
export const personSchema = z.strictObject({
  id,
  name: text("name", 60),
  roles: z.array(z.enum(["owner", "grower", "maltster", "brewer"])).min(1),
  away: z.array(
    z.strictObject({ from: date("first day away"), to: date("last day away"), reason: text("why") }),
  ).default([]),
});

/**
 * When somebody is at the vessels. A hand-over may fall in a window of `weekly` or `extra` that lists it, if no
 * `closed` entry of that day lists it and the window's person is not away. Windows include both their ends.
 */
export const rosterSchema = z.strictObject({
  weekly: z.array(z.strictObject({
    weekdays: z.array(weekday).min(1),
    from: timeOfDay,
    to: timeOfDay,
    handOvers: z.array(handOver).min(1),
    personId: id.optional(),
  })).default([]),
  extra: z.array(z.strictObject({
    on: date("one day"),
    from: timeOfDay,
    to: timeOfDay,
    handOvers: z.array(handOver).min(1),
    personId: id.optional(),
    costCents: cents("paid for it if a hand-over uses it").default(0),
  })).default([]),
  closed: z.array(z.strictObject({
    from: date("first day"),
    to: date("last day"),
    handOvers: z.array(handOver).min(1),
    reason: text("why"),
  })).default([]),
  lookIns: z.array(
    z.strictObject({
      weekdays: z.array(weekday).min(1),
      at: z.array(clockTime).min(1),
      personId: id.optional(),
    }),
  )
    .default([]).meta({ description: "short visits; they count for look-ins, never as hand-over hours" }),
  steepInTimes: z.array(clockTime).min(1).default(["08:00"]).meta({
    description: "times of day at which the farm starts a steep; the planner tries these",
  }),
  heldDays: z.int().min(0).max(60).default(3).meta({
    description: "days after as-of in which the planner moves and adds nothing",
  }),
});

const stageHours = (stage: string) =>
  z.strictObject({
    least: hours(`least hours in ${stage}`),
    usual: hours(`usual hours in ${stage}`),
    greatest: hours(`greatest hours in ${stage}`),
  });

/** One way to make a malt. Stage lengths are elapsed time; a stage may be stretched inside its limits to meet staffed hours. */
const profileSchema = z.strictObject({
  id,
  name: text("name", 40),
  steep: stageHours("steep"),
  bed: stageHours("bed"),
  kiln: stageHours("kiln"),
});

/** What a lot must show to be made into a malt. A value that was not measured is not held against it. */
const acceptanceSchema = z.strictObject({
  germinativeEnergyLeast: fraction("least germinative energy, which also says the lot is awake", {
    plausible: [0.8, 1],
    source: "at least 95 % (Montana State University malt laboratory)",
  }).default(0.95),
  germinationAtSteepLeast: fraction(
    "least share alive on the day of steeping; sets a lot's last malting day",
    {
      plausible: [0.7, 1],
      source: "common practice, no source",
    },
  ).default(0.9),
  proteinDbMost: fraction("most protein", { basis: "dry basis" }).optional(),
  plumpLeast: fraction("least plump corns").optional(),
  donPpmMost: number("mg/kg", "most deoxynivalenol", {
    limits: [0, 100],
    source: "1.0 mg/kg is common in contracts; NDSU: below 1.0 made acceptable malt",
  }).default(1),
});

/**
 * A malt, or a bought ingredient of its kind. `made.from` says how it comes about: from grain in steep, bed and kiln;
 * from another malt in a drum; or only bought.
 */
export const maltTypeSchema = z.strictObject({
  id,
  name: text("name", 40),
  made: z.discriminatedUnion("from", [
    z.strictObject({
      from: z.literal("grain"),
      crops: z.array(crop).min(1),
      acceptance: acceptanceSchema,
      profiles: z.array(profileSchema).min(1).max(8),
      screeningLoss: fraction("thins and dirt sized out before steeping", {
        basis: "of the weight drawn from the bin",
        plausible: [0, 0.2],
        source: "2 to 10 %, common practice, no source",
      }),
      steepLossDm: fraction("lost in steep", {
        basis: "of clean dry matter",
        plausible: [0, 0.04],
        source: "0.5 to 1.5 %, from memory",
      }),
      respirationLossDm: fraction("breathed away in the bed", {
        basis: "of clean dry matter",
        plausible: [0.01, 0.12],
        source: "4 to 6 %, from memory",
      }),
      rootletLossDm: fraction("rootlets taken off", {
        basis: "of clean dry matter",
        plausible: [0.01, 0.08],
        source: "3 to 5 %, from memory",
      }),
      culmMoistureWb: fraction("moisture of rootlets", {
        basis: "wet basis",
        source: "common practice, no source",
      }).default(0.05),
      monthLoadFactor: monthTable(
        fraction("share of the greatest load in that month of steeping", { limits: [0, 1.5] }),
      ).optional(),
      monthExtraKilnHours: monthTable(
        hours("hours added to the kiln stage in that month of steeping", { limits: [0, 96] }),
      ).optional(),
      alsoGives: z.array(z.strictObject({
        maltId: id,
        share: fraction("share of the malt weight that comes out as this other malt"),
      })).default([]),
      runCents: cents("cost of one run, whatever its load"),
      perTonneCents: cents("cost for each tonne of clean grain steeped").default(0),
    }),
    z.strictObject({
      from: z.literal("malt"),
      maltId: id,
      weightLoss: fraction("lost in the drum", { basis: "of the malt weight put in" }),
      leastG: massG("least load", { basis: "malt put in" }),
      greatestG: massG("greatest load", { basis: "malt put in" }),
      drumHours: hours("hours in the drum"),
      runCents: cents("cost of one drum load"),
    }),
    z.strictObject({ from: z.literal("bought") }),
  ]),
  maltMoistureWb: fraction("moisture of the malt", {
    basis: "wet basis",
    plausible: [0.02, 0.09],
    source: "4 to 5 % (Cereals Processing Technology)",
  }),
  extractCoarseDb: fraction("extract, coarse grind", {
    basis: "dry basis; as-is = dry basis x (1 - moisture)",
    plausible: [0.6, 0.86],
    source: "79 to 84 % fine grind dry basis is typical of base malt",
  }),
  restDays: z.int().min(0).max(365).meta({
    description: "days from stripping to brewing; 21 is the trade custom",
  }),
  shelfLifeDays: z.int().min(1).max(2000).meta({
    description: "days from stripping to best-before; book value 365",
  }),
  reserveFloorG: massG("stock kept for safety; left out: one mean week of the calendar's need", {
    basis: "ready malt",
  }).optional(),
});

/** Where malt stands: places that hold one malt batch each, resting malt included. */
export const maltStoreSchema = z.strictObject({
  places: z.int().min(0).max(100_000),
  placeG: massG("weight of malt one place holds", { plausible: [20_000, 2e6] }),
});

export type Vessel = z.output<typeof vesselSchema>;
export type Roster = z.output<typeof rosterSchema>;
export type Profile = z.output<typeof profileSchema>;
export type Acceptance = z.output<typeof acceptanceSchema>;
export type MaltType = z.output<typeof maltTypeSchema>;
/** How a malt is made from grain. */
export type MadeFromGrain = Extract<MaltType["made"], { from: "grain" }>;
