import { addDays, isIsoDate, isLocalTime } from "../../../core/calendar.ts";
import type { Chance } from "../../../core/generate/chance.ts";
import { plainSchema, schemaAt } from "../../../core/season/check/walk.ts";
import { dictionary } from "../../../core/season/quantity.ts";
import { seasonSchema } from "../../../core/season/season.ts";
import { z } from "zod";
import type { Base } from "./bases.ts";
import { type Edit, type Place, raw } from "./edits.ts";
import { DAYS, HOSTILE, IDS, NAMES, ZONES } from "./hostile-values.ts";

type Blow = (luck: Chance, base: Base) => Edit[];

const pickPlace = (luck: Chance, base: Base): Place => luck.pick(base.places);

function valueAt(base: Base, at: Place): unknown {
  return at.reduce<unknown>((value, step) => (value as Record<string | number, unknown>)?.[step], base.file);
}

/** A place that holds what is asked for; few tries, then any. */
function placeOf(luck: Chance, base: Base, fits: (value: unknown, at: Place) => boolean): Place {
  for (let tries = 0; tries < 200; tries++) {
    const at = pickPlace(luck, base);
    if (fits(valueAt(base, at), at)) return at;
  }
  return pickPlace(luck, base);
}

const isText = (value: unknown): value is string => typeof value === "string";
const isDay = (value: unknown): value is string => isText(value) && (isIsoDate(value) || isLocalTime(value));
const isId = (value: unknown, at: Place) =>
  isText(value) && /(id|Id|Ids|ids|forLine)$/.test(String(at.findLast(isText)));

/** Breaks the form of the file. */
const ROUGH: readonly Blow[] = [
  (luck, base) => [{ do: "put", at: pickPlace(luck, base), value: luck.pick(HOSTILE) }],
  (luck, base) => [{ do: "remove", at: pickPlace(luck, base) }],
  (luck, base) => [{ do: "rename", at: pickPlace(luck, base), to: luck.pick(NAMES) }],
  (
    luck,
    base,
  ) => [{ do: "put", at: [...pickPlace(luck, base), luck.pick(NAMES)], value: luck.pick(HOSTILE) }],
  (luck, base) => [{ do: "swap", at: pickPlace(luck, base), with: pickPlace(luck, base) }],
  (luck, base) => {
    const depth = luck.pick([10, 100, 1000, 8000, 50_000]);
    const [open, close] = luck.pick([["[", "]"], ['{"a":', "}"]]) as [string, string];
    const value = raw(open.repeat(depth) + "0" + close.repeat(depth));
    return [{ do: "put", at: pickPlace(luck, base), value }];
  },
  (luck, base) => [{ do: "cut", byte: luck.int(0, base.bytes) }],
  (luck, base) =>
    Array.from(
      { length: luck.int(1, 3) },
      () => ({ do: "flip", byte: luck.int(0, base.bytes), bit: luck.int(0, 7) }),
    ),
];

/** Keeps the form and changes what it says: these reach the planner. */
const GENTLE: readonly Blow[] = [
  numberBlow,
  numberBlow,
  numberBlow,
  dayBlow,
  dayBlow,
  choiceBlow,
  optionalBlow,
  // A row of a list taken out, doubled, or the whole list emptied.
  (luck, base) => [{ do: "remove", at: placeOf(luck, base, (_, at) => typeof at.at(-1) === "number") }],
  (luck, base) => {
    const at = placeOf(luck, base, (value, at) => typeof at.at(-1) === "number" && typeof value === "object");
    const times = luck.pick([1, 1, 1, 5]);
    return Array.from(
      { length: times },
      (_, i) => ({ do: "insert", at, value: freshIds(valueAt(base, at), `-x${i}`) }),
    );
  },
  (luck, base) => [{ do: "put", at: placeOf(luck, base, Array.isArray), value: [] }],
  (luck, base) => {
    const at = placeOf(luck, base, isId);
    return [{ do: "put", at, value: valueAt(base, placeOf(luck, base, isId)) }];
  },
  (luck, base) => {
    const at = placeOf(luck, base, isId), key = String(at.findLast(isText));
    return [{
      do: "swap",
      at,
      with: placeOf(luck, base, (_, other) => String(other.findLast(isText)) === key),
    }];
  },
  (luck, base) => {
    const from = valueAt(base, placeOf(luck, base, (value, at) => at.at(-1) === "id" && isText(value)));
    return isText(from) ? [{ do: "rename-id", from, to: luck.pick(IDS) }] : [];
  },
  (luck) => [{ do: "put", at: ["zone"], value: luck.pick(ZONES) }],
  (luck) => [{ do: "shift", days: luck.pick([1, -1, 7, 364, 500, luck.int(-400, 400)]) }],
  (luck, base) => {
    const at = placeOf(luck, base, (value) => isText(value) && /^\d\d:\d\d$/.test(value));
    return [{ do: "put", at, value: luck.pick(["00:00", "02:30", "23:59", "24:00", "12:00", "08:00"]) }];
  },
  (luck, base) => {
    const at = placeOf(
      luck,
      base,
      (value, at) => isText(value) && ["name", "note", "letter"].includes(String(at.at(-1))),
    );
    return [{ do: "put", at, value: luck.pick(["\ud800", "\u202e", "🍺", "", "\u0000", "a\nb", "</svg>"]) }];
  },
];

/** The copy of a row whose own ids are new, so that it may stand beside the old one. */
function freshIds(value: unknown, suffix: string): unknown {
  if (Array.isArray(value)) return value.map((member) => freshIds(member, suffix));
  if (typeof value !== "object" || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).map(([key, member]) =>
      key === "id" && isText(member)
        ? [key, `${member}${suffix}`.slice(-40)]
        : [key, freshIds(member, suffix)]
    ),
  );
}

/** A number moved to an edge of what the data dictionary allows, or by a factor. */
function numberBlow(luck: Chance, base: Base): Edit[] {
  const at = placeOf(luck, base, (value) => typeof value === "number");
  const value = valueAt(base, at);
  if (typeof value !== "number") return [];
  const schema = schemaAt(seasonSchema, base.file, at);
  const entry = schema === undefined ? undefined : dictionary.get(schema);
  const edges = entry === undefined ? [] : [...entry.limits, ...entry.plausible, ...entry.plausible];
  const whole = Number.isInteger(value);
  const factors = [0, 0.1, 0.5, 0.9, 0.99, 1.01, 1.1, 2, 3, 10, 100].map((one) => one * value);
  const chosen = luck.pick([...edges, ...factors, ...factors, value + 1, value - 1, 0, 1]);
  return [{ do: "put", at, value: whole && luck.int(1, 20) > 1 ? Math.round(chosen) : chosen }];
}

function dayBlow(luck: Chance, base: Base): Edit[] {
  const at = placeOf(luck, base, isDay);
  const value = valueAt(base, at);
  if (!isDay(value)) return [];
  const day = value.slice(0, 10), rest = value.slice(10);
  const time = rest !== "" && luck.oneIn(3)
    ? `T${luck.pick(["00:00", "01:30", "02:30", "03:00", "23:59"])}`
    : rest;
  const moved = luck.oneIn(4)
    ? luck.pick(DAYS)
    : addDays(day, luck.pick([-400, -90, -7, -1, 0, 1, 2, 7, 30, 90, 400]));
  return [{ do: "put", at, value: moved + time }];
}

/** Another of the values that the schema lists, or a yes made a no. */
function choiceBlow(luck: Chance, base: Base): Edit[] {
  const options = (at: Place): unknown[] => {
    const schema = schemaAt(seasonSchema, base.file, at);
    return schema instanceof z.ZodEnum ? schema.options : schema instanceof z.ZodBoolean ? [true, false] : [];
  };
  const at = placeOf(luck, base, (_, at) => options(at).length > 1);
  const among = options(at);
  return among.length > 1 ? [{ do: "put", at, value: luck.pick(among) }] : [];
}

/** A field that may be left out is left out, or one that was left out is filled in from a row that has it. */
function optionalBlow(luck: Chance, base: Base): Edit[] {
  const at = placeOf(
    luck,
    base,
    (value) => typeof value === "object" && value !== null && !Array.isArray(value),
  );
  const schema = schemaAt(seasonSchema, base.file, at);
  if (!(schema instanceof z.ZodObject)) return [];
  const may = Object.entries(schema.shape).filter(([, one]) =>
    one instanceof z.ZodOptional || one instanceof z.ZodDefault
  );
  if (may.length === 0) return [];
  const [key, inner] = luck.pick(may) as [string, z.core.$ZodType];
  if (luck.oneIn(2)) return [{ do: "remove", at: [...at, key] }];
  const plain = plainSchema(inner, undefined);
  const donors = base.places.filter((place) => place.at(-1) === key);
  if (donors.length > 0) return [{ do: "put", at: [...at, key], value: valueAt(base, luck.pick(donors)) }];
  if (plain instanceof z.ZodNumber) {
    return [{ do: "put", at: [...at, key], value: luck.pick([0, 1, 0.5, 10, 1000]) }];
  }
  if (plain instanceof z.ZodBoolean) return [{ do: "put", at: [...at, key], value: true }];
  if (plain instanceof z.ZodString) {
    return [{ do: "put", at: [...at, key], value: luck.pick([...DAYS, "a", "farm"]) }];
  }
  return [];
}

/** One to four corruptions of a base; two in three cases keep the form, so that enough of them reach the planner. */
export function blowsOf(luck: Chance, base: Base): Edit[] {
  const kinds = luck.oneIn(3) ? [...ROUGH, ...GENTLE] : GENTLE;
  const edits = Array.from({ length: luck.pick([1, 1, 1, 2, 2, 3, 4]) }, () => luck.pick(kinds)(luck, base))
    .flat();
  // A text is cut and smeared after everything else.
  const late = (edit: Edit) => Number(edit.do === "cut" || edit.do === "flip");
  return edits.sort((a, b) => late(a) - late(b));
}
