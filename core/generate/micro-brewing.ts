import { isoDate, weekday } from "../calendar.ts";
import { MICRO_DAYS, type MicroFrame, type Part, type Row } from "./micro-frame.ts";

/** Days after as-of round which the four brews lie. */
const BREWS_ABOUT = [8, 17, 25, 34];

/** A second tank of half size holds a brew only together with the first; most seasons have a whole one. */
const SECOND_TANKS_L = [1000, 1000, 1000, 500];

/** Two beers, four brews with windows of one to three days, one or two tanks. */
export function microBrewing(frame: MicroFrame): Part<"beers" | "brews" | "brewhouse" | "tanks"> {
  const { luck, theme, day } = frame;
  return {
    beers: beers(frame),
    brews: BREWS_ABOUT.map((about, index) => brew(frame, about, index)),
    brewhouse: {
      brewsPerDay: 1,
      brewWeekdays: [1, 2, 3, 4, 5],
      closed: luck.oneIn(5) ? [{ from: day(19), to: day(20), reason: "Brewhouse cleaned" }] : [],
    },
    tanks: [
      { id: "tank-one", name: "Tank one", volumeL: 1000 },
      ...(theme === "tanks"
        ? []
        : [{ id: "tank-two", name: "Tank two", volumeL: luck.pick(SECOND_TANKS_L) }]),
    ],
  };
}

function beers({ luck, theme }: MicroFrame): Row<"beers">[] {
  const tankDays = theme === "tanks" ? luck.int(9, 13) : luck.int(7, 8);
  const firstTenths = luck.int(5, 8);
  const malt = (maltId: string) => ({ kind: "malt" as const, maltId });
  const common = {
    volumeL: 100 * luck.int(6, 10),
    brewhouseEfficiency: 0.85,
    losses: [{ name: "tank and package", share: 0.1 }],
  };
  const substitute = {
    forLine: "beer-two-second",
    ingredient: malt("malt-one"),
    mostShare: luck.pick([0.3, 0.5, 1]),
  };
  return [
    {
      ...common,
      id: "beer-one",
      name: "First beer",
      letter: "p",
      gravityP: luck.int(110, 130) / 10,
      tankDays,
      grist: [{ id: "beer-one-line", ingredient: malt("malt-one"), share: 1 }],
      homeSharePromise: luck.pick([0, 0.5, 0.8, 1]),
    },
    {
      ...common,
      id: "beer-two",
      name: "Second beer",
      letter: "w",
      gravityP: luck.int(115, 145) / 10,
      tankDays: tankDays + 1,
      grist: [
        { id: "beer-two-first", ingredient: malt("malt-one"), share: firstTenths / 10 },
        { id: "beer-two-second", ingredient: malt("malt-two"), share: (10 - firstTenths) / 10 },
      ],
      homeSharePromise: luck.pick([0, 0.4, 0.9]),
      substitutes: luck.oneIn(3) ? [substitute] : [],
      requires: luck.oneIn(10) ? [{ kind: "lot", ids: ["lot-one"], leastShare: 0.3 }] : [],
    },
  ];
}

function brew({ luck, today }: MicroFrame, about: number, index: number): Row<"brews"> {
  const asked = today + about + luck.int(-3, 4);
  // A brew asked for on a weekend is brewed on the Monday after it.
  const on = weekday(asked) > 5 ? asked + 8 - weekday(asked) : asked;
  const fixed = luck.oneIn(3);
  return {
    id: `brew-${index + 1}`,
    beerId: luck.pick(["beer-one", "beer-one", "beer-two"]),
    on: isoDate(on),
    earliest: isoDate(on - (fixed ? 0 : luck.int(0, 1))),
    latest: isoDate(on + (fixed ? 0 : luck.int(0, 1))),
    class: luck.int(1, 3),
  };
}

/** Bought malt, grain under contract, feed pick-ups and prices. */
export function microTrade(frame: MicroFrame): Part<"supplyOffers" | "contracts" | "feedPickups" | "costs"> {
  const { luck, day, arrives } = frame;
  const inBin = frame.secondLot === "in its bin";
  return {
    supplyOffers: [
      ...(luck.oneIn(4) ? [] : [offer(frame, "one")]),
      ...(luck.oneIn(3) ? [offer(frame, "two")] : []),
    ],
    contracts: frame.secondLot === "bought"
      ? [{
        kind: "buy-grain",
        id: "grain-contract",
        party: "A made seller",
        lotId: "lot-two",
        massG: frame.secondLotG,
        on: day(arrives),
        perTonneCents: 28_000,
      }]
      : [],
    feedPickups: !inBin || luck.oneIn(3) ? [pickup(frame, inBin ? 24 : arrives)] : [],
    costs: {
      moveCents: 100 * luck.int(5, 30),
      movePerTonneCents: 500,
      reservePerTonneDayCents: luck.pick([0, 300, 800]),
      changedRunCents: 2000,
    },
  };
}

function offer({ luck, day }: MicroFrame, word: string): Row<"supplyOffers"> {
  return {
    id: `offer-${word}`,
    supplier: "A made supplier",
    ingredient: { kind: "malt", maltId: `malt-${word}` },
    from: day(0),
    to: day(MICRO_DAYS),
    packG: 25_000,
    leastPacks: luck.int(2, 8),
    leadDays: luck.int(3, 12),
    orderWeekdays: [luck.int(1, 3)],
    packCents: luck.int(3800, 5200),
    freightCents: 100 * luck.int(40, 150),
    extractAsIs: luck.int(760, 785) / 1000,
    shelfLifeDays: 180,
  };
}

/** A pick-up in the days before a bin is wanted empty. */
function pickup({ luck, day, loadG }: MicroFrame, before: number): Row<"feedPickups"> {
  return {
    id: "pickup",
    buyer: "A made feed buyer",
    species: "cattle over four months",
    crops: ["barley", "wheat"],
    from: day(luck.int(3, 6)),
    to: day(before - luck.int(0, 2)),
    weekdays: [luck.int(1, 3), 4, 5],
    leastG: Math.round(loadG * 0.15),
    greatestG: loadG * 2,
    mostLoads: luck.int(1, 2),
    perTonneCents: 100 * luck.int(120, 190),
    haulageCents: 100 * luck.int(0, 40),
    donPpmMost: 10,
  };
}
