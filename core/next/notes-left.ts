import type { Brew } from "../season/brewing.ts";
import type { Season } from "../season/season.ts";
import type { Stopped } from "../year/stopped.ts";
import { heldBatches } from "../year/stopped-position.ts";
import { deliveredG } from "../year/stopped-trade.ts";
import { countWords, listWords, weightWords } from "../year/words.ts";
import type { Facts } from "./note-facts.ts";
import { are, day, ifAny, names } from "./note-words.ts";

/** What is left behind. */
export function dropped({ stopped, next, brews, goneLots }: Facts): string[] {
  const { season } = stopped;
  const still = new Set(next.contracts.map((one) => one.id));
  const ended = season.contracts.filter((one) => !still.has(one.id));
  const met = ended.filter((one) => one.kind === "buy-grain" || deliveredG(stopped, one.id) >= one.massG)
    .map((one) => one.party);
  const kept = new Set(next.plantings.map((one) => one.id));
  const gone = season.plantings.filter((one) => !kept.has(one.id)).length;
  const late = bookingsNotKept(stopped);
  return [
    ...ifAny(
      brews.made,
      () =>
        `${countWords(brews.made, "brew")} of the old calendar ${
          brews.made === 1 ? "has" : "have"
        } been made by then.`,
    ),
    ...ifAny(
      brews.missed.length,
      () => `Not made, and their days are over: ${names(brews.missed.map((one) => brewWords(season, one)))}.`,
    ),
    ...ended.flatMap((one) => {
      const leftG = one.kind === "buy-grain" ? 0 : one.massG - deliveredG(stopped, one.id);
      const text = `The contract with ${one.party} is over, and ${
        weightWords(leftG, season.readerUnits)
      } of it were not delivered.`;
      return leftG > 0 ? [text] : [];
    }),
    ...ifAny(
      met.length,
      () => `Delivered: ${countWords(met.length, "contract")}, with ${names([...new Set(met)])}.`,
    ),
    ...ifAny(
      goneLots.length,
      () => `Used up, and in nothing that is left: ${names(goneLots.map((one) => one.name))}.`,
    ),
    ...ifAny(
      gone,
      () =>
        `${countWords(gone, "planting")} whose grain is gone ${
          are(gone)
        } left out; what was harvested stands in the crop history of its fields.`,
    ),
    ...ifAny(
      late,
      () =>
        `${countWords(late, "booking")} whose time is past ${late === 1 ? "was" : "were"} not kept and ${
          are(late)
        } left out.`,
    ),
    "The records of the old season stay in the old season, and days off, closures and extra hours that are over with them.",
  ];
}

function brewWords({ beers }: Season, brew: Brew): string {
  return `${beers.find((one) => one.id === brew.beerId)?.name ?? brew.beerId} of ${day(brew.on)}`;
}

/** Bookings of days that are past by then and that nobody kept: by the plan they cannot be, or no record says that they were. */
function bookingsNotKept({ season, journal, at, date }: Stopped): number {
  const { runs, brews, orders, feedLoads, moves } = season.bookings;
  const past = [
    ...runs.filter((one) => one.steepInAt < at).map((one) => one.id),
    ...brews.filter((one) => one.on < date).map((one) => one.brewId),
    ...[...feedLoads, ...moves].filter((one) => one.on < date).map((one) => one.id),
    ...orders.filter((one) => one.orderedOn < date).map((one) => one.id),
  ];
  const refused = new Set(journal.plan?.cannotKeep.map((one) => one.id));
  return past.filter((id) => journal.plan === null || refused.has(id)).length;
}

/** What a person has to enter now. */
export function toEnter({ stopped, next, brews, offers, pickups }: Facts): string[] {
  const held = heldBatches(stopped).length;
  const awaiting = next.lots.filter((lot) => lot.analyses.some((one) => one.resultOn === undefined));
  const wasForecast = new Set(stopped.season.lots.filter((one) => one.forecast).map((one) => one.id));
  const binned = next.lots.filter((lot) => !lot.forecast && wasForecast.has(lot.id));
  const years = [
    ...new Set(
      next.plantings.filter((one) => one.state === "planned" || one.state === "sown").map((one) =>
        one.harvestYear
      ),
    ),
  ]
    .sort((a, b) => a - b);
  const again = brews.repeated > 0;
  return [
    ...(stopped.journal.plan !== null
      ? [
        `Weigh or count on ${
          day(stopped.date)
        } what lies in bins, bags, malt store and tanks, and put the figures right where the year went otherwise.`,
      ]
      : []),
    ...ifAny(
      binned.length,
      () => `Enter weigh tickets and results of the new harvest: ${names(binned.map((one) => one.name))}.`,
    ),
    ...ifAny(
      awaiting.length,
      () =>
        `Results are still awaited of ${names(awaiting.map((one) => one.name))}: enter them when they come.`,
    ),
    ...ifAny(
      held,
      () =>
        `${countWords(held, "batch", "batches")} of malt held for a result ${
          are(held)
        } entered with days that are over: give ${held === 1 ? "it its" : "them their"} days when ${
          held === 1 ? "it is" : "they are"
        } released.`,
    ),
    `Enter the new plantings, each with the lot it will bring and the seed set aside for it; ${
      years.length === 0 ? "there is none yet." : `so far there are those of ${listWords(years.map(String))}.`
    }`,
    "Enter the new contracts: no contract is repeated.",
    ...ifAny(
      offers.supplyOffers.length + pickups.feedPickups.length,
      () => "Enter the new prices of malt and feed: offers and pick-ups carry the old ones.",
    ),
    ...(again
      ? [
        "Look through the repeated brews: what is new, what is brewed no more, and feast days that fall otherwise.",
      ]
      : []),
    `Enter days off, closures and extra hours up to ${day(next.horizonEnd)}.`,
  ];
}
