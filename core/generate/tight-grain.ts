import { dateOf, dayNumber } from "../calendar.ts";
import { bookAt } from "../book/book.ts";
import { capacityKg, levelVolumeL } from "../physics/bin-capacity.ts";
import { lotClock } from "../season/clocks.ts";
import { forecastFills } from "../season/forecast.ts";
import type { Store } from "../season/grain.ts";
import type { Crop } from "../season/quantity.ts";
import type { Season } from "../season/season.ts";
import { type HomeNeed, leastLeadDays } from "./tight-need.ts";

const G_PER_KG = 1000;

/** Grain as in bin that has to be steeped by a day, at the latest. */
interface SteepNeed {
  readonly crop: Crop;
  readonly day: number;
  readonly massG: number;
}

/** Grain of one lot that there is, or will be, and the first day on which it can be malted. */
interface Supply {
  readonly crop: Crop;
  /** Day number on which it comes; as-of for what lies in store. */
  readonly comes: number;
  readonly wakes: number;
  readonly massG: number;
}

/** Need by supply: for each crop and brew day, grain asked for up to then by grain awake early enough. */
export function grainTightness(season: Season, needs: readonly HomeNeed[]): number {
  const supplies = suppliesOf(season, needs);
  let tightest = 0;
  for (const crop of new Set(needs.map((need) => need.made.crops[0]!))) {
    const inOrder = supplies.filter((one) => one.crop === crop).sort((a, b) => a.wakes - b.wakes);
    let needG = 0, supplyG = 0, at = 0;
    for (const { day, massG } of steepNeeds(needs).filter((one) => one.crop === crop)) {
      needG += massG;
      for (; at < inOrder.length && inOrder[at]!.wakes <= day; at++) supplyG += inOrder[at]!.massG;
      tightest = Math.max(tightest, needG / supplyG);
    }
  }
  return tightest;
}

/**
 * Grain that has to lie in store by room: on each day on which grain comes, what is steeped later and before the next harvest
 * of its crop wakes, by what all stores hold.
 */
export function binsTightness(season: Season, needs: readonly HomeNeed[]): number {
  const roomG = season.stores.reduce((sum, store) => sum + storeG(season, store), 0);
  const supplies = suppliesOf(season, needs);
  const today = dayNumber(dateOf(season.asOf));
  const asked = steepNeeds(needs);
  const days = new Set(supplies.filter((one) => one.comes > today).map((one) => one.comes));
  return Math.max(
    0,
    ...[...days].map((day) =>
      asked.filter((one) => {
        const later = supplies.filter((supply) => supply.crop === one.crop && supply.comes > day);
        return one.day > day && one.day <= Math.min(Infinity, ...later.map((supply) => supply.wakes));
      }).reduce((sum, one) => sum + one.massG, 0) / roomG
    ),
  );
}

function steepNeeds(needs: readonly HomeNeed[]): SteepNeed[] {
  return needs.flatMap((need) =>
    need.net.map(({ day, massG }) => ({
      crop: need.made.crops[0]!,
      day: day - leastLeadDays(need),
      massG: massG / need.maltPerClean / (1 - need.made.screeningLoss),
    }))
  ).sort((a, b) => a.day - b.day);
}

function suppliesOf(season: Season, needs: readonly HomeNeed[]): Supply[] {
  const book = bookAt(season, season.asOf);
  const today = dayNumber(dateOf(season.asOf));
  const fills = forecastFills(season, season.asOf);
  return season.lots.flatMap((lot) => {
    if (lot.origin !== "own" || lot.owner !== "farm") return [];
    const firsts = needs.flatMap((need) => lotClock(season, lot, need.malt, season.asOf).firstDay ?? []);
    if (firsts.length === 0) return [];
    const wakes = Math.min(...firsts);
    let spokenForG = season.seedReserves.filter((seed) => seed.lotId === lot.id && dayNumber(seed.on) > today)
      .reduce((sum, seed) => sum + seed.massG, 0) +
      season.contracts.reduce(
        (sum, one) => sum + (one.kind === "sell-grain" && one.lotId === lot.id ? one.massG : 0),
        0,
      );
    const heldG = [...(book.grain.get(lot.id)?.values() ?? [])].reduce((sum, massG) => sum + massG, 0);
    const comings = [
      { day: today, massG: heldG },
      ...fills.filter((fill) => fill.lotId === lot.id),
    ];
    return comings.flatMap(({ day, massG }) => {
      const taken = Math.min(spokenForG, massG);
      spokenForG -= taken;
      return massG > taken ? [{ crop: lot.crop, comes: day, wakes, massG: massG - taken }] : [];
    });
  });
}

/** Grams that a store holds at the test weight of the season's first lot. */
function storeG(season: Season, store: Store): number {
  const testWeight = season.lots[0]?.testWeightKgPerHl ?? 0;
  const volumeL = store.kind === "bags"
    ? store.places * store.placeVolumeL
    : store.shape.kind === "volume"
    ? store.shape.volumeL
    : levelVolumeL(store.shape.diameterM, store.shape.depthM);
  return testWeight === 0 ? 0 : capacityKg(volumeL, testWeight) * G_PER_KG;
}
