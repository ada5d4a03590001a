import { z } from "zod";
import { crop, date, dateSpread, days, fraction, id, massG, number, text } from "./quantity.ts";

/** A field. What it carries in a year is a planting, or an entry in its history for anything that is not grain. */
export const fieldSchema = z.strictObject({
  id,
  name: text("name on the gate", 60),
  areaM2: number("m2", "area that is drilled", { limits: [1, 1e8], plausible: [500, 1e6] }),
  cropHistory: z.array(z.strictObject({
    year: z.int().min(1990).max(2100).meta({ description: "harvest year" }),
    crop: text("what grew or will grow there: any crop, break or fallow", 40),
  })).default([]).meta({ description: "three years back at least, and breaks to come" }),
});

/**
 * A planting: one crop of one variety class and sowing season, on one or several fields, cut as one. Until it is
 * weighed it stands for the forecast lot `lotId`, and the first weighed lot takes over that id.
 */
export const plantingSchema = z.strictObject({
  id,
  fieldIds: z.array(id).min(1),
  areaM2: number("m2", "area drilled", { limits: [1, 1e8], plausible: [500, 1e6] }),
  crop,
  varietyClass: text("class of variety, for example two-row malting; no variety owner's name", 40),
  sowingSeason: z.enum(["winter", "spring"]),
  harvestYear: z.int().min(1990).max(2100),
  state: z.enum(["planned", "sown", "harvested", "lost"]),
  drillOn: date("day drilled, or to be drilled"),
  yieldKgPerHa: z.strictObject({
    bad: number("kg/ha", "bad year", { basis: "as cut", limits: [0, 20_000], plausible: [0, 12_000] }),
    likely: number("kg/ha", "likely", { basis: "as cut", limits: [0, 20_000], plausible: [500, 12_000] }),
    good: number("kg/ha", "good year", { basis: "as cut", limits: [0, 20_000], plausible: [500, 15_000] }),
  }),
  moistureAtHarvestWb: fraction("moisture at the cut", { basis: "wet basis", plausible: [0.1, 0.25] }),
  harvest: dateSpread,
  dryToWb: fraction("moisture it is dried to; grain already drier is left as it is", {
    basis: "wet basis",
    plausible: [0.1, 0.145],
    source: "NDSU/UMN Field Guide A-290: 13.5 % up to nine months, 12.5 % longer",
  }),
  handlingLoss: fraction("loss on handling and drying", {
    basis: "of the weight cut",
    plausible: [0, 0.03],
    source: "0.5 % is the usual trade allowance",
  }),
  intakeCleaningLoss: fraction("dirt and thins taken out at intake", {
    basis: "of the dried weight",
    plausible: [0, 0.15],
    source: "common practice, no source",
  }),
  testWeightKgPerHl: number("kg/hl", "expected test weight", { limits: [20, 100], plausible: [40, 85] }),
  restAfterHarvestDays: z.strictObject({
    early: days("early waking"),
    likely: days("likely waking"),
    late: days("late waking: promises are planned on this one", {
      plausible: [0, 200],
      source: "3 to 8 weeks, from memory",
    }),
  }).meta({ description: "days from harvest to a first malting day" }),
  lotId: id,
});

/** Grain taken from a lot to be sown, on one day; it cannot be malted. */
export const seedReserveSchema = z.strictObject({
  id,
  lotId: id,
  massG: massG("weight taken for seed", { basis: "as in bin" }),
  on: date("day it leaves the bin"),
});

/** One load over the scales at harvest. */
export const weighTicketSchema = z.strictObject({
  id,
  plantingId: id,
  lotId: id,
  on: date("day weighed"),
  massG: massG("weight over the scales", { basis: "as cut" }),
  moistureWb: fraction("moisture of the load", { basis: "wet basis", plausible: [0.08, 0.3] }),
});

export type Field = z.output<typeof fieldSchema>;
export type Planting = z.output<typeof plantingSchema>;
