import type { MicroFrame, Part, Row } from "./micro-frame.ts";

const TEST_WEIGHT_KG_PER_HL = 62;
const FIELD_M2 = 5000;
const SMALLEST_BIN_L = 500;
const CUT_WB = 0.16;
const STORED_WB = 0.12;
const HANDLING_LOSS = 0.005;
const CLEANING_LOSS = 0.02;

/** Two lots and two bins; in the theme "bins" the second lot needs the bin in which a tail of the first one lies. */
export function microGrain(
  frame: MicroFrame,
): Part<"fields" | "plantings" | "seedReserves" | "lots" | "stores" | "opening"> {
  const { luck, theme, day, firstLotG, secondLotG } = frame;
  const inBin = frame.secondLot === "in its bin";
  const tailG = inBin ? 0 : Math.round(frame.loadG * luck.int(2, 6) / 10);
  // A damp lot in a warm bin has a few weeks of life left; a sprouted one has a date instead.
  const damp = theme === "too old" && luck.oneIn(2);
  return {
    ...harvest(frame),
    seedReserves: luck.oneIn(6)
      ? [{ id: "seed", lotId: "lot-one", massG: 40_000, on: day(luck.int(3, 25)) }]
      : [],
    lots: [firstLot(frame, damp), secondLot(frame)],
    stores: [
      // Only a roomier first bin can take the tail out of the second, which makes a move possible in some seasons.
      bin("one", firstLotG + (luck.oneIn(2) ? tailG : 0), 1.02, luck.int(0, 3), damp ? 24 : 12),
      // A lot still to come may partly have to stay out.
      bin("two", Math.max(secondLotG, tailG), inBin ? 1.05 : luck.pick([0.9, 1.05]), luck.int(1, 3), 12),
    ],
    opening: {
      grain: [
        { lotId: "lot-one", storeId: "bin-one", massG: firstLotG },
        inBin
          ? { lotId: "lot-two", storeId: "bin-two", massG: secondLotG }
          : { lotId: "lot-one", storeId: "bin-two", massG: Math.min(tailG, Math.round(secondLotG * 0.9)) },
      ],
      ...opened(frame),
    },
  };
}

function harvest({ secondLot, luck, day, arrives, secondCrop, secondLotG }: MicroFrame) {
  const fields = [{ id: "field", name: "The only field", areaM2: FIELD_M2 }];
  if (secondLot !== "harvested") return { fields, plantings: [] };
  const driedShare = (1 - CUT_WB) / (1 - STORED_WB);
  const cutG = secondLotG / (1 - HANDLING_LOSS) / driedShare / (1 - CLEANING_LOSS);
  const likely = Math.round(cutG / 1000 / (FIELD_M2 / 10_000));
  return {
    fields,
    plantings: [{
      id: "planting",
      fieldIds: ["field"],
      areaM2: FIELD_M2,
      crop: secondCrop,
      varietyClass: "malting",
      sowingSeason: "spring" as const,
      harvestYear: Number(day(arrives).slice(0, 4)),
      state: "sown" as const,
      drillOn: day(arrives - 140),
      yieldKgPerHa: { bad: Math.round(likely * 0.7), likely, good: Math.round(likely * 1.2) },
      moistureAtHarvestWb: CUT_WB,
      harvest: { early: day(arrives - 2), likely: day(arrives), late: day(arrives + 4) },
      dryToWb: STORED_WB,
      handlingLoss: HANDLING_LOSS,
      intakeCleaningLoss: CLEANING_LOSS,
      testWeightKgPerHl: TEST_WEIGHT_KG_PER_HL,
      restAfterHarvestDays: { early: 1, likely: 3, late: luck.int(4, 10) },
      lotId: "lot-two",
    }],
  };
}

function bin(word: string, massG: number, spare: number, turnaroundDays: number, tempC: number) {
  const fittingL = Math.ceil(massG * spare / 1000 / TEST_WEIGHT_KG_PER_HL * 100);
  return {
    kind: "bin" as const,
    id: `bin-${word}`,
    name: `Bin ${word}`,
    shape: { kind: "volume" as const, volumeL: Math.max(SMALLEST_BIN_L, fittingL) },
    turnaroundDays,
    monthTempC: Array.from({ length: 12 }, () => tempC),
  };
}

const LOT = { varietyClass: "malting", testWeightKgPerHl: TEST_WEIGHT_KG_PER_HL, use: "malting" as const };

function test({ luck, day }: MicroFrame, id: string, energy: number, capacity: number) {
  return {
    id,
    sampledOn: day(-6),
    resultOn: day(-2),
    germinativeEnergy: energy,
    germinativeCapacity: capacity,
    proteinDb: luck.int(100, 120) / 1000,
    donPpm: 0.3,
  };
}

/** Barley, tested and awake; by its theme it is damp, sprouted, or waits for a further result. */
function firstLot(frame: MicroFrame, damp: boolean): Row<"lots"> {
  const { luck, theme, day } = frame;
  const capacity = damp ? luck.int(94, 96) / 100 : 0.98;
  const awaited = { id: "test-awaited", sampledOn: day(-1), expectedOn: day(luck.int(4, 12)) };
  const result = test(frame, "test-one", Math.min(0.97, capacity + 0.01), capacity);
  const useBy = { on: day(luck.int(6, 20)), reason: "Sprouted a little" };
  return {
    ...LOT,
    id: "lot-one",
    letter: "A",
    name: "First made lot",
    crop: "barley",
    harvestYear: Number(day(0).slice(0, 4)) - 1,
    origin: luck.oneIn(5) ? "in-state" : "own",
    formedOn: day(-120),
    moistureWb: damp ? 0.15 : STORED_WB,
    analyses: theme === "awaiting" ? [result, awaited] : [result],
    ...(theme === "too old" && !damp ? { useBy } : {}),
    ...(luck.oneIn(3) ? { maltExtractDb: luck.int(77, 82) / 100 } : {}),
  };
}

/** In its bin and tested, perhaps asleep; or still to come from the field or from a seller. */
function secondLot(frame: MicroFrame): Row<"lots"> {
  const { luck, theme, day, arrives } = frame;
  const lot = { ...LOT, id: "lot-two", letter: "B", name: "Second made lot", crop: frame.secondCrop };
  const harvestYear = Number(day(0).slice(0, 4));
  if (frame.secondLot === "harvested") {
    return {
      ...lot,
      harvestYear,
      origin: "own",
      formedOn: day(arrives),
      forecast: true,
      parents: [{ kind: "planting", plantingId: "planting" }],
      moistureWb: STORED_WB,
    };
  }
  if (frame.secondLot === "bought") {
    return {
      ...lot,
      harvestYear: harvestYear - 1,
      origin: "elsewhere",
      formedOn: day(arrives),
      forecast: true,
      parents: [{ kind: "bought", from: "A made seller" }],
      moistureWb: STORED_WB,
      wakesOn: { early: day(arrives), likely: day(arrives), late: day(arrives + luck.int(0, 3)) },
    };
  }
  const asleep = theme === "asleep";
  return {
    ...lot,
    harvestYear: harvestYear - 1,
    origin: luck.pick(["own", "own", "elsewhere"]),
    formedOn: day(-100),
    moistureWb: STORED_WB,
    analyses: [test(frame, "test-two", asleep ? 0.72 : 0.96, 0.97)],
    ...(asleep ? { wakesOn: { early: day(2), likely: day(4), late: day(luck.int(5, 18)) } } : {}),
  };
}

/** Malt in store and older beer in a tank: some seasons begin with them, some with neither. */
function opened({ luck, day }: MicroFrame): Omit<Part<"opening">["opening"], "grain"> {
  const malt = {
    id: "old-batch",
    ingredient: { kind: "malt" as const, maltId: "malt-one" },
    massG: 10_000 * luck.int(5, 15),
    home: luck.oneIn(2),
    madeOn: day(-40),
    readyOn: day(-20),
    bestBefore: day(luck.int(10, 200)),
    extractAsIs: 0.77,
  };
  const beer = {
    tankId: "tank-one",
    what: "older beer",
    volumeL: 700,
    since: day(-8),
    freeOn: day(luck.int(4, 10)),
  };
  return { malt: luck.oneIn(2) ? [malt] : [], tanks: luck.oneIn(3) ? [beer] : [] };
}
