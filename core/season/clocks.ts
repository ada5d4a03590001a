import { dateOf, dayNumber } from "../calendar.ts";
import { lastDayAbove } from "../physics/viability.ts";
import { forecastHarvestDay, plantingsToCome } from "./forecast.ts";
import type { Analysis, Lot } from "./grain.ts";
import { recordedGrain, storesOfLot } from "./grain-events.ts";
import { donPpmOf, holdsTreatedSeed } from "./lock.ts";
import type { Acceptance, MaltType } from "./malthouse.ts";
import type { Season } from "./season.ts";
import { planEndDay } from "./tail.ts";

/** Where the viability equation holds; grain outside is taken at the nearer end, and the season check doubts the value. */
const FORMULA_MOISTURE_WB = [0.05, 0.25] as const;
const FORMULA_TEMP_C = [-20, 90] as const;

/** When a lot may be steeped for a malt. Days are day numbers. */
export interface LotClock {
  /** First steep-in day, which may be past; null when there is none, and `blockedBy` says why. */
  readonly firstDay: number | null;
  /**
   * Last steep-in day. Where nothing sets one in or before the plan it is the day after the plan's end, or the first day if
   * that is later: "still fit when the plan ends". Of a spent lot it is the day before the result that showed it.
   */
  readonly lastDay: number;
  readonly blockedBy: null | "not awake" | "awaiting result" | "too old" | "not suitable";
  /** Day on which the last awaited result is expected; null when none is awaited or no day is known. */
  readonly awaitedUntil: number | null;
}

/** An analysis whose result has come. */
type Result = Analysis & { resultOn: string };
type Measured = "germinativeEnergy" | "germinativeCapacity" | "proteinDb" | "plump";

/** Results in the order in which they came; of one day, in the order in which they stand in the file. */
function resultsOf(lot: Lot): Result[] {
  return lot.analyses.filter((one): one is Result => one.resultOn !== undefined)
    .sort((a, b) => dayNumber(a.resultOn) - dayNumber(b.resultOn));
}

/** The latest germinative energy measured of a lot, as a share; null when none was. */
export function latestEnergy(lot: Lot): number | null {
  return latest(resultsOf(lot), "germinativeEnergy")?.value ?? null;
}

function latest(results: readonly Result[], quantity: Measured): { value: number; day: number } | undefined {
  const result = results.findLast((one) => one[quantity] !== undefined);
  return result === undefined ? undefined : { value: result[quantity]!, day: dayNumber(result.resultOn) };
}

/** The clock of a lot for a malt, as DEVELOPERS.md sets it down under "A lot's clock for a malt". */
export function lotClock(season: Season, lot: Lot, malt: MaltType, asOf: string): LotClock {
  const results = resultsOf(lot);
  const awaited = lot.analyses.filter((one) => one.resultOn === undefined);
  const awaitedUntil = awaited.length > 0 && awaited.every((one) => one.expectedOn !== undefined)
    ? Math.max(...awaited.map((one) => dayNumber(one.expectedOn!)))
    : null;
  const end = planEndDay(season) + 1;
  const never = (blockedBy: LotClock["blockedBy"], lastDay = end): LotClock => ({
    firstDay: null,
    lastDay,
    blockedBy,
    awaitedUntil,
  });
  if (malt.made.from !== "grain" || !suits(season, lot, malt, results)) return never("not suitable");

  const { acceptance } = malt.made;
  const fitUntil = lastMaltingDay(season, lot, acceptance, results, end);
  const lastDay = Math.min(fitUntil, end);
  const spentOn = isSpent(results, acceptance) ? latest(results, "germinativeEnergy")!.day : null;
  if (spentOn !== null) return never("too old", Math.min(lastDay, spentOn - 1));
  const awakeOn = firstAwakeDay(season, lot, acceptance, results, asOf);
  if (awakeOn === null) return never("not awake", lastDay);
  if (awaited.length > 0 && awaitedUntil === null) return never("awaiting result", lastDay);
  const firstDay = Math.max(awakeOn, awaitedUntil ?? -Infinity);
  if (Math.max(firstDay, dayNumber(dateOf(asOf))) > fitUntil) return never("too old", lastDay);
  return {
    firstDay,
    lastDay: Math.max(lastDay, Math.min(firstDay, fitUntil)),
    blockedBy: null,
    awaitedUntil,
  };
}

/** Since when a lot is awake for a malt, or will be, whether it is still fit by then or not; null when nothing says so. */
export function awakeSince(season: Season, lot: Lot, malt: MaltType, asOf: string): number | null {
  if (malt.made.from !== "grain") return null;
  return firstAwakeDay(season, lot, malt.made.acceptance, resultsOf(lot), asOf);
}

/** Whether crop, use, owner and every measured value let the lot be made into the malt at all. */
export function suitsMalt(season: Season, lot: Lot, malt: MaltType): boolean {
  return suits(season, lot, malt, resultsOf(lot));
}

function suits(season: Season, lot: Lot, malt: MaltType, results: readonly Result[]): boolean {
  if (malt.made.from !== "grain" || !malt.made.crops.includes(lot.crop)) return false;
  if (lot.use !== "malting" || holdsTreatedSeed(season, lot)) return false;
  const forCustomer = season.contracts.some((one) =>
    one.kind === "sell-malt" && one.lotIds?.includes(lot.id)
  );
  if (lot.owner !== "farm" && !forCustomer) return false;
  const { donPpmMost, proteinDbMost = Infinity, plumpLeast = -Infinity } = malt.made.acceptance;
  // A value that was not measured is not held against the lot.
  return (donPpmOf(season, lot) ?? -Infinity) <= donPpmMost &&
    (latest(results, "proteinDb")?.value ?? -Infinity) <= proteinDbMost &&
    (latest(results, "plump")?.value ?? Infinity) >= plumpLeast;
}

/** A lot that once germinated well and by its last test no longer does is not asleep: it is dying. */
function isSpent(results: readonly Result[], acceptance: Acceptance): boolean {
  const least = acceptance.germinativeEnergyLeast;
  const energies = results.flatMap((one) => one.germinativeEnergy ?? []);
  return energies.length > 0 && energies.at(-1)! < least && energies.some((energy) => energy >= least);
}

function firstAwakeDay(
  season: Season,
  lot: Lot,
  acceptance: Acceptance,
  results: readonly Result[],
  asOf: string,
): number | null {
  const passed = results.find((one) => (one.germinativeEnergy ?? -1) >= acceptance.germinativeEnergyLeast);
  if (passed !== undefined) return dayNumber(passed.resultOn);
  if (lot.wakesOn !== undefined) return dayNumber(lot.wakesOn.late);
  // Of several harvests in one lot, the lot is awake when the sleepiest part of it is.
  const wakings = plantingsToCome(season, lot.id).map((planting) =>
    forecastHarvestDay(planting, asOf) + planting.restAfterHarvestDays.late
  );
  return wakings.length === 0 ? null : Math.max(...wakings);
}

/** Infinity when nothing sets a last day up to `end`. */
function lastMaltingDay(
  season: Season,
  lot: Lot,
  acceptance: Acceptance,
  results: readonly Result[],
  end: number,
): number {
  const useBy = lot.useBy === undefined ? Infinity : dayNumber(lot.useBy.on);
  const tested = latest(results, "germinativeCapacity") ?? latest(results, "germinativeEnergy");
  const store = firstStore(season, lot.id);
  const least = acceptance.germinationAtSteepLeast;
  if (tested === undefined || store === undefined || least <= 0) return useBy;
  // The equation knows neither a dead lot nor one of which every corn must live.
  if (tested.value <= 0 || least >= 1) return Math.min(useBy, tested.day - 1);
  const limit = Math.max(end, tested.day);
  const within = (value: number, [low, high]: readonly [number, number]) =>
    Math.min(Math.max(value, low), high);
  const alive = lastDayAbove(
    tested.day,
    tested.value,
    least,
    within(lot.moistureWb, FORMULA_MOISTURE_WB),
    store.monthTempC.map((tempC) => within(tempC, FORMULA_TEMP_C)),
    lot.crop,
    limit,
  );
  return Math.min(useBy, alive < limit ? alive : Infinity);
}

/** The store the lot lay in first; one that has not come yet is thought to lie in the first store of the season. */
function firstStore(season: Season, lotId: string): Season["stores"][number] | undefined {
  const [storeId] = storesOfLot(season, recordedGrain(season, Infinity), lotId);
  return season.stores.find((store) => store.id === storeId) ?? season.stores[0];
}
