/** On the limit is inside it: everything here keeps every rule, or breaks it by the least step there is. */
import { describe, expect, test } from "vitest";
import { auditPlan } from "../../../core/audit/audit.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import type { Contract } from "../../../core/season/brewing.ts";
import type { Season } from "../../../core/season/season.ts";
import { handPlan } from "./_hand-plan.ts";
import { handSeason } from "./_hand-season.ts";
import { of, pay } from "./_variant.ts";

type Change = (season: Season, plan: Plan) => void;

function rules(change: Change): string[] {
  const season = handSeason(), plan = handPlan();
  change(season, plan);
  return auditPlan(season, plan).map(({ rule }) => rule);
}

const made = (season: Season, maltId: string) => {
  const { made } = of(season.maltTypes, maltId);
  if (made.from !== "grain") throw new Error(`${maltId} is not made from grain`);
  return made;
};

describe("on the limit", () => {
  test.each<[string, Change]>([
    ["the least and the greatest load", (season) => {
      for (const { loadLimits } of season.vessels) {
        loadLimits[0]!.leastG = 950_000;
        loadLimits[0]!.greatestG = 950_000;
      }
    }],
    ["the least and the greatest hours", (season) => {
      for (const id of ["pale", "munich"]) {
        const profile = made(season, id).profiles[0]!;
        profile.steep = { least: 48, usual: 48, greatest: 48 };
        profile.bed = { least: 96, usual: 96, greatest: 96 };
        profile.kiln = { least: 24, usual: 24, greatest: 24 };
      }
    }],
    ["a month's extra kiln hours move both limits", (season) => {
      const munich = made(season, "munich");
      munich.profiles[0]!.kiln = { least: 20, usual: 20, greatest: 20 };
      munich.monthExtraKilnHours = [0, 0, 4, 0, 0, 0, 0, 0, 0, 0, 0, 0];
    }],
    ["cleaning just in time", (season) => of(season.vessels, "bed").cleaningHours = 24],
    [
      "two energies three points apart",
      (season) => of(season.lots, "b").analyses[0]!.germinativeEnergy = 0.925,
    ],
    ["energy just enough to be awake", (season) => {
      of(season.lots, "b").analyses[0]!.germinativeEnergy = 0.95;
      of(season.lots, "b").wakesOn!.late = "2027-12-31";
    }],
    ["each accepted quantity", (season) => {
      of(season.lots, "x").analyses.push({
        id: "x-2",
        sampledOn: "2026-10-01",
        resultOn: "2027-01-12",
        donPpm: 1,
        proteinDb: 0.125,
        plump: 0.8,
      });
    }],
    ["two grams of rounding", (_, plan) => {
      of(plan.runs, "r3").outputs[0]!.massG += 2;
      of(plan.runs, "r3").culmsG -= 2;
      plan.drums[0]!.massG += 2;
    }],
    ["the least drum load", (season) => {
      const { made } = of(season.maltTypes, "toasted");
      if (made.from === "malt") made.leastG = 100_000;
    }],
    ["windows of one day", (season) => {
      for (const [id, day] of [["sell-b", "2027-03-16"], ["sell-pale", "2027-03-10"]] as const) {
        const contract = of(season.contracts, id);
        if (contract.kind !== "buy-grain") contract.from = contract.to = day;
      }
      const pickup = of(season.feedPickups, "cattle"), offer = of(season.supplyOffers, "offer-crystal");
      pickup.from = pickup.to = "2027-07-02";
      offer.from = offer.to = "2027-01-26";
      for (const [id, day] of [["b2", "2027-02-10"], ["b3", "2027-02-17"], ["b5", "2027-04-14"]] as const) {
        const brew = of(season.brews, id);
        brew.earliest = brew.latest = day;
      }
    }],
    ["closures that end the day before and begin the day after", (season) => {
      season.brewhouse.closed.push({ from: "2027-04-13", to: "2027-04-13", reason: "x" });
      season.brewhouse.closed.push({ from: "2027-04-15", to: "2027-04-15", reason: "x" });
      season.roster.closed.push({
        from: "2027-03-22",
        to: "2027-03-22",
        handOvers: ["steepIn"],
        reason: "x",
      });
      season.roster.closed.push({
        from: "2027-03-24",
        to: "2027-03-24",
        handOvers: ["steepIn"],
        reason: "x",
      });
      season.people[0]!.away.push({ from: "2027-03-24", to: "2027-03-24", reason: "x" });
      season.people[0]!.away.push({ from: "2027-03-22", to: "2027-03-22", reason: "x" });
    }],
    ["a feed load of the least weight and the most toxin", (season, plan) => {
      const pickup = of(season.feedPickups, "cattle");
      pickup.leastG = 2_000_000;
      pickup.donPpmMost = 1.6;
      plan.feedLoads[0]!.revenueCents += 1;
      pay(plan, "feedCents", -25_001);
    }],
    ["a tank filled to the brim, and one millilitre of rounding", (season, plan) => {
      of(season.tanks, "t3").volumeL = 400;
      of(plan.brews, "b2").tanks[0]!.volumeL -= 0.001;
    }],
    ["a tank closed until the hour it is filled", (season) => {
      of(season.tanks, "t3").closures.push({ from: "2027-02-01T00:00", to: "2027-02-10T00:00", reason: "x" });
    }],
    ["one gram of extract for each use", (_, plan) => {
      of(plan.brews, "b2").grist[0]!.massG += 1;
    }],
    ["malt on its first and on its last day", (season) => {
      season.opening.malt[0]!.readyOn = "2027-01-27";
      season.opening.malt[0]!.bestBefore = "2027-01-27";
    }],
    ["the last gram of a batch", (season, plan) => {
      season.opening.malt[0]!.massG = 190_000 + plan.brews[0]!.grist[0]!.massG;
    }],
    ["a bin filled to the gram", (_, plan) => {
      plan.fills[1]!.massG = 3_100_000;
      plan.leftOut[0]!.massG = 623_109;
      pay(plan, "endGrainCents", -79_425);
    }],
    ["bags filled to the gram", (season) => {
      // 800 kg in two bags of 1,000 L.
      of(season.lots, "g").testWeightKgPerHl = 40;
    }],
    ["nothing held, so the first free day is today", (season) => season.roster.heldDays = 0],
    ["the first free day is the day of the first free run", (season) => season.roster.heldDays = 8],
    ["as many night turns as are allowed", (season, plan) => {
      const bed = of(season.vessels, "bed");
      bed.turning = { by: "hand", everyHours: 12, nightTurnCents: 0, mostNightTurnsPerWeek: 8 };
      pay(plan, "nightTurnsCents", 0);
    }],
    ["a look-in just in time", (season) => {
      const bed = of(season.vessels, "bed");
      if (bed.turning?.by === "machine") bed.turning.lookInEveryHours = 16;
    }],
    ["a share just reached", (season, plan) => {
      const share = of(plan.brews, "b5").homeShare;
      of(season.beers, "half").homeSharePromise = share;
    }],
    ["drummed malt brewed on its first day", (season, plan) => {
      of(season.maltTypes, "toasted").restDays = 14;
      plan.drums[0]!.readyOn = "2027-02-17";
    }],
    ["a bin without turnaround is emptied and refilled on one day", (season, plan) => {
      const bin = of(season.stores, "bin-1");
      if (bin.kind === "bin") bin.turnaroundDays = 0;
      plan.moves[0]!.on = "2027-02-02";
    }],
    ["a bin topped up with its own lot", (season, plan) => {
      season.opening.grain[2]!.massG += 1000;
      plan.moves.push({ ...plan.moves[0]!, id: "mv2", on: "2027-02-06", massG: 1000, lossG: 5 });
      pay(plan, "movesCents", 2001);
      pay(plan, "endGrainCents", -77_940);
    }],
    ["somebody there until midnight", (season) => {
      season.roster.lookIns = [{ weekdays: [6], at: ["09:00", "18:30"] }];
      season.roster.weekly.push({ weekdays: [7], from: "10:00", to: "24:00", handOvers: ["strip"] });
    }],
    ["raw grain of a named lot counts beside its malt", (season) => {
      // b5: 124 kg of pale malt, 40 % of it of lot A, and 63 kg of wheat, in a grist of 207 kg.
      of(season.beers, "half").requires = [{
        kind: "lot",
        ids: ["a", "w"],
        leastShare: 0.54,
        unmixed: false,
      }];
    }],
    ["a season without people is not asked about the kiln", (season) => {
      delete season.roster.weekly[0]!.personId;
      season.people = [];
    }],
    ["without a maltster anyone will do", (season) => {
      delete season.roster.weekly[0]!.personId;
      season.people[0]!.roles = ["owner"];
      season.people[0]!.away.push({ from: "2027-01-01", to: "2027-12-31", reason: "x" });
    }],
  ])("%s", (_, change) => {
    expect(rules(change)).toEqual([]);
  });
});

describe("a step beyond", () => {
  test.each<[string, Change, string]>([
    ["a bin that needs one clean day refilled on the day it is emptied", (season, plan) => {
      const bin = of(season.stores, "bin-1");
      if (bin.kind === "bin") bin.turnaroundDays = 1;
      plan.moves[0]!.on = "2027-02-02";
    }, "bin-turnaround"],
    ["steeping closed from that day on", (season) => {
      season.roster.closed.push({
        from: "2027-03-23",
        to: "2027-03-26",
        handOvers: ["steepIn"],
        reason: "x",
      });
    }, "hand-over-staffed"],
    ["two grams more are lost in a move than its loss", (_, plan) => plan.moves[0]!.lossG += 2, "move-loss"],
    ["drummed malt brewed a day before it has rested", (season, plan) => {
      of(season.maltTypes, "toasted").restDays = 15;
      plan.drums[0]!.readyOn = "2027-02-18";
    }, "malt-not-ready"],
    ["a named lot's share just missed", (season) => {
      of(season.beers, "half").requires = [{
        kind: "lot",
        ids: ["a", "w"],
        leastShare: 0.55,
        unmixed: false,
      }];
    }, "brew-requires"],
    ["a substitute for another line", (season) => {
      of(season.beers, "half").substitutes[0]!.forLine = "base";
    }, "brew-ingredient"],
    ["a booked brew called free because another is refused", (season, plan) => {
      season.bookings.brews.push({ brewId: "b2", on: "2027-02-09" });
      plan.cannotKeep.push({ kind: "brew", id: "b2", why: "No tank." });
      of(plan.brews, "b1").standing = "not booked";
    }, "standing"],
    ["three minutes too few hours on the kiln", (season) => {
      made(season, "munich").profiles[0]!.kiln = { least: 24.05, usual: 25, greatest: 26 };
    }, "stage-hours"],
    [
      "closed on the first of several days",
      (season) => season.brewhouse.closed.push({ from: "2027-04-14", to: "2027-04-16", reason: "x" }),
      "brew-day",
    ],
    [
      "closed on the last of several days",
      (season) => season.brewhouse.closed.push({ from: "2027-04-12", to: "2027-04-14", reason: "x" }),
      "brew-day",
    ],
    [
      "no order taken any more",
      (season) => of(season.supplyOffers, "offer-crystal").to = "2027-01-25",
      "order-day",
    ],
    [
      "no order taken yet",
      (season) => of(season.supplyOffers, "offer-crystal").from = "2027-01-27",
      "order-day",
    ],
    ["not fetched yet", (season) => of(season.feedPickups, "cattle").from = "2027-07-03", "feed-day"],
    ["not fetched any more", (season) => of(season.feedPickups, "cattle").to = "2027-07-01", "feed-day"],
    [
      "a gram under the least feed load",
      (season) => of(season.feedPickups, "cattle").leastG = 2_000_001,
      "feed-weight",
    ],
    ["a drum load a gram too light", (season) => {
      const { made } = of(season.maltTypes, "toasted");
      if (made.from === "malt") made.leastG = 100_001;
    }, "drum-load"],
    ["an order that weighs a gram more", (_, plan) => plan.orders[0]!.massG += 1, "order-figures"],
    [
      "an order best before a day later",
      (_, plan) => plan.orders[0]!.bestBefore = "2027-11-30",
      "order-figures",
    ],
    ["a batch best before a day later", (_, plan) => {
      of(plan.runs, "r3").outputs[0]!.bestBefore = "2027-08-22";
    }, "batch-dates"],
    ["too thin a grain", (season) => {
      of(season.lots, "x").analyses.push({
        id: "x-2",
        sampledOn: "2026-10-01",
        resultOn: "2027-01-12",
        plump: 0.799,
      });
    }, "lot-acceptance"],
    ["two owners in one run", (season) => {
      of(season.lots, "b").owner = "A neighbour";
      const contract = of(season.contracts, "sell-pale");
      if (contract.kind === "sell-malt") contract.lotIds = ["a", "b"];
      // Malt of the mixed run goes into no beer here but b5, whose own breach is not asked about.
    }, "lot-pair"],
    [
      "an awaited result without a day",
      (season) => delete of(season.lots, "x").analyses[0]!.expectedOn,
      "lot-awaiting",
    ],
    ["a lot that nothing says will wake", (season) => delete of(season.lots, "x").wakesOn, "lot-asleep"],
    ["seed from another lot", (_, plan) => {
      plan.seedTaken[0]!.lotId = "c";
      plan.seedTaken[0]!.storeId = "bin-2";
    }, "seed-taken"],
    ["grain sold from another lot", (_, plan) => {
      plan.grainDeliveries[0]!.lotId = "c";
      plan.grainDeliveries[0]!.storeId = "bin-2";
    }, "grain-contract"],
    ["malt of another kind sold", (season) => {
      const contract = of(season.contracts, "sell-pale");
      if (contract.kind === "sell-malt") contract.maltId = "munich";
    }, "malt-contract"],
    ["an order placed yesterday", (_, plan) => plan.orders[0]!.orderedOn = "2027-01-17", "in-the-past"],
    ["a drum load in the held days", (_, plan) => plan.drums[0]!.on = "2027-01-20", "first-free-day"],
    ["a brew in the held days", (_, plan) => of(plan.brews, "b2").on = "2027-01-20", "first-free-day"],
    ["a move in the held days", (_, plan) => plan.moves[0]!.on = "2027-01-20", "first-free-day"],
    ["a feed load in the held days", (_, plan) => plan.feedLoads[0]!.on = "2027-01-20", "first-free-day"],
    [
      "a malt delivery in the held days",
      (_, plan) => plan.maltDeliveries[0]!.on = "2027-01-20",
      "first-free-day",
    ],
    [
      "a tank that older beer has until tomorrow",
      (season) => season.opening.tanks.push({ tankId: "t1", what: "ale", volumeL: 1, freeOn: "2027-02-11" }),
      "tank-taken",
    ],
    ["a tank closed from the hour it is filled", (season) => {
      of(season.tanks, "t3").closures.push({ from: "2027-02-09T00:00", to: "2027-02-10T00:01", reason: "x" });
    }, "tank-closed"],
  ])("%s", (_, change, rule) => {
    expect(rules(change)).toContain(rule);
  });
});

describe("what is asked, to the day", () => {
  const sale = (from: string, to: string): Contract => ({
    kind: "sell-malt",
    id: "sell-more",
    party: "A pub",
    maltId: "pale",
    massG: 1000,
    from,
    to,
    perTonneCents: 0,
    class: 3,
  });
  const grain = (from: string, to: string): Contract => ({
    kind: "sell-grain",
    id: "sell-more",
    party: "A mill",
    lotId: "b",
    massG: 1000,
    from,
    to,
    perTonneCents: 0,
  });
  const asks = (contract: Contract, change: Change = () => {}) =>
    rules((season, plan) => {
      season.contracts.push(contract);
      change(season, plan);
    });

  test.each<[string, Contract, string[]]>([
    ["malt until today", sale("2027-01-01", "2027-01-18"), ["contract-missing", "goal-counts"]],
    ["malt until yesterday", sale("2027-01-01", "2027-01-17"), []],
    ["malt from the horizon's last day", sale("2027-04-30", "2027-05-30"), [
      "contract-missing",
      "goal-counts",
    ]],
    ["malt from the day after it", sale("2027-05-01", "2027-05-30"), []],
    ["grain until today", grain("2027-01-01", "2027-01-18"), ["contract-missing"]],
    ["grain until yesterday", grain("2027-01-01", "2027-01-17"), []],
    ["grain from the plan's last day", grain("2027-07-23", "2027-08-30"), ["contract-missing"]],
    ["grain from the day after it", grain("2027-07-24", "2027-08-30"), []],
  ])("%s", (_, contract, should) => {
    expect(asks(contract)).toEqual(should);
  });

  test("grain delivered already is not asked for again, and what is left is", () => {
    const contract = grain("2027-01-01", "2027-12-31");
    const deliver = (massG: number): Change => (season) => {
      season.opening.grain[2]!.massG += massG;
      season.records.deliveries.push({
        id: "d",
        contractId: "sell-more",
        on: "2027-01-11",
        lotId: "b",
        storeId: "bin-3",
        massG,
      });
    };
    expect(asks(contract, deliver(1000))).toEqual([]);
    expect(asks(contract, deliver(999))).toEqual(["contract-missing"]);
    const rest: Change = (_, plan) =>
      plan.grainDeliveries.push({
        contractId: "sell-more",
        on: "2027-01-18",
        lotId: "b",
        storeId: "bin-3",
        massG: 1,
      });
    const both: Change = (season, plan) => (deliver(999)(season, plan), rest(season, plan));
    expect(asks(contract, both)).toEqual([]);
  });

  const seedOn = (on: string, taken: boolean): Change => (season, plan) => {
    season.opening.grain[2]!.massG += 1000;
    season.seedReserves.push({ id: "seed-more", lotId: "b", massG: 1000, on });
    if (taken) plan.seedTaken.push({ reserveId: "seed-more", on, lotId: "b", storeId: "bin-3", massG: 1000 });
  };
  // A kilogram that nobody takes is worth 15 cents at the end, which the cent for every lot does not hide.
  test.each<[string, string, boolean, string[]]>([
    ["seed of yesterday has left its bin", "2027-01-17", false, []],
    ["seed of today is taken", "2027-01-18", true, []],
    ["seed of today is forgotten", "2027-01-18", false, ["seed-taken", "money-part"]],
    ["seed of the plan's last day", "2027-07-23", true, []],
    ["seed of that day is forgotten", "2027-07-23", false, ["seed-taken", "money-part"]],
    ["seed after the plan's end", "2027-07-24", false, ["money-part"]],
  ])("%s", (_, on, taken, should) => {
    expect(rules(seedOn(on, taken))).toEqual(should);
  });
});

describe("grain left at the end of the plan", () => {
  // The plan ends on 23 July: what may be steeped on the 24th counts.
  const worth = (change: Change, cents: number) =>
    rules((season, plan) => {
      change(season, plan);
      pay(plan, "endGrainCents", -cents);
    });
  const B = 32_925, F = 45_000;

  test.each<[string, Change, number]>([
    [
      "a lot with one more day",
      (season) => of(season.lots, "b").useBy = { on: "2027-07-24", reason: "x" },
      B + F,
    ],
    ["a lot on its last day", (season) => of(season.lots, "b").useBy = { on: "2027-07-23", reason: "x" }, F],
    [
      "a lot whose malt has another crop",
      (season) => {
        made(season, "pale").crops = made(season, "munich").crops = ["rye"];
      },
      0,
    ],
    ["a lot that nothing says will wake", (season) => {
      of(season.plantings, "plant-f").restAfterHarvestDays.late = 2000;
      delete of(season.lots, "b").wakesOn;
    }, F],
    ["a lot that fails", (season) => of(season.lots, "b").analyses[0]!.proteinDb = 0.13, F],
    ["the best price that takes its toxin", (season) => {
      season.feedPickups.push({
        ...structuredClone(of(season.feedPickups, "cattle")),
        id: "pigs",
        perTonneCents: 30_000,
        donPpmMost: 0.6,
      });
      season.feedPickups.push({
        ...structuredClone(of(season.feedPickups, "cattle")),
        id: "poultry",
        perTonneCents: 60_000,
        donPpmMost: 0.59,
      });
      // F was never measured, so nobody refuses it.
    }, 2 * B + 4 * F],
    ["a lot that is not for malting any more", (season) => of(season.lots, "f").use = "held", B],
    ["treated seed", (season) => of(season.lots, "f").treatedSeed = true, B],
    ["another owner's grain", (season) => of(season.lots, "f").owner = "A neighbour", B],
    ["a customer's grain, though a contract has it malted", (season) => {
      of(season.lots, "f").owner = "A neighbour";
      const contract = of(season.contracts, "sell-pale");
      if (contract.kind === "sell-malt") contract.lotIds = ["a", "f"];
    }, B],
  ])("%s", (_, change, cents) => {
    expect(worth(change, cents)).not.toContain("money-part");
    expect(worth(change, cents + 20)).toContain("money-part");
  });
});
