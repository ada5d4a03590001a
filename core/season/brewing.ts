import { z } from "zod";
import { MOST_PLATO } from "../physics/extract.ts";
import { cents, crop, date, days, fraction, id, massG, number, text, volumeL, weekday } from "./quantity.ts";
import { closureSchema } from "./malthouse.ts";

/** What a grist line calls for: a malt (home-made or bought), or unmalted grain of a crop. */
const ingredientSchema = z.discriminatedUnion("kind", [
  z.strictObject({ kind: z.literal("malt"), maltId: id }),
  z.strictObject({
    kind: z.literal("grain"),
    crop,
    extractAsIs: fraction("extract of the raw grain", { basis: "as is", plausible: [0.4, 0.8] }),
  }),
]);

/**
 * A beer. The grist is written in weight shares at book extracts; what a brew must get is *extract*, so a lot with
 * more extract needs fewer kilograms (see `gristNeed` in need.ts).
 */
export const beerSchema = z.strictObject({
  id,
  name: text("name", 60),
  letter: text("one small letter on the drawing", 2),
  gravityP: number("degP", "original gravity", { limits: [1, MOST_PLATO], plausible: [6, 28] }),
  finalGravityP: number("degP", "final gravity", { limits: [-2, 20], plausible: [0, 8] }).optional(),
  volumeL: volumeL("wort into the fermenter at one brew", { basis: "cold", plausible: [50, 20_000] }),
  brewhouseEfficiency: fraction("extract in the fermenter out of the grist's coarse as-is extract", {
    plausible: [0.6, 0.98],
    source: "80 to 95 % of laboratory extract; 85 % book value",
  }),
  losses: z.array(
    z.strictObject({
      name: text("where", 40),
      share: fraction("lost there", { basis: "of the volume that enters it" }),
    }),
  )
    .default([]).meta({ description: "fermenter to package, in order; they multiply" }),
  tankDays: days("from brew day to emptied", { plausible: [7, 120] }),
  grist: z.array(z.strictObject({
    id,
    ingredient: ingredientSchema,
    share: fraction("share of the grist by weight, at book extracts"),
  })).min(0),
  homeSharePromise: fraction("least share of home-grown grain promised", {
    basis: "weight of malt and grain in the grist, water excluded",
  }).default(0),
  substitutes: z.array(z.strictObject({
    forLine: id,
    ingredient: ingredientSchema,
    mostShare: fraction("most of that line's extract that may come from it"),
  })).default([]),
  requires: z.array(z.strictObject({
    kind: z.enum(["field", "lot"]),
    ids: z.array(id).min(1),
    leastShare: fraction("least share of the grist weight from these fields or lots"),
    unmixed: z.boolean().default(false).meta({ description: "kept unmixed through bin, run and store" }),
  })).default([]),
});

/** A brew of the calendar. `earliest` = `latest` is a fixed date. A brew is made whole or not at all. */
export const brewSchema = z.strictObject({
  id,
  beerId: id,
  on: date("day wanted"),
  earliest: date("first day allowed"),
  latest: date("last day allowed"),
  class: z.int().min(1).max(3).meta({ description: "1 promised, 2 expected, 3 if possible" }),
  pilot: z.boolean().default(false).meta({ description: "a small trial brew" }),
  volumeL: volumeL("wort into the fermenter when it differs from the beer's", {
    basis: "cold",
    plausible: [20, 20_000],
  }).optional(),
});

/** The brewhouse's own limits. */
export const brewhouseSchema = z.strictObject({
  brewsPerDay: z.int().min(0).max(24),
  brewWeekdays: z.array(weekday),
  closed: z.array(z.strictObject({ from: date("first day"), to: date("last day"), reason: text("why") }))
    .default([]),
});

/** A fermenter. A brew holds it from its brew day for the beer's tank days and then `turnaroundDays` for cleaning. */
export const tankSchema = z.strictObject({
  id,
  name: text("name", 40),
  volumeL: volumeL("most wort it takes", { basis: "cold", plausible: [50, 40_000] }),
  turnaroundDays: days("to clean between two beers", { plausible: [0, 14] }).default(1),
  closures: z.array(closureSchema).default([]),
});

/** Where malt, or bagged raw grain, can be bought. */
export const supplyOfferSchema = z.strictObject({
  id,
  supplier: text("who, invented in the demo", 60),
  ingredient: ingredientSchema,
  from: date("first order day"),
  to: date("last order day"),
  packG: massG("one pack", { plausible: [1000, 2e6] }),
  leastPacks: z.int().min(1).max(100_000).meta({ description: "least packs in one order" }),
  leadDays: days("from order to arrival", { plausible: [0, 120] }),
  orderWeekdays: z.array(weekday).min(1).default([1, 2, 3, 4, 5]),
  packCents: cents("price of one pack"),
  freightCents: cents("freight of one order, whatever its size"),
  extractAsIs: fraction("extract", { basis: "as is", plausible: [0.4, 0.85] }),
  shelfLifeDays: z.int().min(1).max(2000).meta({ description: "days from arrival to best-before" }),
  origin: z.enum(["in-state", "elsewhere"]).default("elsewhere"),
});

/** Something agreed with somebody: grain bought or sold, malt sold, or malt made from somebody's grain. */
export const contractSchema = z.discriminatedUnion("kind", [
  z.strictObject({
    kind: z.literal("buy-grain"),
    id,
    party: text("seller", 60),
    lotId: id,
    massG: massG("weight that arrives", { basis: "as in bin" }),
    on: date("day it arrives"),
    perTonneCents: cents("price a tonne, delivered"),
  }),
  z.strictObject({
    kind: z.literal("sell-grain"),
    id,
    party: text("buyer", 60),
    lotId: id,
    massG: massG("weight to deliver", { basis: "as in bin" }),
    from: date("first day"),
    to: date("last day"),
    perTonneCents: cents("price a tonne"),
  }),
  z.strictObject({
    kind: z.literal("sell-malt"),
    id,
    party: text("customer", 60),
    maltId: id,
    massG: massG("weight to deliver", { basis: "malt as is" }),
    from: date("first day"),
    to: date("last day"),
    perTonneCents: cents("price a tonne"),
    class: z.int().min(1).max(3),
    lotIds: z.array(id).optional().meta({ description: "for malt made from the customer's own lots" }),
  }),
]);

/** An offer to fetch feed. Loads carry several lots kept apart; a load is whole: between least and greatest. */
export const feedPickupSchema = z.strictObject({
  id,
  buyer: text("who, invented in the demo", 60),
  species: z.enum(["cattle over four months", "young cattle", "pigs", "poultry", "sheep", "other"]),
  crops: z.array(crop).min(1),
  from: date("first day"),
  to: date("last day"),
  weekdays: z.array(weekday).min(1).default([1, 2, 3, 4, 5]),
  leastG: massG("least load", { basis: "as in bin" }),
  greatestG: massG("greatest load", { basis: "as in bin" }),
  mostLoads: z.int().min(1).max(1000),
  perTonneCents: cents("price a tonne"),
  haulageCents: cents("cost of one load, whatever its weight").default(0),
  donPpmMost: number("mg/kg", "most deoxynivalenol the buyer takes", {
    limits: [0, 100],
    source: "FDA 2010: 10 for cattle over four months, 5 for pigs, 5 for others; verify with the authority",
  }),
});

/** What things cost beyond the malts' own run costs, and the stated prices inside the money goal. */
export const costsSchema = z.strictObject({
  moveLoss: fraction("lost when grain moves from bin to bin", { source: "0.5 %, common practice, no source" })
    .default(0.005),
  moveCents: cents("cost of one move").default(0),
  movePerTonneCents: cents("cost of moving a tonne").default(0),
  reservePerTonneDayCents: cents("price of each tonne-day under a malt's reserve floor"),
  changedRunCents: cents("price of each run changed against an accepted plan"),
});

export type Ingredient = z.output<typeof ingredientSchema>;
export type Beer = z.output<typeof beerSchema>;
export type Brew = z.output<typeof brewSchema>;
export type Brewhouse = z.output<typeof brewhouseSchema>;
export type Tank = z.output<typeof tankSchema>;
export type SupplyOffer = z.output<typeof supplyOfferSchema>;
export type Contract = z.output<typeof contractSchema>;
export type FeedPickup = z.output<typeof feedPickupSchema>;
export type Costs = z.output<typeof costsSchema>;
