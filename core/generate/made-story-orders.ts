import { isoDate, weekday } from "../calendar.ts";
import type { Story } from "./made-story.ts";

/** Orders of what can only be bought: one that came, one on its way, one that is booked. */
export function tellOrders(story: Story): void {
  const { season, luck, opened, today } = story;
  const offers = season.supplyOffers.filter((offer) => {
    const { ingredient } = offer;
    return ingredient.kind === "malt" &&
      season.maltTypes.find((malt) => malt.id === ingredient.maltId)?.made.from !== "grain";
  });
  offers.forEach((offer, at) => {
    const orderDay = (from: number) =>
      [0, 1, 2, 3, 4, 5, 6].map((after) => from + after).find((day) =>
        offer.orderWeekdays.includes(weekday(day))
      )!;
    const order = (id: string, day: number) => ({
      id: `order-${id}-${at + 1}`,
      offerId: offer.id,
      orderedOn: isoDate(day),
      arrivesOn: isoDate(day + offer.leadDays),
      packs: offer.leastPacks + luck.int(0, 2),
      batchId: `batch-${id}-${at + 1}`,
      by: "The brewer",
    });
    const past = orderDay(opened);
    if (past < today && luck.oneIn(2)) story.records.orders.push(order("past", past));
    else if (luck.oneIn(2)) story.bookings.orders.push(order("booked", orderDay(today + 1)));
  });
}
