import { z } from "zod";
import {
  crop,
  date,
  dateSpread,
  days,
  fraction,
  id,
  massG,
  monthTable,
  number,
  origin,
  text,
  volumeL,
} from "./quantity.ts";

/** A laboratory or farm test of a lot. Without `resultOn` it is awaited, and no run of the lot can be booked. */
const analysisSchema = z.strictObject({
  id,
  sampledOn: date("day the sample was drawn"),
  expectedOn: date("day the result is expected").optional(),
  resultOn: date("day the result came").optional(),
  germinativeEnergy: fraction("germinated after 72 h in 4 mL", { plausible: [0.3, 1] }).optional(),
  germinativeCapacity: fraction("alive, dormant ones included", { plausible: [0.3, 1] }).optional(),
  proteinDb: fraction("protein", { basis: "dry basis", plausible: [0.06, 0.2] }).optional(),
  plump: fraction("plump corns", { plausible: [0.3, 1] }).optional(),
  donPpm: number("mg/kg", "deoxynivalenol", { limits: [0, 1000], plausible: [0, 20] }).optional(),
  viscosityRvu: number("RVU", "viscosity: above 120 sound, 50 to 120 sprouted but alive", {
    limits: [0, 1000],
    source: "Canadian Grain Commission",
  }).optional(),
  fallingNumberS: number("s", "falling number", { limits: [0, 1000] }).optional(),
});

/**
 * A lot: a weight with one ancestry and one analysis. `parents` are what was tipped together on `formedOn`: plantings
 * (by their weigh tickets), older lots, or a purchase. A forecast lot has `forecast: true` and takes its weight from
 * its planting or contract.
 */
export const lotSchema = z.strictObject({
  id,
  letter: text("one or two letters that stand on the drawing", 3),
  name: text("name"),
  crop,
  varietyClass: text("class of variety", 40),
  harvestYear: z.int().min(1990).max(2100),
  origin,
  owner: text("whose grain it is; `farm` for the farm's own", 60).default("farm"),
  organic: z.boolean().default(false),
  treatedSeed: z.boolean().default(false).meta({ description: "dressed seed: never food nor feed again" }),
  formedOn: date("day it was mixed or binned"),
  forecast: z.boolean().default(false),
  parents: z.array(z.discriminatedUnion("kind", [
    z.strictObject({ kind: z.literal("planting"), plantingId: id }),
    z.strictObject({
      kind: z.literal("lot"),
      lotId: id,
      massG: massG("weight that went in", { basis: "as in bin" }),
    }),
    z.strictObject({ kind: z.literal("bought"), from: text("seller, or contract") }),
  ])).default([]),
  moistureWb: fraction("moisture in store", { basis: "wet basis", plausible: [0.08, 0.16] }),
  testWeightKgPerHl: number("kg/hl", "test weight", { limits: [20, 100], plausible: [40, 85] }),
  analyses: z.array(analysisSchema).default([]),
  wakesOn: dateSpread.optional().meta({
    description:
      "first malting day as judged; a measured germinative energy stands above it; the late date is planned on",
  }),
  useBy: z.strictObject({ on: date("last day it may be steeped"), reason: text("why") }).optional(),
  use: z.enum(["malting", "held", "feed", "raw"]).meta({
    description: "the farm's decision: for malting, held, feed only, or unmalted for the mash",
  }),
  maltExtractDb: fraction(
    "extract of malt made from it, coarse grind, when it differs from the malt's book value",
    {
      basis: "dry basis",
      plausible: [0.65, 0.85],
    },
  ).optional(),
});

const storeTemperature = monthTable(
  number("degC", "grain temperature", { limits: [-40, 60], plausible: [-10, 30] }),
);

/** A bin or silo: one lot at a time, swept and left empty for `turnaroundDays` between two lots. */
const binSchema = z.strictObject({
  kind: z.literal("bin"),
  id,
  name: text("name", 40),
  shape: z.discriminatedUnion("kind", [
    z.strictObject({
      kind: z.literal("cylinder"),
      diameterM: number("m", "inner diameter", { limits: [0.5, 40] }),
      depthM: number("m", "depth to the eave, filled level", { limits: [0.5, 40] }),
    }),
    z.strictObject({
      kind: z.literal("volume"),
      volumeL: volumeL("volume filled level", { plausible: [500, 2e6] }),
    }),
  ]),
  turnaroundDays: days("empty and clean before the next lot", {
    plausible: [0, 30],
    source: "3 days, common practice, no source",
  }).default(3),
  monthTempC: storeTemperature,
});

/** A row of bulk bags: each place holds one lot, a row may hold several lots. */
const bagRowSchema = z.strictObject({
  kind: z.literal("bags"),
  id,
  name: text("name", 40),
  places: z.int().min(1).max(10_000),
  placeVolumeL: volumeL("volume of one bag", { plausible: [200, 2000] }),
  monthTempC: storeTemperature,
});

export const storeSchema = z.discriminatedUnion("kind", [binSchema, bagRowSchema]);

/** The dryer. Its queue is a later page; the plan uses only what it costs to take water off. */
export const dryerSchema = z.strictObject({
  id,
  name: text("name", 40),
  kind: z.enum(["static", "mixed-flow"]),
  greatestAirTempC: number("degC", "hottest air allowed for malting grain", {
    limits: [0, 120],
    plausible: [20, 65],
    source: "38 degC heated air for malting barley (American Malting Barley Association, 2010 statement)",
  }),
  waterKgPerHour: number("kg/h", "water it takes off", { limits: [0, 1e5] }),
  energyMjPerKgWater: number("MJ/kg", "energy per kilogram of water", {
    limits: [0, 50],
    plausible: [2.5, 9],
    source: "4.65 MJ/kg, a good high-temperature dryer (Ontario agriculture ministry)",
  }),
  fuelCentsPerMj: number("cent/MJ", "price of heat", { limits: [0, 1000] }),
});

export type Analysis = z.output<typeof analysisSchema>;
export type Lot = z.output<typeof lotSchema>;
export type Bin = z.output<typeof binSchema>;
export type BagRow = z.output<typeof bagRowSchema>;
export type Store = z.output<typeof storeSchema>;
