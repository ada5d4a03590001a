import { countWords, weightWords } from "../year/words.ts";
import type { Facts } from "./note-facts.ts";
import { are, counts, day, ifAny } from "./note-words.ts";

/** What stays. */
export function carriedOver({ stopped, next, brews }: Facts): string[] {
  const { opening, records, bookings } = next;
  const { runs, orders } = records;
  const booked = bookings.runs.length + bookings.brews.length + bookings.orders.length +
    bookings.feedLoads.length + bookings.moves.length;
  const cut = next.plantings.filter((one) => one.state === "planned" || one.state === "sown").length;
  const lots = new Set(opening.grain.map((one) => one.lotId)).size;
  return [
    `The season begins on ${day(stopped.date)} with what ${
      stopped.journal.plan !== null
        ? "will lie there then if the plan is carried out"
        : "the records say lies there"
    }: ${
      counts([
        [lots, "lot of grain", "lots of grain"],
        [opening.malt.length, "batch of malt", "batches of malt"],
        [opening.tanks.length, "filled tank"],
      ]) || "nothing"
    }.`,
    ...ifAny(
      runs.length + orders.length,
      () =>
        `Recorded as under way: ${
          counts([
            [runs.length, "malting run"],
            [orders.length, "order not yet delivered", "orders not yet delivered"],
          ])
        }.`,
    ),
    ...ifAny(
      booked,
      () => `${countWords(booked, "booking")} still to come ${booked === 1 ? "stays" : "stay"} booked.`,
    ),
    ...ifAny(
      brews.toMake,
      () => `${countWords(brews.toMake, "brew")} of the old calendar ${are(brews.toMake)} still to be made.`,
    ),
    ...ifAny(cut, () => `${countWords(cut, "planting")} ${are(cut)} still to be cut.`),
    ...next.contracts.map((one) => {
      const before = stopped.season.contracts.find((other) => other.id === one.id)!;
      const weight = weightWords(one.massG, next.readerUnits);
      return one.massG === before.massG
        ? `The contract with ${one.party} over ${weight} stays.`
        : `The contract with ${one.party} stays with the ${weight} still to be delivered.`;
    }),
  ];
}

/** What stands again a year of weeks later. */
export function repeated({ next, brews, offers, pickups }: Facts): string[] {
  const again = brews.repeated;
  return [
    ...ifAny(
      again,
      () =>
        `${countWords(again, "brew")} repeat${
          again === 1 ? "s" : ""
        } the last 52 weeks of the old calendar 364 days later, on the same weekdays, up to ${
          day(next.horizonEnd)
        }. Pilot brews are not repeated.`,
    ),
    ...ifAny(
      offers.lengthened,
      () =>
        `${countWords(offers.lengthened, "supply offer")} that ran on at the end of the old season ${
          offers.lengthened === 1 ? "runs" : "run"
        } on to the end of the new one.`,
    ),
    ...ifAny(
      offers.repeated + pickups.repeated,
      () =>
        `${
          counts([[offers.repeated, "supply offer"], [pickups.repeated, "feed pick-up"]])
        } of the last 52 weeks ${
          offers.repeated + pickups.repeated === 1 ? "stands" : "stand"
        } again 364 days later.`,
    ),
  ];
}
