import { freeId, nextId, stemOf, usedIds } from "./free-id.ts";
import { makeForm } from "./make.ts";
import type { Entries, FieldNode, FormNode, GroupNode, KindsNode, MonthsNode, RowsNode } from "./node.ts";
import { readField, readSet, type Trouble } from "./read-field.ts";
import type { FormSource } from "./spot.ts";

export type { Trouble } from "./read-field.ts";

/** What a form gave. */
export interface FormReading {
  /** The form with what was typed into it. */
  readonly form: FormNode;
  /** The value in the season's own units; to be used only when there are no troubles. */
  readonly value: unknown;
  readonly troubles: readonly Trouble[];
  /** The name of the field for a JSON pointer into the value: rows that were taken out make the two differ. */
  nameOf(pointer: string): string;
}

/** Where the reading has got to. */
interface Reader {
  readonly used: Set<string>;
  /** What a key is made from when nothing better is there. */
  readonly stem: string;
  readonly troubles: Trouble[];
  /** For the name of each list in the value: the form's row number of each of its rows. */
  readonly rows: Map<string, number[]>;
}

/** Reads what a form of `source` sent. Every trouble is told at once. */
export function readForm(source: FormSource, entries: Entries): FormReading {
  const form = makeForm(source, entries);
  const reader: Reader = {
    used: usedIds(source.season),
    stem: stemOf(form.label) || "row",
    troubles: [],
    rows: new Map(),
  };
  const value = read(form, reader);
  return { form, value, troubles: reader.troubles, nameOf: (at) => nameOf(at, reader.rows) };
}

function nameOf(at: string, rows: ReadonlyMap<string, number[]>): string {
  let name = "";
  for (const step of at.split("/").slice(1)) {
    const moved = rows.get(name)?.[Number(step)];
    name += `/${moved ?? step}`;
  }
  return name;
}

function read(node: FormNode, reader: Reader): unknown {
  switch (node.kind) {
    case "field":
    case "set": {
      const reading = node.kind === "field" ? readField(node) : readSet(node);
      if ("value" in reading) return reading.value;
      reader.troubles.push(reading.trouble);
      return undefined;
    }
    case "months":
      return isAbsent(node) ? undefined : node.fields.map((field) => read(field, reader));
    case "rows":
      return readRows(node, reader);
    case "kinds":
      return readKinds(node, reader);
    case "group":
      return isAbsent(node) ? undefined : readFields(node, node.fields, reader);
  }
}

/** Whether a part that may be left out is left out: ticked out, or with nothing in any of its fields. */
function isAbsent(node: GroupNode | MonthsNode): boolean {
  return node.optional && (node.out || (node.seen === undefined ? isUntouched(node) : isEmpty(node)));
}

function isUntouched(node: FormNode): boolean {
  switch (node.kind) {
    case "field":
      return node.text === node.shown;
    case "set":
      return node.choices.every(({ text, is }) =>
        node.picked.includes(text) === (node.seen ?? []).includes(is)
      );
    case "rows":
      return node.rows.every((row) => row.out || !row.old && isUntouched(row.node));
    case "kinds":
      return node.choice.text === node.choice.shown && node.fields.every(isUntouched);
    default:
      return node.fields.every(isUntouched);
  }
}

function isEmpty(node: FormNode): boolean {
  if (node.kind === "field") return node.text.trim() === "";
  return "fields" in node && node.fields.every(isEmpty);
}

function readFields(
  node: GroupNode | KindsNode,
  fields: readonly FormNode[],
  reader: Reader,
): Record<string, unknown> {
  const keyOf = (field: FormNode) => field.name.slice(node.name.length + 1);
  const value = Object.fromEntries(fields.map((field) => [keyOf(field), read(field, reader)]));
  for (const field of fields) {
    if (field.kind === "field" && field.control === "id") claim(field, keyOf(field), value, reader);
  }
  return Object.fromEntries(Object.entries(value).filter(([, one]) => one !== undefined));
}

/** Gives a new row its key: the one that was typed, if it is free, or else one made from the name beside it. */
function claim(field: FieldNode, key: string, value: Record<string, unknown>, reader: Reader): void {
  const { used, stem, troubles } = reader;
  const typed = value[key];
  if (typeof typed === "string" && used.has(typed)) {
    troubles.push({
      name: field.name,
      label: field.label,
      message: `The key "${typed}" is used already.`,
      wayOut: "Give it another one, or leave it empty and one is made.",
    });
    return;
  }
  const name = typeof value.name === "string" ? stemOf(value.name) : "";
  const id = typeof typed === "string" ? typed : name === "" ? nextId(stem, used) : freeId(name, used);
  value[key] = id;
  used.add(id);
}

function readRows(node: RowsNode, reader: Reader): unknown {
  const kept = node.rows.flatMap(({ node: one, old, out }, index) =>
    out || !old && isUntouched(one) ? [] : [index]
  );
  reader.rows.set(node.name, kept);
  if (kept.length === 0 && node.optional && node.seen === undefined) return undefined;
  const { name, label, least, most } = node;
  if (kept.length < least || kept.length > most) {
    const number = kept.length < least ? `at least ${least}` : `at most ${most}`;
    const message = `${kept.length === 0 ? "There is none" : `There are ${kept.length}`}.`;
    reader.troubles.push({ name, label, message, wayOut: `Keep ${number}.` });
  }
  return kept.map((index) => read(node.rows[index]!.node, reader));
}

function readKinds(node: KindsNode, reader: Reader): unknown {
  const { choice } = node;
  if (node.optional && choice.text === "") return undefined;
  const kind = read(choice, reader);
  const tag = choice.name.slice(node.name.length + 1);
  return { [tag]: kind, ...readFields(node, node.fields, reader) };
}
