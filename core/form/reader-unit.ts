import { kgPerHaFromBuPerAc, kgPerHlFromLbPerBu } from "../physics/bushel.ts";
import * as units from "../units.ts";
import { movePoint } from "./number-text.ts";

/** How a number of the file is written for a reader, and read back. */
export interface ReaderUnit {
  /** As it stands behind the field; empty for a plain count. */
  readonly unit: string;
  /** Most decimals that are shown. */
  readonly decimals: number;
  /** Decimals that are shown even when they are zero. */
  readonly leastDecimals?: number;
  readonly toReader: (inFile: number) => number;
  /** `digits` is a number in plain digits, so that moving its decimal point is exact. */
  readonly toFile: (digits: string) => number;
}

/** What decides about a reader's unit beside the file's own unit. */
export interface Reading {
  readonly units: units.ReaderUnits;
  /** ISO 4217. */
  readonly currency: string;
  /** The crop that a yield is of, if it is known. */
  readonly crop?: units.GrainCrop | undefined;
  /** Names of the fields from the top of the season down to the number, without row numbers. */
  readonly path: readonly string[];
}

/** Our choice: digits that are kept of a converted number; what lies behind them is noise of the multiplication. */
const KEPT_DIGITS = 13;

const tidy = (value: number): number => Number(value.toPrecision(KEPT_DIGITS));

/** A reader's unit that is a power of ten of the file's. */
function moved(unit: string, by: number, decimals: number): ReaderUnit {
  return {
    unit,
    decimals,
    toReader: (inFile) => movePoint(inFile, by),
    toFile: (digits) => Number(`${digits}e${-by}`),
  };
}

/** A reader's unit that holds so many of the file's. */
function holding(unit: string, fileUnits: number, decimals: number): ReaderUnit {
  return {
    unit,
    decimals,
    toReader: (inFile) => inFile / fileUnits,
    toFile: (digits) => tidy(Number(digits) * fileUnits),
  };
}

const FAHRENHEIT: ReaderUnit = {
  unit: "°F",
  decimals: 2,
  toReader: units.tempFFromC,
  toFile: (digits) => tidy(units.tempCFromF(Number(digits))),
};

const KG_PER_HA_OF_LB_PER_AC = units.GRAMS_PER_LB / 1000 / (units.SQUARE_METRES_PER_ACRE / 10_000);

/** Units of the file that every reader reads, as they are written. */
const SAME: Readonly<Record<string, string>> = {
  degP: "°P",
  h: "hours",
  d: "days",
  count: "",
  "": "",
};

/** The unit in which a reader reads numbers of a unit of the file. */
export function readerUnit(inFile: string, reading: Reading): ReaderUnit {
  const us = reading.units === "us";
  switch (inFile) {
    case "g":
      return us ? holding("lb", units.GRAMS_PER_LB, 2) : moved("kg", -3, 3);
    case "m2":
      return us ? holding("acres", units.SQUARE_METRES_PER_ACRE, 4) : moved("ha", -4, 4);
    case "m":
      return us ? holding("ft", units.METRES_PER_FOOT, 3) : moved("m", 0, 3);
    case "L":
      return volumeUnit(us, reading.path[0] === "stores");
    case "degC":
      return us ? FAHRENHEIT : moved("°C", 0, 2);
    case "kg/ha":
      return us ? yieldUnit(reading.crop) : moved("t/ha", -3, 4);
    case "kg/hl":
      return us ? holding("lb/bu", kgPerHlFromLbPerBu(1), 2) : moved("kg/hl", 0, 2);
    case "kg/h":
      return us ? holding("lb/h", units.GRAMS_PER_LB / 1000, 2) : moved("kg/h", 0, 3);
    case "1":
      return moved("%", 2, 4);
    case "cent":
      return moneyUnit(us, reading);
    case "cent/MJ":
      return moved(`${reading.currency}/MJ`, -2, 6);
    default:
      return moved(SAME[inFile] ?? inFile, 0, 6);
  }
}

/** Stores are measured in gallons or litres, brews and tanks in barrels or hectolitres. */
function volumeUnit(us: boolean, store: boolean): ReaderUnit {
  if (store) return us ? holding("US gal", units.LITRES_PER_US_GALLON, 2) : moved("L", 0, 3);
  return us ? holding("bbl", units.LITRES_PER_US_BARREL, 4) : moved("hl", -2, 5);
}

function yieldUnit(crop: units.GrainCrop | undefined): ReaderUnit {
  return crop === undefined
    ? holding("lb/ac", KG_PER_HA_OF_LB_PER_AC, 1)
    : holding("bu/ac", kgPerHaFromBuPerAc(1, crop), 2);
}

/** Money has two decimals. Prices of a weight are for a tonne in the file, and for a short ton to readers of US units. */
function moneyUnit(us: boolean, { currency, path }: Reading): ReaderUnit {
  const name = path.at(-1) ?? "";
  const a = /perTonneDay/i.test(name) ? " a day" : "";
  const unit = !/perTonne/i.test(name)
    ? moved(currency, -2, 2)
    : us
    ? holding(`${currency}/short ton${a}`, 100 / units.TONNES_PER_SHORT_TON, 2)
    : moved(`${currency}/t${a}`, -2, 2);
  return { ...unit, leastDecimals: 2 };
}
