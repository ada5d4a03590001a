/** The grain dryer: how much water, how long, how much fuel, and how hot the air may be for grain that has to grow. */
import { requireBetween, requireNotNegative, requirePositive } from "./limits.ts";
import { dryToMoisture } from "./shrink.ts";

/** Still grain in a bin or tray, or grain that falls through the air in minutes. */
export type DryerKind = "static" | "mixed-flow";

/**
 * Megajoules for a kilogram of water in a good high-temperature dryer, 4.65: 2,000 Btu a pound, Ontario
 * Ministry of Agriculture. An audit of cross-flow dryers found 4.3 (new) to 7 (old); water itself asks for 2.45.
 */
export const DRYER_MJ_PER_KG_WATER = 4.65;

/** Megajoules in a litre of propane as dryers count it, 25.5: 91,500 Btu a US gallon. From memory. */
export const PROPANE_MJ_PER_L = 25.5;

/**
 * Hottest air in a static dryer of malting grain, 38 °C (100 °F): American Malting Barley Association, 2010.
 * Canada's Brewing and Malting Barley Research Institute allows 43.
 */
const STATIC_AIR_C = 38;
/**
 * Hottest air in a mixed-flow dryer, 65 °C at 20 % moisture and one degree less for each point above: HGCA Topic
 * Sheet 60 (2002), which also keeps the grain itself below 50 °C. Drier grain is given no hotter air.
 */
const MIXED_FLOW_AIR_C = 65;
const MIXED_FLOW_FROM_WB = 0.20;

/** Hottest air in °C that leaves malting grain alive, for grain of up to 35 % moisture on its way in. */
export function safeAirTempC(kind: DryerKind, moistureWb: number): number {
  requireBetween("moisture of the grain", moistureWb, 0, 0.35, "(0.18 for 18 %)");
  if (kind === "static") return STATIC_AIR_C;
  return MIXED_FLOW_AIR_C - Math.max(0, moistureWb - MIXED_FLOW_FROM_WB) * 100;
}

/** Kilograms of water that drying takes out of a weight of grain. */
export function waterRemovedKg(massKg: number, fromWb: number, toWb: number): number {
  return massKg - dryToMoisture(massKg, fromWb, toWb);
}

/** Hours a dryer needs for so much water, from its rating or from `waterKgPerHour` below. */
export function dryerHours(waterKg: number, ratedKgPerHour: number): number {
  requireNotNegative("water in kilograms", waterKg);
  requirePositive("water the dryer takes off in an hour", ratedKgPerHour);
  return waterKg / ratedKgPerHour;
}

/**
 * Water in kg/h that a fan of so many cubic metres an hour of outside air carries off, when each takes
 * `waterKgPerM3` (drying-air.ts).
 */
export function waterKgPerHour(airM3PerHour: number, waterKgPerM3: number): number {
  requirePositive("air in cubic metres an hour", airM3PerHour);
  requireNotNegative("water a cubic metre takes", waterKgPerM3);
  return airM3PerHour * waterKgPerM3;
}

/** Heat in MJ to take so much water off. */
export function dryerHeatMj(waterKg: number, mjPerKgWater: number = DRYER_MJ_PER_KG_WATER): number {
  requireNotNegative("water in kilograms", waterKg);
  requirePositive("heat for a kilogram of water in megajoules", mjPerKgWater);
  return waterKg * mjPerKgWater;
}

/** Litres of a fuel that give so much heat. */
export function fuelL(heatMj: number, mjPerL: number = PROPANE_MJ_PER_L): number {
  requireNotNegative("heat in megajoules", heatMj);
  requirePositive("heat of a litre of fuel", mjPerL);
  return heatMj / mjPerL;
}
