/** A plan of the hand-written season that keeps every rule. Weights are worked out in the comments. */
import { addDays } from "../../../core/calendar.ts";
import { extractKg } from "../../../core/physics/extract.ts";
import { type Plan, type PlanRun, planSchema } from "../../../core/plan/plan.ts";

/**
 * Every run draws 1,000 kg at 12 %: 50 kg of screenings, 950 kg clean, 836 kg of dry matter, of which 90 % stay: 752.4 kg,
 * or 792 kg of malt at 5 %; rootlets 4 % of 836 kg at 5 %: 35.2 kg.
 */
const WEIGHTS = { screeningsG: 50_000, cleanG: 950_000, culmsG: 35_200 };
const VESSELS = { steep: "steep", bed: "bed", kiln: "kiln" };

type RunPart = Pick<PlanRun, "id" | "draws"> & Partial<PlanRun>;

/** A run of 2 + 4 + 1 days from 08:00; the hours of the other hand-overs are given when a clock change moves them. */
export function run(day: string, part: RunPart, out = [792_000], hour = "08:00"): PlanRun {
  const malts = out.length === 1 ? ["pale"] : ["munich", "pale"], strip = addDays(day, 7);
  return {
    standing: "not booked",
    maltId: malts[0]!,
    profileId: `${malts[0]}-usual`,
    vesselIds: { ...VESSELS },
    steepInAt: `${day}T08:00`,
    castAt: `${addDays(day, 2)}T08:00`,
    kilnAt: `${addDays(day, 6)}T${hour}`,
    stripAt: `${strip}T${hour}`,
    ...WEIGHTS,
    outputs: out.map((massG, place) => ({
      batchId: `${part.id}-${malts[place]}`,
      maltId: malts[place]!,
      massG,
      readyOn: addDays(strip, 7),
      bestBefore: addDays(strip, 200),
    })),
    ...part,
  };
}

/** Extract one brew needs in grams: 1,000 L of 12 °P at 85 %. */
const NEED_G = extractKg(1000, 12) * 1000 / 0.85;
/** Half Wheat by share and book extract: 0.6 x 0.76, 0.3 x 0.6, 0.1 x 0.722. */
const HALF_SUM = 0.6 * 0.76 + 0.3 * 0.6 + 0.1 * 0.722;
const BASE_G = NEED_G * 0.6 * 0.76 / HALF_SUM;
const WHEAT_G = NEED_G * 0.3 * 0.6 / HALF_SUM;
const DARK_G = NEED_G * 0.1 * 0.722 / HALF_SUM;

function use(lineId: string, batchId: string, extractG: number, extract: number) {
  return { lineId, from: { kind: "batch" as const, batchId }, massG: Math.round(extractG / extract) };
}

const WHEAT = {
  lineId: "wheat",
  from: { kind: "lot" as const, lotId: "w", storeId: "bags" },
  massG: Math.round(WHEAT_G / 0.6),
};

type Grist = Plan["brews"][number]["grist"];

function weight(grist: Grist): number {
  return grist.reduce((sum, item) => sum + item.massG, 0);
}

/** b3: malt of lot A alone (0.82 x 0.95), its dark line half bought crystal, half toasted (0.75 x 0.96). */
const B3: Grist = [
  use("base", "r2-pale", BASE_G, 0.779),
  WHEAT,
  use("dark", "crystal-1", DARK_G / 2, 0.72),
  use("dark", "toasted-1", DARK_G / 2, 0.72),
];
/** b5: malt of the run of two lots ((0.4 x 0.82 + 0.6 x 0.80) x 0.95), its dark line all bought. */
const B5: Grist = [use("base", "r4-pale", BASE_G, 0.7676), WHEAT, use("dark", "crystal-1", DARK_G, 0.72)];

const bought = (grist: Grist) =>
  weight(grist.filter(({ from }) => from.kind === "batch" && from.batchId === "crystal-1"));

const PLAN: Plan = {
  format: "rickyard-plan",
  version: 1,
  seasonId: "hand",
  seasonHash: "0".repeat(64),
  revision: 0,
  asOf: "2027-01-18T09:00",
  seed: 1,
  iterations: 1,
  program: "test",
  stoppedEarly: false,
  runs: [
    run("2027-01-14", {
      id: "r1",
      standing: "under way",
      draws: [{ lotId: "a", storeId: "bin-1", massG: 1_000_000 }],
    }),
    run("2027-01-19", {
      id: "r2",
      standing: "booked",
      draws: [{ lotId: "a", storeId: "bin-1", massG: 1_000_000 }],
    }),
    run("2027-01-26", { id: "r3", draws: [{ lotId: "a", storeId: "bin-1", massG: 1_000_000 }] }),
    // The tail of lot A, 400 kg, is finished with lot B on the day B wakes and A has its last day.
    run("2027-02-02", {
      id: "r4",
      draws: [
        { lotId: "a", storeId: "bin-1", massG: 400_000 },
        { lotId: "b", storeId: "bin-3", massG: 600_000 },
      ],
    }),
    // Clocks go forward on 28 March: 96 h in bed end at 09:00. The malt is split 75 to 25.
    run(
      "2027-03-23",
      { id: "r5", draws: [{ lotId: "b", storeId: "bin-3", massG: 1_000_000 }] },
      [594_000, 198_000],
      "09:00",
    ),
    // Monday to Monday: the kiln is loaded in the extra window on Sunday.
    run("2027-04-05", { id: "r6", draws: [{ lotId: "x", storeId: "bags", massG: 1_000_000 }] }),
  ],
  drums: [{
    id: "drum-1",
    on: "2027-02-03",
    maltId: "toasted",
    from: [{ batchId: "r1-pale", massG: 100_000 }],
    batchId: "toasted-1",
    massG: 90_000,
    readyOn: "2027-02-05",
    bestBefore: "2027-05-14",
  }],
  brews: [
    {
      id: "b1",
      beerId: "lager",
      standing: "booked",
      on: "2027-01-27",
      tanks: [{ tankId: "t2", volumeL: 1000 }],
      grist: [use("base", "open-pale", NEED_G, 0.77)],
      homeShare: 1,
      promiseHeld: true,
    },
    {
      id: "b2",
      beerId: "lager",
      standing: "not booked",
      on: "2027-02-10",
      tanks: [{ tankId: "t1", volumeL: 600 }, { tankId: "t3", volumeL: 400 }],
      grist: [use("base", "r1-pale", NEED_G, 0.779)],
      homeShare: 1,
      promiseHeld: true,
    },
    {
      id: "b3",
      beerId: "half",
      standing: "not booked",
      on: "2027-02-17",
      tanks: [{ tankId: "t2", volumeL: 1000 }],
      grist: B3,
      homeShare: 1 - bought(B3) / weight(B3),
      promiseHeld: true,
    },
    {
      id: "b5",
      beerId: "half",
      standing: "not booked",
      on: "2027-04-14",
      tanks: [{ tankId: "t1", volumeL: 1000 }],
      grist: B5,
      homeShare: 1 - bought(B5) / weight(B5),
      promiseHeld: true,
    },
    {
      id: "tail-b0",
      beerId: "lager",
      standing: "not booked",
      on: "2027-06-09",
      tanks: [{ tankId: "t1", volumeL: 1000 }],
      grist: [use("base", "r5-pale", NEED_G, 0.76)],
      homeShare: 1,
      promiseHeld: true,
    },
  ],
  unbrewed: [{ id: "b4", beerId: "lager", cause: "tanks full", why: "Left out to have one." }],
  maltDeliveries: [{
    contractId: "sell-pale",
    on: "2027-03-10",
    from: [{ batchId: "r2-pale", massG: 300_000 }],
  }],
  unsold: [],
  orders: [{
    id: "o1",
    standing: "not booked",
    offerId: "offer-crystal",
    orderedOn: "2027-01-26",
    arrivesOn: "2027-02-02",
    packs: 4,
    batchId: "crystal-1",
    massG: 100_000,
    bestBefore: "2027-11-29",
    costCents: 18_500,
  }],
  // 1 ha x 4,000 kg, less 0.5 %, dried from 16 to 12 %, less 2 %: 3,723,109 g.
  fills: [
    { on: "2027-05-03", lotId: "g", storeId: "bags", massG: 800_000 },
    { on: "2027-07-05", lotId: "f", storeId: "bin-2", massG: 3_000_000 },
  ],
  leftOut: [{ lotId: "f", on: "2027-07-05", massG: 723_109 }],
  // Lot A leaves bin 1 on 2 February; three clean days later lot B comes in.
  moves: [{
    id: "mv1",
    standing: "not booked",
    on: "2027-02-05",
    lotId: "b",
    fromStoreId: "bin-3",
    toStoreId: "bin-1",
    massG: 1_000_000,
    lossG: 5000,
  }],
  // Lot C leaves bin 2 three days before the harvest enters it.
  feedLoads: [{
    id: "fl1",
    standing: "not booked",
    pickupId: "cattle",
    on: "2027-07-02",
    items: [{ lotId: "c", storeId: "bin-2", massG: 2_000_000 }],
    revenueCents: 25_000,
  }],
  seedTaken: [{ reserveId: "seed-b", on: "2027-03-15", lotId: "b", storeId: "bin-3", massG: 200_000 }],
  grainDeliveries: [{
    contractId: "sell-b",
    on: "2027-03-16",
    lotId: "b",
    storeId: "bin-3",
    massG: 1_000_000,
  }],
  cannotKeep: [{ kind: "order", id: "o9", why: "Its order day has gone by without a record." }],
  goals: {
    made: [3, 2, 0],
    asked: [3, 2, 1],
    promisesHeld: 4,
    tailMade: 1,
    moneyCents: -2155,
    money: {
      // Four pale runs of 20,000 + 0.95 t x 10,000, one Munich run, one drum load.
      runsCents: 4 * 29_500 + 22_000 + 2000,
      ordersCents: 18_500,
      movesCents: 1500,
      nightTurnsCents: 0,
      extraHoursCents: 3000,
      feedCents: -25_000,
      salesCents: -45_000 - 20_000,
      // Lot B: 1.2 t in bin 3 and 0.995 t in bin 1; lot F: 3 t; all at 15,000 a tonne.
      endGrainCents: -77_925,
      // No Munich is ready on the 77 days from 19 January to 5 April: 0.1 t x 77 x 100.
      reserveCents: 770,
      changedRunsCents: 0,
    },
  },
};

/** A fresh copy each time. */
export function handPlan(): Plan {
  return planSchema.parse(structuredClone(PLAN));
}
