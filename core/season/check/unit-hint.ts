import * as units from "../../units.ts";
import { kgPerHaFromBuPerAc } from "../../physics/bushel.ts";
import { platoFromSg } from "../../physics/extract.ts";
import type { QuantityMeta } from "../quantity.ts";

/** A unit that people write where the file asks for another, and the file's value of a number in it. */
interface Slip {
  readonly unit: string;
  readonly meant: string;
  readonly toFile: (value: number) => number;
  /** Written only by readers of US units. */
  readonly us?: true;
}

const times = (unit: string, meant: string, factor: number): Slip => ({
  unit,
  meant,
  toFile: (value) => value * factor,
});
const us = (slip: Slip): Slip => ({ ...slip, us: true });

/** In the order in which they are asked; the first that gives a likely value is named. */
const SLIPS: readonly Slip[] = [
  us(times("g", "lb", units.GRAMS_PER_LB)),
  times("g", "kg", 1000),
  times("g", "mg", 0.001),
  us(times("L", "US barrels", units.LITRES_PER_US_BARREL)),
  times("L", "hl", 100),
  times("L", "ml", 0.001),
  us(times("m2", "acres", units.SQUARE_METRES_PER_ACRE)),
  times("m2", "ha", 10_000),
  us(times("kg/ha", "bushels an acre", kgPerHaFromBuPerAc(1, "barley"))),
  times("kg/ha", "t/ha", 1000),
  times("kg/hl", "kg/m3", 0.1),
  us({ unit: "degC", meant: "°F", toFile: units.tempCFromF }),
  times("1", "per cent", 0.01),
  times("mg/kg", "µg/kg", 0.001),
  {
    unit: "degP",
    meant: "a specific gravity",
    toFile: (value) => value >= 1 && value <= 1.2 ? platoFromSg(value) : NaN,
  },
  times("d", "weeks", 7),
  times("h", "days", 24),
];

/** Our choice: within this factor of the likely range no other unit is suggested. */
const NEAR = 2;

/** A question such as "Do you mean lb?" when another unit would make the value a likely one; else the empty text. */
export function unitHint(value: number, entry: QuantityMeta, readerUnits: unknown): string {
  const [least, greatest] = entry.plausible;
  // A little outside is a matter of opinion; another unit is far outside.
  if (value * NEAR >= least && value <= greatest * NEAR) return "";
  const slip = SLIPS.find(({ unit, toFile, us }) => {
    const inFile = toFile(value);
    if (us && readerUnits !== "us") return false;
    return unit === entry.unit && inFile !== 0 && inFile >= least && inFile <= greatest;
  });
  if (slip === undefined) return "";
  const inFile = Number(slip.toFile(value).toPrecision(4));
  return `Do you mean ${slip.meant}? Here it is written in ${unitWord(entry.unit)}: ${inFile}.`;
}

function unitWord(unit: string): string {
  return unit === "1" ? "fractions of one" : unit;
}
