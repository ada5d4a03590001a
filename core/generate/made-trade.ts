import { isoDate, yearOf } from "../calendar.ts";
import { type MadeFrame, rawGrains } from "./made-frame.ts";
import { boughtOn } from "./made-lots.ts";
import type { LotPlan } from "./lot-plans.ts";
import type { Part, Row } from "./micro-frame.ts";

/** Days after the horizon for which things can still be bought and sold: the plan's tail. */
const TAIL_DAYS = 84;

/** Who sells malt and grain, who fetches feed, what was agreed, and what things cost. */
export function madeTrade(
  frame: MadeFrame,
  plans: readonly LotPlan[],
  malts: readonly Row<"maltTypes">[],
  bedG: number,
): Part<"supplyOffers" | "contracts" | "feedPickups" | "seedReserves" | "costs"> {
  const { size, luck } = frame;
  const chances = luck("costs");
  return {
    supplyOffers: offers(frame, malts),
    contracts: contracts(frame, plans, malts, bedG),
    feedPickups: pickups(frame, plans),
    seedReserves: size === "micro" ? [] : seed(frame, plans),
    costs: {
      moveLoss: 0.005,
      moveCents: 100 * chances.int(20, 60),
      movePerTonneCents: 100 * chances.int(3, 8),
      reservePerTonneDayCents: chances.pick([0, 300, 500, 800]),
      changedRunCents: 100 * chances.int(15, 40),
    },
  };
}

/** Malts that are only bought always have an offer; of those made here one in six has none. */
function offers(frame: MadeFrame, malts: readonly Row<"maltTypes">[]): Row<"supplyOffers">[] {
  const { size, luck, opened, horizon } = frame;
  const common = (id: string) => {
    const chances = luck(`offer ${id}`);
    return {
      supplier: chances.pick(["A made maltings", "A made malt merchant", "A made neighbour maltings"]),
      from: isoDate(opened),
      to: isoDate(horizon + TAIL_DAYS - 10),
      leadDays: size === "micro" ? chances.int(3, 6) : chances.int(4, 18),
      orderWeekdays: chances.pick([[1, 2, 3, 4, 5], [1, 3], [2]]),
      freightCents: 100 * chances.int(40, 140),
      shelfLifeDays: chances.pick([180, 270, 365]),
    };
  };
  const ofMalts = malts.filter((malt) => malt.made.from !== "grain" || !luck(`offer ${malt.id}`).oneIn(6))
    .map((malt): Row<"supplyOffers"> => {
      const chances = luck(`price ${malt.id}`);
      return {
        ...common(malt.id),
        id: `offer-${malt.id}`,
        ingredient: { kind: "malt", maltId: malt.id },
        packG: 25_000,
        leastPacks: malt.made.from === "grain" ? chances.int(4, 16) : 2,
        packCents: chances.int(3900, 5600),
        extractAsIs: Math.round(1000 * malt.extractCoarseDb * 0.953) / 1000,
        origin: chances.oneIn(4) ? "in-state" : "elsewhere",
      };
    });
  const { raw, instead } = rawGrains(frame);
  const grains = [raw, instead].map((grain): Row<"supplyOffers"> => ({
    ...common(grain.crop),
    id: `offer-raw-${grain.crop}`,
    ingredient: { kind: "grain", ...grain },
    packG: 25_000,
    leastPacks: 2,
    packCents: 2100,
    extractAsIs: grain.extractAsIs,
  }));
  return size === "micro" ? ofMalts : [...ofMalts, ...grains];
}

function contracts(
  frame: MadeFrame,
  plans: readonly LotPlan[],
  malts: readonly Row<"maltTypes">[],
  bedG: number,
): Row<"contracts">[] {
  const { size, luck, opened, today, day } = frame;
  const chances = luck("contracts");
  const heavy =
    plans.filter((one) => one.kind === "malting" && one.state === "in store" && one.wakes <= today)
      .toSorted((a, b) => b.massG - a.massG)[0];
  const customer = plans.find((one) => one.kind === "customer");
  return [
    ...plans.filter((one) => one.kind === "bought").map((plan): Row<"contracts"> => ({
      kind: "buy-grain",
      id: `contract-${plan.id}`,
      party: "A made grain merchant",
      lotId: plan.id,
      massG: plan.massG,
      on: isoDate(boughtOn(frame)),
      perTonneCents: 100 * chances.int(240, 320),
    })),
    ...(size !== "micro" && heavy !== undefined && chances.oneIn(3)
      ? [{
        kind: "sell-grain" as const,
        id: "contract-grain-sale",
        party: "A made neighbour",
        lotId: heavy.id,
        massG: Math.round(heavy.massG * 0.03),
        from: day(opened < today ? -8 : 15),
        to: day(40),
        perTonneCents: 100 * chances.int(190, 250),
      }]
      : []),
    ...(size !== "micro" && chances.oneIn(3)
      ? [{
        kind: "sell-malt" as const,
        id: "contract-malt-sale",
        party: "A made bakery",
        maltId: malts[0]!.id,
        massG: Math.round(bedG * 0.25),
        from: day(100),
        to: day(130),
        perTonneCents: 100 * chances.int(1400, 1900),
        class: chances.int(1, 3),
      }]
      : []),
    ...(customer === undefined ? [] : [{
      kind: "sell-malt" as const,
      id: "contract-customer-malt",
      party: "A made customer",
      maltId: malts[0]!.id,
      massG: Math.round(bedG * 0.6),
      from: day(90),
      to: day(150),
      perTonneCents: 100 * chances.int(450, 700),
      class: 2,
      lotIds: [customer.id],
    }]),
  ];
}

/** Who eats it, and the most deoxynivalenol it may hold in mg/kg: the data dictionary's source; verify with the authority. */
const EATERS = [
  { buyer: "A made cattle yard", species: "cattle over four months", donPpmMost: 10 },
  { buyer: "A made egg farm", species: "poultry", donPpmMost: 5 },
  { buyer: "A made flock", species: "sheep", donPpmMost: 5 },
  { buyer: "A made pig farm", species: "pigs", donPpmMost: 5 },
  { buyer: "A made dairy", species: "young cattle", donPpmMost: 5 },
  { buyer: "A made stable", species: "other", donPpmMost: 5 },
] as const;

/** Feed is fetched before every harvest, and now and then between. */
function pickups(
  { size, luck, opened, today, horizon, harvestDay }: MadeFrame,
  plans: readonly LotPlan[],
): Row<"feedPickups">[] {
  const chances = luck("feed");
  const mostG = Math.max(...plans.map((one) => one.massG));
  const year = yearOf(today);
  const windows = [year, year + 1, year + 2].flatMap((of) => {
    const harvest = harvestDay("barley", of);
    return [[harvest - 80, harvest - 1], [harvest + 60, harvest + 150]] as const;
  }).filter(([from, to]) => to > today + 5 && from < horizon);
  // Somebody fetches feed just now, so that loads of it can be recorded and booked.
  const now = [opened, today + 20] as const;
  return (size === "micro" ? [[today + 2, horizon] as const] : [now, ...windows]).map(([from, to], at) => ({
    id: `pickup-${at + 1}`,
    // Cattle come every other time, because only they may eat what failed for toxin.
    ...EATERS[at % 2 === 0 ? 0 : chances.int(1, EATERS.length - 1)]!,
    crops: at % 2 === 0 || size === "micro" ? ["barley", "wheat", "rye", "oats"] : ["barley", "oats"],
    from: isoDate(Math.max(from, opened)),
    to: isoDate(to),
    weekdays: chances.pick([[1, 2, 3, 4, 5], [2, 4]]),
    leastG: Math.round(mostG * 0.03),
    greatestG: Math.round(mostG * 1.2),
    mostLoads: chances.int(3, 5),
    perTonneCents: 100 * chances.int(130, 190),
    haulageCents: 100 * chances.int(0, 60),
  }));
}

/** Grain kept for the next sowing, a hundredth or two of a malting lot. */
function seed({ luck, today, horizon }: MadeFrame, plans: readonly LotPlan[]): Row<"seedReserves">[] {
  const chances = luck("seed");
  const year = yearOf(today);
  const sowings = [`${year}-04-10`, `${year}-09-24`, `${year + 1}-04-10`].filter((on) =>
    on > isoDate(today + 20) && on < isoDate(horizon)
  );
  const lot =
    plans.filter((one) => one.kind === "malting" && one.crop === "barley" && one.state === "in store")
      .toSorted((a, b) => b.massG - a.massG)[0];
  const on = sowings[0];
  if (lot === undefined || on === undefined || on > isoDate(lot.to) || chances.oneIn(3)) return [];
  return [{ id: "seed-next", lotId: lot.id, massG: Math.round(lot.massG * 0.025), on }];
}
