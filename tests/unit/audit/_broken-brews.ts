import { of, pay, type Variant } from "./_variant.ts";

/** Ways to break brews, tanks, orders, feed loads, contracts, bookings and counts. */
export const BROKEN_BREWS: readonly Variant[] = [
  {
    what: "another season's plan",
    rules: ["plan-season"],
    breaks: (_, plan) => {
      plan.seasonId = "other";
    },
  },
  {
    what: "a plan made before the last records",
    rules: ["plan-as-of"],
    breaks: (season) => {
      season.asOf = "2027-01-18T09:01";
    },
  },
  {
    what: "a recorded move's id used again",
    rules: ["duplicate-id"],
    breaks: (season, plan) => {
      const { standing: _standing, ...move } = structuredClone(plan.moves[0]!);
      season.records.moves.push({ ...move, on: "2027-01-11", massG: 0, lossG: 0 });
    },
  },
  {
    // The second batch of an id is in no book, so its malt is missed from the season's sums as well.
    what: "a batch id used twice",
    rules: ["duplicate-id", "dry-matter-season"],
    breaks: (_, plan) => {
      of(plan.runs, "r6").outputs[0]!.batchId = "r3-pale";
    },
  },
  {
    what: "a recorded batch id used again",
    rules: ["duplicate-id", "dry-matter-season"],
    breaks: (_, plan) => {
      of(plan.runs, "r6").outputs[0]!.batchId = "held-pale";
    },
  },
  {
    what: "a vessel nobody has",
    rules: ["unknown-id"],
    breaks: (_, plan) => {
      of(plan.runs, "r6").vesselIds.kiln = "nowhere";
    },
  },
  {
    what: "a booked run called not booked",
    rules: ["standing", "first-free-day"],
    breaks: (_, plan) => {
      of(plan.runs, "r2").standing = "not booked";
    },
  },
  {
    what: "a free run called booked",
    rules: ["standing"],
    breaks: (_, plan) => {
      of(plan.runs, "r5").standing = "booked";
    },
  },
  {
    what: "another beer than the calendar's",
    rules: ["brew-beer"],
    breaks: (season, _) => {
      season.beers.push({ ...structuredClone(of(season.beers, "lager")), id: "twin" });
      of(season.brews, "b2").beerId = "twin";
    },
  },
  {
    what: "a brew on a weekday without brewing",
    rules: ["brew-day"],
    breaks: (season) => {
      season.brewhouse.closed.push({ from: "2027-04-14", to: "2027-04-14", reason: "holiday" });
    },
  },
  {
    what: "a brew a day after its window",
    rules: ["brew-window"],
    breaks: (season) => {
      of(season.brews, "b2").latest = "2027-02-09";
    },
  },
  {
    what: "a tail brew a day before its window, which starts after the horizon",
    rules: ["brew-window"],
    breaks: (season) => {
      of(season.brews, "b0").earliest = "2026-06-11";
    },
  },
  {
    what: "two brews on one day",
    rules: ["brews-per-day"],
    breaks: (season, plan) => {
      of(season.brews, "b2").latest = "2027-02-17";
      of(season.tanks, "t3").closures = [];
      of(plan.brews, "b2").on = "2027-02-17";
    },
  },
  {
    what: "a malt that the line does not know",
    rules: ["brew-ingredient"],
    breaks: (season) => {
      of(season.beers, "half").substitutes = [];
    },
  },
  {
    what: "two grams too little for a line of one use",
    rules: ["brew-extract"],
    breaks: (_, plan) => {
      of(plan.brews, "b2").grist[0]!.massG -= 2;
    },
  },
  {
    what: "book extract taken for the lot's own",
    rules: ["brew-extract"],
    breaks: (_, plan) => {
      const [use] = of(plan.brews, "b2").grist;
      use!.massG = Math.round(use!.massG * 0.779 / 0.76);
    },
  },
  {
    what: "a substitute over its share",
    rules: ["brew-substitute"],
    breaks: (season) => {
      of(season.beers, "half").substitutes[0]!.mostShare = 0.499;
    },
  },
  {
    what: "raw grain from a lot for feed",
    rules: ["brew-raw-lot", "brew-raw-lot"],
    breaks: (season) => {
      of(season.lots, "w").use = "feed";
    },
  },
  {
    what: "raw grain a shade over the limit for toxin",
    rules: ["brew-raw-lot", "brew-raw-lot"],
    breaks: (season) => {
      of(season.lots, "w").analyses[0]!.donPpm = 1.01;
    },
  },
  {
    what: "bought malt counted as home-grown",
    rules: ["brew-home-share"],
    breaks: (_, plan) => {
      of(plan.brews, "b5").homeShare = 1;
    },
  },
  {
    what: "a broken promise called held",
    rules: ["brew-promise", "brew-promise", "goal-promises"],
    breaks: (season) => {
      of(season.beers, "half").homeSharePromise = 0.99;
    },
  },
  {
    what: "too little grain of the named field",
    rules: ["brew-requires"],
    breaks: (season) => {
      // 40 % of the pale malt of b5 comes from there, so about a quarter of its grist.
      of(season.beers, "half").requires[0]!.leastShare = 0.3;
    },
  },
  {
    what: "grain of the named field mixed with other grain",
    rules: ["brew-requires"],
    breaks: (season) => {
      of(season.beers, "half").requires[0]!.unmixed = true;
    },
  },
  {
    what: "more wort than the tank holds",
    rules: ["tank-volume"],
    breaks: (season) => {
      of(season.tanks, "t3").volumeL = 399.999;
    },
  },
  {
    what: "two millilitres of wort without a tank",
    rules: ["tank-shares"],
    breaks: (_, plan) => {
      of(plan.brews, "b2").tanks[1]!.volumeL -= 0.002;
    },
  },
  {
    what: "a tank filled a day before it is clean",
    rules: ["tank-taken"],
    breaks: (season) => {
      // b1 leaves it on 16 February, clean on the 17th.
      of(season.tanks, "t2").turnaroundDays = 2;
    },
  },
  {
    what: "a tank filled a day before older beer leaves it",
    rules: ["tank-taken"],
    breaks: (season) => {
      season.opening.tanks[0]!.freeOn = "2027-01-28";
    },
  },
  {
    what: "a tank closed on its cleaning day",
    rules: ["tank-closed"],
    breaks: (season) => {
      of(season.tanks, "t3").closures[0]!.from = "2027-03-02T23:59";
    },
  },
  {
    what: "an order on a Wednesday",
    rules: ["order-day"],
    breaks: (_, plan) => {
      const [order] = plan.orders;
      order!.orderedOn = "2027-01-27";
      order!.arrivesOn = "2027-02-03";
      order!.bestBefore = "2027-11-30";
    },
  },
  {
    what: "an order a pack too small",
    rules: ["order-packs"],
    breaks: (season) => {
      of(season.supplyOffers, "offer-crystal").leastPacks = 5;
    },
  },
  {
    what: "an order that comes a day too early",
    rules: ["order-arrival"],
    breaks: (season) => {
      of(season.supplyOffers, "offer-crystal").leadDays = 8;
    },
  },
  {
    what: "an order without its freight",
    rules: ["order-figures"],
    breaks: (_, plan) => {
      plan.orders[0]!.costCents = 16_000;
      pay(plan, "ordersCents", 16_000);
    },
  },
  {
    what: "a feed load on a Thursday",
    rules: ["feed-day"],
    breaks: (_, plan) => {
      plan.feedLoads[0]!.on = "2027-07-01";
    },
  },
  {
    what: "a feed load a gram too heavy",
    rules: ["feed-weight"],
    breaks: (season) => {
      of(season.feedPickups, "cattle").greatestG = 1_999_999;
    },
  },
  {
    what: "a load more than the pick-up offers, the recorded one counted",
    rules: ["feed-count"],
    breaks: (season) => {
      season.opening.grain[1]!.massG += 1_000_000;
      const items = [{ lotId: "c", storeId: "bin-2", massG: 1_000_000 }];
      season.records.feedLoads.push({ id: "fl0", pickupId: "cattle", on: "2027-01-11", items });
    },
  },
  {
    what: "a feed load of a crop the buyer does not take",
    rules: ["feed-crop"],
    breaks: (season, plan) => {
      of(season.feedPickups, "cattle").crops = ["wheat"];
      pay(plan, "endGrainCents", 0);
    },
  },
  {
    what: "treated seed as feed",
    rules: ["feed-treated"],
    breaks: (season) => {
      of(season.lots, "c").treatedSeed = true;
    },
  },
  {
    what: "feed over the buyer's limit for toxin",
    rules: ["feed-toxin"],
    breaks: (season) => {
      of(season.feedPickups, "cattle").donPpmMost = 1.5;
    },
  },
  {
    what: "a feed load without its haulage",
    rules: ["feed-revenue"],
    breaks: (_, plan) => {
      plan.feedLoads[0]!.revenueCents = 30_000;
      pay(plan, "feedCents", -30_000);
    },
  },
  {
    what: "seed a day late",
    rules: ["seed-taken"],
    breaks: (_, plan) => {
      plan.seedTaken[0]!.on = "2027-03-16";
    },
  },
  {
    what: "seed left out",
    rules: ["seed-taken"],
    breaks: (_, plan) => {
      plan.seedTaken = [];
      pay(plan, "endGrainCents", plan.goals.money.endGrainCents - 3000);
    },
  },
  {
    what: "sold grain a day after its window",
    rules: ["grain-contract"],
    breaks: (season) => {
      const contract = of(season.contracts, "sell-b");
      if (contract.kind === "sell-grain") contract.to = "2027-03-15";
    },
  },
  {
    what: "sold grain a gram short",
    rules: ["grain-contract"],
    breaks: (_, plan) => {
      plan.grainDeliveries[0]!.massG -= 1;
    },
  },
  {
    what: "sold malt a gram short",
    rules: ["malt-contract"],
    breaks: (_, plan) => {
      plan.maltDeliveries[0]!.from[0]!.massG -= 1;
    },
  },
  {
    what: "sold malt of other lots than the customer's",
    rules: ["malt-contract"],
    breaks: (season) => {
      const contract = of(season.contracts, "sell-pale");
      if (contract.kind === "sell-malt") contract.lotIds = ["b"];
    },
  },
  {
    what: "a booked run moved by half an hour",
    rules: ["booking-kept"],
    breaks: (_, plan) => {
      of(plan.runs, "r2").steepInAt = "2027-01-19T08:30";
    },
  },
  {
    what: "a booked order neither kept nor refused",
    rules: ["booking-kept"],
    breaks: (_, plan) => {
      plan.cannotKeep = [];
    },
  },
  {
    what: "a booking refused without a reason",
    rules: ["booking-kept"],
    breaks: (_, plan) => {
      plan.cannotKeep[0]!.why = " ";
    },
  },
  {
    what: "a booked brew both kept and refused",
    rules: ["booking-both"],
    breaks: (_, plan) => {
      plan.cannotKeep.push({ kind: "brew", id: "b1", why: "No tank." });
    },
  },
  {
    what: "a brew forgotten",
    rules: ["brew-missing"],
    breaks: (_, plan) => {
      plan.unbrewed = [];
    },
  },
  {
    what: "a brew made and unbrewed",
    rules: ["brew-twice"],
    breaks: (_, plan) => {
      plan.unbrewed.push({ id: "b2", beerId: "lager", cause: "no grain", why: "None." });
    },
  },
  {
    what: "a recorded brew planned again",
    rules: ["brew-not-asked"],
    breaks: (_, plan) => {
      plan.unbrewed.push({ id: "bx", beerId: "lager", cause: "no grain", why: "None." });
    },
  },
  {
    what: "a tail brew of a pilot",
    rules: ["brew-not-asked", "goal-tail"],
    breaks: (season) => {
      of(season.brews, "b0").pilot = true;
    },
  },
  {
    what: "a contract forgotten",
    rules: ["contract-missing"],
    breaks: (_, plan) => {
      plan.grainDeliveries = [];
      pay(plan, "salesCents", -45_000);
      pay(plan, "endGrainCents", plan.goals.money.endGrainCents - 15_000);
    },
  },
  {
    what: "a contract delivered and unsold",
    rules: ["contract-twice"],
    breaks: (_, plan) => {
      plan.unsold.push({ contractId: "sell-pale", cause: "no grain", why: "None." });
    },
  },
  {
    what: "one brew too many counted",
    rules: ["goal-counts"],
    breaks: (_, plan) => {
      plan.goals.made[2] = 1;
    },
  },
  {
    what: "one promise too few counted",
    rules: ["goal-promises"],
    breaks: (_, plan) => {
      plan.goals.promisesHeld = 3;
    },
  },
  {
    what: "one tail brew too many counted",
    rules: ["goal-tail"],
    breaks: (_, plan) => {
      plan.goals.tailMade = 2;
    },
  },
  {
    what: "money that does not add up",
    rules: ["money-total"],
    breaks: (_, plan) => {
      plan.goals.moneyCents += 1;
    },
  },
  ...([
    "runsCents",
    "ordersCents",
    "movesCents",
    "nightTurnsCents",
    "extraHoursCents",
    "feedCents",
    "salesCents",
  ] as const)
    .map((part): Variant => ({
      what: `another figure for ${part}`,
      rules: ["money-part"],
      breaks: (_, plan) => pay(plan, part, plan.goals.money[part] + 100),
    })),
  {
    what: "a day of the reserve left out",
    rules: ["money-part"],
    breaks: (_, plan) => pay(plan, "reserveCents", 760),
  },
  {
    what: "grain left at the end that is only held counted as fit for malting",
    rules: ["money-part"],
    breaks: (_, plan) => pay(plan, "endGrainCents", -77_925 - 12_000),
  },
  {
    what: "half a changed run",
    rules: ["money-part"],
    breaks: (_, plan) => pay(plan, "changedRunsCents", 500),
  },
];
