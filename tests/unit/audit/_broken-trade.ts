import { of, pay, type Variant } from "./_variant.ts";

/** Ways to break orders, feed loads, seed and contracts. */
export const BROKEN_TRADE: readonly Variant[] = [
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
    what: "a customer's grain as feed, though a malt contract lists it",
    rules: ["feed-owner"],
    breaks: (season) => {
      of(season.lots, "c").owner = "A neighbour";
      season.contracts.push({
        kind: "sell-malt",
        id: "sell-c",
        party: "A neighbour",
        maltId: "pale",
        massG: 1,
        from: "2026-01-01",
        to: "2026-02-01",
        perTonneCents: 0,
        class: 1,
        lotIds: ["c"],
      });
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
];
