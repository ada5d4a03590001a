import { seasonSchema } from "../season/season.ts";
import type { Place } from "../edit/place.ts";

/** One part of the season file that is edited by itself: a list of rows, or one form. */
export interface Content {
  readonly place: Place;
  readonly kind: "list" | "form";
  readonly title: string;
  /** What is in it, in a few words. */
  readonly about: string;
}

/** Parts of the season file that belong together. */
export interface ContentGroup {
  readonly title: string;
  readonly contents: readonly Content[];
}

const list = (place: Place, title: string, about: string): Content => ({ place, kind: "list", title, about });
const form = (place: Place, title: string, about: string): Content => ({ place, kind: "form", title, about });

/** The whole season file in the order of the trade, from acre to pint. */
export const CONTENTS: readonly ContentGroup[] = [
  {
    title: "Land",
    contents: [
      list("/fields", "Fields", "size, and what grew there"),
      list("/plantings", "Plantings", "crop, drilling, yield and harvest"),
      list("/weighTickets", "Weigh tickets", "loads over the scales at harvest"),
      list("/seedReserves", "Seed reserves", "grain kept back to be sown"),
    ],
  },
  {
    title: "Grain",
    contents: [
      list("/lots", "Lots", "where each comes from, its analyses and its use"),
      list("/stores", "Stores", "bins and rows of bags"),
      list("/dryers", "Dryers", "heat, water taken off and fuel"),
    ],
  },
  {
    title: "Malthouse",
    contents: [
      list("/vessels", "Vessels", "loads, cleaning and turning"),
      list("/maltTypes", "Malts", "how each is made, and what is lost on the way"),
      form("/maltStore", "Malt store", "places for malt"),
      list("/people", "People", "who works here, and when they are away"),
      form("/roster", "Roster", "when somebody is at the vessels"),
    ],
  },
  {
    title: "Brewhouse",
    contents: [
      list("/beers", "Beers", "grist, gravity, volume and losses"),
      list("/brews", "Brew calendar", "what is to be brewed when"),
      form("/brewhouse", "Brewhouse", "brews a day and brewing days"),
      list("/tanks", "Tanks", "fermenters, and when they are closed"),
    ],
  },
  {
    title: "Trade",
    contents: [
      list("/supplyOffers", "Supply offers", "malt and bagged grain that can be bought"),
      list("/contracts", "Contracts", "grain bought or sold, malt sold"),
      list("/feedPickups", "Feed pick-ups", "who fetches feed, when and for how much"),
      form("/costs", "Costs", "moves, the reserve, changed runs"),
    ],
  },
  {
    title: "Opening position",
    contents: [
      list("/opening/grain", "Grain in store", "what lay in each store"),
      list("/opening/malt", "Malt in store", "batches of malt and bagged grain"),
      list("/opening/tanks", "Filled tanks", "what was in the tanks"),
    ],
  },
  {
    title: "What happened",
    contents: [
      list("/records/runs", "Malting runs", "started, under way and stripped"),
      list("/records/brews", "Brews made", "what was used for them"),
      list("/records/orders", "Orders placed", "malt and grain on its way or arrived"),
      list("/records/feedLoads", "Feed loads fetched", "what left as feed"),
      list("/records/moves", "Grain moved", "from store to store"),
      list("/records/mixes", "Lots mixed", "grain tipped together into a new lot"),
      list("/records/fills", "Grain put in store", "weighed lots that came in"),
      list("/records/deliveries", "Grain delivered", "grain that left under a contract"),
      list("/records/maltDeliveries", "Malt delivered", "malt that left under a contract"),
      list("/records/adjustments", "Stock counts", "what was counted less what the book said"),
    ],
  },
  {
    title: "What is booked",
    contents: [
      list("/bookings/runs", "Runs booked", "malting runs agreed on"),
      list("/bookings/brews", "Brews booked", "brew days agreed on"),
      list("/bookings/orders", "Orders booked", "orders to be placed"),
      list("/bookings/feedLoads", "Feed loads booked", "loads to be fetched"),
      list("/bookings/moves", "Moves booked", "grain to be moved"),
    ],
  },
  {
    title: "The farm itself",
    contents: [
      form("", "Name, units and dates", "name, zone, money, what counts as now, book values"),
    ],
  },
];

/** The part of the contents that a place belongs to: itself, or the list that its row is in. */
export function contentOf(place: Place): Content | null {
  const list = place.replace(/\/[^/]*$/, "");
  const all = CONTENTS.flatMap(({ contents }) => contents);
  return all.find((one) => one.place === place || one.kind === "list" && one.place === list) ?? null;
}

/** What stands at the top of the season file and is no part of its own. */
export const farmSchema = seasonSchema.pick({
  id: true,
  name: true,
  about: true,
  zone: true,
  readerUnits: true,
  currency: true,
  weekStartsOn: true,
  positionAt: true,
  asOf: true,
  fixedAsOf: true,
  horizonEnd: true,
  bookValues: true,
});
