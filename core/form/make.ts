import { z } from "zod";
import { CROPS } from "../season/quantity.ts";
import { rowWord } from "../season/check/thing.ts";
import { unwrapped } from "../season/check/walk.ts";
import type { GrainCrop } from "../units.ts";
import { bounds, isLeafList, leafChoices, makeField, makeSet, memberOf } from "./leaf.ts";
import { labelOf, MONTHS } from "./names.ts";
import type {
  Entries,
  FieldNode,
  FormNode,
  GroupNode,
  KindsNode,
  MonthsNode,
  Row,
  RowsNode,
} from "./node.ts";
import { keyFields } from "../edit/place.ts";
import { type FormSource, named, type Spot } from "./spot.ts";

type Schema = z.core.$ZodType;

/** Rows that one form can be asked to add to a list; a page with more would be of no use. */
const MOST_NEW_ROWS = 60;

/**
 * The form of a value. With `entries` its fields hold what was typed, its lists have the rows that were asked for and
 * its unions the kind that was chosen; what was not on the page stays as it was seen.
 */
export function makeForm(source: FormSource, entries?: Entries): FormNode {
  const path = source.path.filter((step) => typeof step === "string");
  const row = typeof source.path.at(-1) === "number";
  return make({
    source,
    entries,
    name: "",
    label: row ? rowWord(path) : labelOf(path.at(-1) ?? "", path.at(-2) ?? "") ?? "",
    path,
    schema: source.schema,
    seen: source.seen,
    crop: undefined,
    key: false,
  });
}

function make(outer: Spot): FormNode {
  const { schema, fallback } = unwrapped(outer.schema);
  const spot = { ...outer, seen: outer.seen === undefined ? structuredClone(fallback) : outer.seen };
  if (schema instanceof z.ZodObject) return makeGroup(spot, schema);
  if (schema instanceof z.ZodDiscriminatedUnion) return makeKinds(spot, schema);
  if (schema instanceof z.ZodArray) {
    if (isMonthTable(schema)) return makeMonths(spot, schema);
    return isLeafList(spot, schema) ? makeSet(spot, schema) : makeRows(spot, schema);
  }
  return makeField(spot, schema);
}

function isOut({ entries }: Spot, name: string): boolean {
  return entries?.has(`${name}:out`) ?? false;
}

/** The spot of a field one step down. */
function field(spot: Spot, name: string, schema: Schema, seen: unknown, crop: GrainCrop | undefined): Spot {
  const parent = spot.path.at(-1) ?? "";
  return {
    ...spot,
    name: `${spot.name}/${name}`,
    label: labelOf(name, parent) ?? name,
    path: [...spot.path, name],
    schema,
    seen,
    crop,
    key: name === "id" || (spot.name === "" && keyFields(spot.path).includes(name)),
  };
}

function cropOf(spot: Spot): GrainCrop | undefined {
  const crop = memberOf(spot.seen, "crop");
  return CROPS.find((one) => one === crop) ?? spot.crop;
}

function makeGroup(spot: Spot, schema: z.ZodObject): GroupNode {
  const crop = cropOf(spot);
  return {
    kind: "group",
    ...named(spot),
    seen: spot.seen,
    out: isOut(spot, spot.name),
    fields: Object.entries(schema.shape).map(([name, one]) =>
      make(field(spot, name, one, memberOf(spot.seen, name), crop))
    ),
  };
}

function makeMonths(spot: Spot, schema: z.ZodArray): MonthsNode {
  const { element } = schema;
  return {
    kind: "months",
    ...named(spot),
    seen: spot.seen,
    out: isOut(spot, spot.name),
    fields: MONTHS.map((month, index): FieldNode =>
      makeField({
        ...spot,
        name: `${spot.name}/${index}`,
        label: month,
        schema: element,
        seen: memberOf(spot.seen, index),
      }, element)
    ),
  };
}

function makeRows(spot: Spot, schema: z.ZodArray): RowsNode {
  const seen = Array.isArray(spot.seen) ? spot.seen : [];
  const limits = bounds(schema);
  const asked = Number(spot.entries?.get(`${spot.name}:rows`)?.[0] ?? Math.max(seen.length, limits.least));
  const most = seen.length + MOST_NEW_ROWS;
  const count = Number.isInteger(asked) ? Math.min(Math.max(asked, seen.length), most) : seen.length;
  const word = rowWord(spot.path);
  const rows = Array.from({ length: count }, (_, index): Row => {
    const name = `${spot.name}/${index}`;
    const at = {
      ...spot,
      name,
      label: `${word[0]?.toUpperCase()}${word.slice(1)} ${index + 1}`,
      schema: schema.element,
      seen: seen[index],
    };
    return { node: make({ ...at, key: false }), old: index < seen.length, out: isOut(spot, name) };
  });
  return { kind: "rows", ...named(spot), seen: spot.seen, rowWord: word, ...limits, rows };
}

function isMonthTable(schema: z.ZodArray): boolean {
  const { least, most } = bounds(schema);
  return least === 12 && most === 12;
}

function makeKinds(spot: Spot, schema: z.ZodDiscriminatedUnion): KindsNode {
  const tag = schema.def.discriminator;
  const tags = schema.options.map((option) =>
    String([...((option as z.ZodObject).shape[tag] as z.ZodLiteral).values][0])
  );
  const about = named(spot);
  const at = field(spot, tag, z.enum(tags), memberOf(spot.seen, tag), spot.crop);
  const made = makeField(at, at.schema);
  const none = { text: "", words: "none", is: undefined };
  const choice = about.optional
    ? { ...made, optional: true, choices: [none, ...leafChoices(at, at.schema)] }
    : made;
  const chosen = schema.options[tags.indexOf(choice.text)] as z.ZodObject | undefined;
  const crop = cropOf(spot);
  const fields = Object.entries(chosen?.shape ?? {}).filter(([name]) => name !== tag).map(([name, one]) => {
    const seen = memberOf(spot.seen, name);
    // Of another kind's fields only those stay that mean something in this kind too.
    const stays = z.safeParse(one, seen).success;
    return make(field(spot, name, one, stays ? seen : undefined, crop));
  });
  return { kind: "kinds", ...about, seen: spot.seen, choice, fields };
}
