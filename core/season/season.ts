import { z } from "zod";
import { isZone } from "../zone.ts";
import {
  beerSchema,
  brewhouseSchema,
  brewSchema,
  contractSchema,
  costsSchema,
  feedPickupSchema,
  supplyOfferSchema,
  tankSchema,
} from "./brewing.ts";
import { dryerSchema, lotSchema, storeSchema } from "./grain.ts";
import { fieldSchema, plantingSchema, seedReserveSchema, weighTicketSchema } from "./land.ts";
import { maltStoreSchema, maltTypeSchema, personSchema, rosterSchema, vesselSchema } from "./malthouse.ts";
import { at, date, id, text, weekday } from "./quantity.ts";
import { bookingsSchema, openingSchema, recordsSchema } from "./records.ts";

/**
 * A season file, version 1: everything that is known about one farm's year, and nothing that is decided by the planner.
 * This schema is the data dictionary; `deno task schema` prints it as JSON Schema.
 */
export const seasonSchema = z.strictObject({
  format: z.literal("rickyard-season"),
  version: z.literal(1),
  id,
  name: text("the farm", 80),
  about: text("what this file is; says so when its numbers are invented", 400).default(""),
  zone: z.string().refine(isZone, "an IANA time zone such as Europe/Dublin").meta({
    description: "the farm's zone",
  }),
  readerUnits: z.enum(["us", "metric"]).meta({ description: "units shown first; inside it is always SI" }),
  currency: z.string().regex(/^[A-Z]{3}$/, "three capital letters, ISO 4217").meta({
    description: "ISO 4217",
  }),
  weekStartsOn: weekday.default(1),
  positionAt: at("the opening position is what lay where at this minute"),
  asOf: at("records reach up to this minute; what is later is plan"),
  fixedAsOf: at("stands for now in a demo or an example, whatever the clock says").optional(),
  horizonEnd: date("last day shown; planning goes twelve weeks further"),
  bookValues: z.array(text("JSON pointer of a value that nobody has replaced yet", 200)).default([]),
  fields: z.array(fieldSchema).default([]),
  plantings: z.array(plantingSchema).default([]),
  weighTickets: z.array(weighTicketSchema).default([]),
  seedReserves: z.array(seedReserveSchema).default([]),
  lots: z.array(lotSchema).default([]),
  stores: z.array(storeSchema).default([]),
  dryers: z.array(dryerSchema).default([]),
  vessels: z.array(vesselSchema).default([]),
  people: z.array(personSchema).default([]),
  roster: rosterSchema,
  maltTypes: z.array(maltTypeSchema).default([]),
  maltStore: maltStoreSchema,
  beers: z.array(beerSchema).default([]),
  brews: z.array(brewSchema).default([]),
  brewhouse: brewhouseSchema,
  tanks: z.array(tankSchema).default([]),
  supplyOffers: z.array(supplyOfferSchema).default([]),
  contracts: z.array(contractSchema).default([]),
  feedPickups: z.array(feedPickupSchema).default([]),
  costs: costsSchema,
  opening: openingSchema,
  records: recordsSchema,
  bookings: bookingsSchema,
});

/** A season that has passed the schema. */
export type Season = z.output<typeof seasonSchema>;
/** What a file may leave out, left out. */
export type SeasonFile = z.input<typeof seasonSchema>;
