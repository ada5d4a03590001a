import { z } from "zod";
import { at, date, fraction, id, massG, text, volumeL } from "./quantity.ts";

const draw = z.strictObject({
  lotId: id,
  storeId: id,
  massG: massG("weight drawn", { basis: "as in bin, before screening" }),
});

const vesselIds = z.strictObject({ steep: id, bed: id, kiln: id });

const batchOut = z.strictObject({
  batchId: id,
  maltId: id,
  massG: massG("malt weighed after rootlets came off", { basis: "as is" }),
});

const by = { by: text("who wrote it", 60).optional(), note: text("why, or what happened", 200).optional() };

/**
 * A batch of malt, or of bagged raw grain bought as an ingredient. `home` says that it was made on the farm from home-grown grain (origin own).
 */
const batchSchema = z.strictObject({
  id,
  ingredient: z.discriminatedUnion("kind", [
    z.strictObject({ kind: z.literal("malt"), maltId: id }),
    z.strictObject({ kind: z.literal("grain"), crop: z.enum(["barley", "wheat", "rye", "oats"]) }),
  ]),
  massG: massG("weight in store", { basis: "as is" }),
  home: z.boolean(),
  lotIds: z.array(id).default([]).meta({ description: "lots it was made from, as far as known" }),
  madeOn: date("day stripped or received"),
  readyOn: date("first brew day"),
  bestBefore: date("last brew day"),
  extractAsIs: fraction("extract", { basis: "as is", plausible: [0.4, 0.85] }),
});

/** What lay where at `positionAt`. Runs under way then are recorded runs with an earlier steep-in. */
export const openingSchema = z.strictObject({
  grain: z.array(
    z.strictObject({ lotId: id, storeId: id, massG: massG("weight in the store", { basis: "as in bin" }) }),
  ).default([]),
  malt: z.array(batchSchema).default([]),
  tanks: z.array(z.strictObject({
    tankId: id,
    what: text("what is in it", 60),
    volumeL: volumeL("volume"),
    since: date("day filled").optional(),
    freeOn: date("first day another beer may go in, cleaning included"),
  })).default([]),
});

/**
 * A run that was started. Hand-overs that have not happened yet are left out and follow the profile. `endedAt` is
 * for a run that was given up: it stops there and gives no malt.
 */
const recordedRunSchema = z.strictObject({
  id,
  draws: z.array(draw).min(1).max(2),
  maltId: id,
  profileId: id,
  vesselIds,
  steepInAt: at("steep-in"),
  castAt: at("cast to bed").optional(),
  kilnAt: at("kiln loaded").optional(),
  stripAt: at("stripped").optional(),
  endedAt: at("given up").optional(),
  outputs: z.array(batchOut).default([]),
  outcome: z.enum(["released", "held", "feed", "dumped"]).optional(),
  ...by,
});

/** A run somebody has booked: every hand-over has its minute. */
const bookedRunSchema = z.strictObject({
  id,
  draws: z.array(draw).min(1).max(2),
  maltId: id,
  profileId: id,
  vesselIds,
  steepInAt: at("steep-in"),
  castAt: at("cast to bed"),
  kilnAt: at("kiln loading"),
  stripAt: at("strip"),
  ...by,
});

const tankFill = z.strictObject({ tankId: id, volumeL: volumeL("wort that went in", { basis: "cold" }) });

const recordedBrew = z.strictObject({
  brewId: id,
  on: date("brew day"),
  tanks: z.array(tankFill).min(1),
  grist: z.array(z.strictObject({
    lineId: id,
    from: z.discriminatedUnion("kind", [
      z.strictObject({ kind: z.literal("batch"), batchId: id }),
      z.strictObject({ kind: z.literal("lot"), lotId: id, storeId: id }),
    ]),
    massG: massG("weight used", { basis: "as is" }),
  })),
  ...by,
});

const load = z.strictObject({
  id,
  pickupId: id,
  on: date("day fetched"),
  items: z.array(draw).min(1),
  ...by,
});

const order = z.strictObject({
  id,
  offerId: id,
  orderedOn: date("day ordered"),
  arrivesOn: date("day it arrives or arrived"),
  packs: z.int().min(1).max(100_000),
  batchId: id,
  ...by,
});

const move = z.strictObject({
  id,
  on: date("day moved"),
  lotId: id,
  fromStoreId: id,
  toStoreId: id,
  massG: massG("weight that left the old store", { basis: "as in bin" }),
  lossG: massG("lost on the way"),
  ...by,
});

const maltDelivery = z.strictObject({
  id,
  contractId: id,
  on: date("day"),
  batchId: id,
  massG: massG("weight delivered", { basis: "malt as is" }),
  ...by,
});

/** What has happened, dated. Facts are corrected by further facts, never rubbed out. */
export const recordsSchema = z.strictObject({
  runs: z.array(recordedRunSchema).default([]),
  brews: z.array(recordedBrew).default([]),
  orders: z.array(order).default([]),
  feedLoads: z.array(load).default([]),
  moves: z.array(move).default([]),
  /** Grain tipped together (or split off) into a new lot; the parents are drawn down by their weights. */
  mixes: z.array(z.strictObject({
    id,
    on: date("day"),
    parents: z.array(draw).min(1),
    intoLotId: id,
    storeId: id,
    ...by,
  })).default([]),
  /** Weighed lots put in store after `positionAt`. */
  fills: z.array(z.strictObject({
    id,
    on: date("day"),
    lotId: id,
    storeId: id,
    massG: massG("weight binned", { basis: "as in bin" }),
    ...by,
  })).default([]),
  /** Grain delivered under a contract. */
  deliveries: z.array(z.strictObject({
    id,
    contractId: id,
    on: date("day"),
    lotId: id,
    storeId: id,
    massG: massG("weight delivered", { basis: "as in bin" }),
    ...by,
  })).default([]),
  /** Malt delivered under a contract. Without a default, so that a file of before stays the same season, with the same hash. */
  maltDeliveries: z.array(maltDelivery).optional(),
  /** The book set right: what was counted less what the book said, with its reason. Grain or malt, never both. */
  adjustments: z.array(z.strictObject({
    id,
    on: date("day counted"),
    lotId: id.optional(),
    storeId: id.optional(),
    batchId: id.optional(),
    deltaG: z.int().min(-2e10).max(2e10).meta({ description: "counted less book", unit: "g" }),
    reason: text("why", 200),
    ...by,
  })).default([]),
});

/** What people have agreed to do. The planner leaves it alone or says that it cannot be kept. */
export const bookingsSchema = z.strictObject({
  runs: z.array(bookedRunSchema).default([]),
  brews: z.array(z.strictObject({ brewId: id, on: date("brew day"), ...by })).default([]),
  orders: z.array(order).default([]),
  feedLoads: z.array(load).default([]),
  moves: z.array(move).default([]),
});

export type Draw = z.output<typeof draw>;
export type Batch = z.output<typeof batchSchema>;
export type RecordedRun = z.output<typeof recordedRunSchema>;
export type BookedRun = z.output<typeof bookedRunSchema>;
export type RecordedBrew = z.output<typeof recordedBrew>;
export type Order = z.output<typeof order>;
export type FeedLoad = z.output<typeof load>;
export type Move = z.output<typeof move>;
export type MaltDelivery = z.output<typeof maltDelivery>;
export type Records = z.output<typeof recordsSchema>;
export type Bookings = z.output<typeof bookingsSchema>;
export type VesselIds = z.output<typeof vesselIds>;
