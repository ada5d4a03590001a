import { capacityKg } from "../physics/bin-capacity.ts";
import { TEST_WEIGHT } from "./made-land.ts";
import type { Knobs, MadeFrame } from "./made-frame.ts";
import type { LotPlan } from "./lot-plans.ts";
import type { Part, Row } from "./micro-frame.ts";

/** Where a lot lies, grams as in bin. */
export interface Lay {
  readonly lotId: string;
  readonly storeId: string;
  massG: number;
}

/** A bulk bag, and the smaller bag of a farm that has too little room. */
const PLACE_L = 1000;
const SMALL_PLACE_L = 200;
/** Lots lighter than this lie in bulk bags. */
const BAGGED_G = 1.2e6;
const SMALLEST_BIN_L = 500;
/** Fewest bins of a farm of each size. */
const LEAST_BINS = { micro: 0, small: 0, typical: 0, large: 10, coop: 10 } as const;
/** One lot in several bins leaves a little room in each. */
const PART_SPARE = 1.03;
/** A bin is never filled to the last litre. */
const SPARE = 1.08;
/** Room for what lay in the bin at the opening position and has been used since. */
const USED_SHARE = 1.12;

/** Bins for every lot in store and for the next harvest, a row of bags for the light lots, and what lies in them. */
export function madeStores(
  frame: MadeFrame,
  knobs: Knobs,
  plans: readonly LotPlan[],
): Part<"stores"> & { lays: Lay[] } {
  const { size, limit, luck } = frame;
  const short = limit === "bins";
  const placeL = short ? SMALL_PLACE_L : PLACE_L;
  const usedShare = short ? 1 : USED_SHARE;
  const lays: Lay[] = [];
  const stores: Row<"stores">[] = [];
  const bagged: LotPlan[] = [];
  const temps = temperatures(frame);
  const binFor = (massG: number, plan: LotPlan) => {
    const id = `bin-${stores.length + 1}`;
    const volumeL = Math.max(SMALLEST_BIN_L, litres(massG, plan) * SPARE);
    stores.push({
      kind: "bin",
      id,
      name: `Bin ${stores.length + 1}`,
      shape: size !== "micro" && luck(`bin ${id}`).oneIn(2) && volumeL > 5000
        ? cylinder(volumeL)
        : { kind: "volume", volumeL: Math.ceil(volumeL) },
      turnaroundDays: luck(`bin ${id}`).int(1, 4),
      monthTempC: temps,
    });
    return id;
  };
  for (const plan of plans.filter((one) => one.state === "in store")) {
    const light = plan.kind === "raw" || (size === "micro" ? short : plan.massG < BAGGED_G);
    if (light) {
      bagged.push(plan);
      continue;
    }
    // A heavy lot may lie in two bins.
    const twoBins = size !== "micro" && plan.massG > 6e6 && luck(`lot in bins ${plan.id}`).oneIn(6);
    const firstG = twoBins ? Math.round(plan.massG * 0.6) : plan.massG;
    lays.push({ lotId: plan.id, storeId: binFor(firstG * usedShare, plan), massG: firstG });
    if (twoBins) {
      const restG = plan.massG - firstG;
      lays.push({ lotId: plan.id, storeId: binFor(restG * usedShare, plan), massG: restG });
    }
  }
  const coming = plans.filter((one) => one.state === "to come");
  const next = Math.min(...coming.map((one) => one.year));
  const arriving = coming.filter((one) => one.year === next || one.kind === "bought");
  // Where room is to be short, what comes to a small farm finds nothing but a few bags, to a large one small bins.
  const inBags = short && size !== "large" && size !== "coop";
  const missing = Math.max(0, LEAST_BINS[size] - stores.length - arriving.length);
  // A farm of this size has more bins than lots: what comes is spread over them.
  const parts = inBags ? 0 : 1 + Math.ceil(missing / Math.max(1, arriving.length));
  for (const plan of arriving) {
    for (let part = 0; part < parts; part++) binFor(plan.massG * knobs.bins / parts * PART_SPARE, plan);
  }
  const taken = bagged.reduce(
    (sum, plan) => sum + Math.ceil(litres(plan.massG * usedShare, plan) / placeL),
    0,
  );
  const comingL = arriving.reduce((sum, plan) => sum + litres(plan.massG, plan), 0);
  const spare = inBags
    ? Math.max(1, Math.round(knobs.bins * comingL / placeL))
    : size === "micro"
    ? 0
    : short
    ? 1
    : 4;
  if (taken + spare > 0) {
    stores.push({
      kind: "bags",
      id: "bags",
      name: "Bulk bags",
      places: taken + spare,
      placeVolumeL: placeL,
      monthTempC: temps,
    });
    lays.push(...bagged.map((plan) => ({ lotId: plan.id, storeId: "bags", massG: plan.massG })));
  }
  return { stores, lays };
}

function litres(massG: number, plan: LotPlan): number {
  return massG / 1000 / capacityKg(1, TEST_WEIGHT[plan.crop]);
}

/** A round bin of the volume, a quarter deeper than wide. */
function cylinder(volumeL: number) {
  const depthPerDiameter = 1.25;
  const diameterM = Math.ceil(100 * Math.cbrt(volumeL / 1000 / (Math.PI / 4) / depthPerDiameter)) / 100;
  return {
    kind: "cylinder" as const,
    diameterM,
    depthM: Math.ceil(100 * diameterM * depthPerDiameter) / 100,
  };
}

/** Grain cools with the winter: common practice, no source. */
function temperatures({ luck }: MadeFrame): number[] {
  const warmer = luck("temperatures").int(-1, 2);
  return [3, 3, 4, 6, 9, 12, 15, 16, 14, 11, 7, 4].map((tempC) => tempC + warmer);
}
