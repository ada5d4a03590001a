import { z } from "zod";
import { at, date, id, massG, text, volumeL } from "../season/quantity.ts";
import { planBoundSchema } from "./plan-bound.ts";

const mass = massG;
const draw = z.strictObject({
  lotId: id,
  storeId: id,
  massG: mass("drawn", { basis: "as in bin, before screening" }),
});

/** Where a thing of the plan stands: decided by nobody yet, booked, or begun before as-of and to be finished. */
export const standing = z.enum(["not booked", "booked", "under way"]);

/**
 * A run still to be finished at as-of. `id` of a booked or under-way run is the booking's or record's. Weights:
 * draws as in bin -> less screenings = clean grain in the vessels -> malt of each output, after rootlets.
 */
const planRunSchema = z.strictObject({
  id,
  standing,
  draws: z.array(draw).min(1).max(2),
  maltId: id,
  profileId: id,
  vesselIds: z.strictObject({ steep: id, bed: id, kiln: id }),
  steepInAt: at("steep-in"),
  castAt: at("cast to bed"),
  kilnAt: at("kiln loading"),
  stripAt: at("strip"),
  screeningsG: mass("thins and dirt"),
  cleanG: mass("clean grain steeped", { basis: "as is" }),
  culmsG: mass("rootlets", { basis: "as is" }),
  outputs: z.array(z.strictObject({
    batchId: id,
    maltId: id,
    massG: mass("malt", { basis: "as is, after rootlets" }),
    readyOn: date("first brew day, after its rest"),
    bestBefore: date("last brew day"),
  })).min(1),
});

/** A drum load: malt made from malt. */
const planDrumSchema = z.strictObject({
  id,
  on: date("day"),
  maltId: id,
  from: z.array(z.strictObject({ batchId: id, massG: mass("malt put in") })).min(1),
  batchId: id,
  massG: mass("malt out"),
  readyOn: date("first brew day"),
  bestBefore: date("last brew day"),
});

/** What one grist line of a brew is met with. */
const gristUse = z.strictObject({
  lineId: id,
  from: z.discriminatedUnion("kind", [
    z.strictObject({ kind: z.literal("batch"), batchId: id }),
    z.strictObject({ kind: z.literal("lot"), lotId: id, storeId: id }),
  ]),
  massG: mass("weight", { basis: "as is" }),
});

/** A brew that is made. Tail brews (after the horizon) carry the id `tail-` + the id of the brew 52 weeks before. */
const planBrewSchema = z.strictObject({
  id,
  beerId: id,
  standing,
  on: date("brew day"),
  tanks: z.array(z.strictObject({ tankId: id, volumeL: volumeL("wort", { basis: "cold" }) })).min(1).max(2),
  grist: z.array(gristUse),
  homeShare: z.number().min(0).max(1).meta({ description: "home-grown weight out of grist weight" }),
  promiseHeld: z.boolean(),
});

/** First causes a shortfall can name. */
const CAUSES = [
  "no grain",
  "not awake",
  "too old",
  "awaiting result",
  "steep full",
  "bed full",
  "kiln full",
  "malt store full",
  "nobody there",
  "tanks full",
  "brewhouse full",
  "no supply in time",
  "no malt in time",
  "held days",
] as const;
export const cause = z.enum(CAUSES);

export const planSchema = z.strictObject({
  format: z.literal("rickyard-plan"),
  version: z.literal(1),
  seasonId: id,
  seasonHash: z.string().length(64).meta({
    description: "SHA-256 of the season's canonical JSON, hexadecimal",
  }),
  revision: z.int().min(0),
  asOf: at("the minute it was made for"),
  seed: z.int().min(0),
  iterations: z.int().min(0),
  program: text("program version", 20),
  stoppedEarly: z.boolean(),
  /** The accepted plan that this one was made from and its changed runs are counted against; a plan made anew names none. */
  against: z.strictObject({
    seasonHash: z.string().length(64),
    revision: z.int().min(0),
    asOf: at("the minute it was made for"),
  }).optional(),
  runs: z.array(planRunSchema),
  drums: z.array(planDrumSchema),
  brews: z.array(planBrewSchema),
  /** Brews of the calendar, tail included, that are not made, each with a first cause. */
  unbrewed: z.array(z.strictObject({ id, beerId: id, cause, why: text("in a sentence", 240) })),
  maltDeliveries: z.array(z.strictObject({
    contractId: id,
    on: date("day"),
    from: z.array(z.strictObject({ batchId: id, massG: mass("malt") })).min(1),
  })),
  unsold: z.array(z.strictObject({ contractId: id, cause, why: text("in a sentence", 240) })),
  orders: z.array(z.strictObject({
    id,
    standing,
    offerId: id,
    orderedOn: date("day ordered"),
    arrivesOn: date("day it arrives"),
    packs: z.int().min(1),
    batchId: id,
    massG: mass("weight ordered"),
    bestBefore: date("last brew day"),
    costCents: z.int().min(0),
  })),
  /** Grain that comes in: harvest and contracts, into which store. */
  fills: z.array(
    z.strictObject({
      on: date("day"),
      lotId: id,
      storeId: id,
      massG: mass("weight binned", { basis: "as in bin" }),
    }),
  ),
  /** Grain for which no place could be found; it may stay in the field or be sold off the combine, and counts for nothing. */
  leftOut: z.array(
    z.strictObject({ lotId: id, on: date("day"), massG: mass("weight", { basis: "as in bin" }) }),
  ),
  moves: z.array(z.strictObject({
    id,
    standing,
    on: date("day"),
    lotId: id,
    fromStoreId: id,
    toStoreId: id,
    massG: mass("that leaves the old store"),
    lossG: mass("lost on the way"),
  })),
  feedLoads: z.array(z.strictObject({
    id,
    standing,
    pickupId: id,
    on: date("day"),
    items: z.array(draw).min(1),
    revenueCents: z.int().meta({ description: "price less haulage" }),
  })),
  seedTaken: z.array(
    z.strictObject({ reserveId: id, on: date("day"), lotId: id, storeId: id, massG: mass("weight") }),
  ),
  grainDeliveries: z.array(z.strictObject({
    contractId: id,
    on: date("day"),
    lotId: id,
    storeId: id,
    massG: mass("weight"),
  })),
  /** Bookings that have become impossible, with the reason; the rest is planned around them. */
  cannotKeep: z.array(z.strictObject({
    kind: z.enum(["run", "brew", "order", "feed load", "move"]),
    id,
    why: text("in a sentence", 240),
  })),
  goals: z.strictObject({
    made: z.tuple([z.int(), z.int(), z.int()]).meta({
      description: "brews and malt sales made inside the horizon, class 1 to 3",
    }),
    asked: z.tuple([z.int(), z.int(), z.int()]).meta({
      description: "asked for inside the horizon after as-of, class 1 to 3",
    }),
    promisesHeld: z.int().min(0).meta({
      description: "brews made inside the horizon whose home-share promise holds",
    }),
    tailMade: z.int().min(0).meta({
      description: "brews of the twelve-week tail made; counts after all promises",
    }),
    moneyCents: z.int().meta({ description: "what the plan costs, less what it brings; less is better" }),
    money: z.strictObject({
      runsCents: z.int(),
      ordersCents: z.int(),
      movesCents: z.int(),
      nightTurnsCents: z.int(),
      extraHoursCents: z.int(),
      feedCents: z.int().meta({ description: "negative: brings money" }),
      salesCents: z.int().meta({ description: "negative: brings money" }),
      endGrainCents: z.int().meta({
        description: "negative: grain still fit for malting when the plan ends, at its best feed price",
      }),
      reserveCents: z.int(),
      changedRunsCents: z.int(),
    }),
  }),
  bound: planBoundSchema.optional().meta({
    description: "how much better any plan could be; left out where nothing was proven",
  }),
});

export type Standing = z.output<typeof standing>;
export type PlanRun = z.output<typeof planRunSchema>;
export type PlanDrum = z.output<typeof planDrumSchema>;
export type PlanBrew = z.output<typeof planBrewSchema>;
export type Cause = z.output<typeof cause>;
export type Plan = z.output<typeof planSchema>;
