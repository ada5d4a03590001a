import { formatDay } from "../day-names.ts";
import type { Season } from "../season/season.ts";
import { keyBy, keyFields, type Place, rowBelow } from "../edit/place.ts";
import { NEW_ROW, spotAt } from "./place.ts";
import { formSource } from "./source.ts";
import { makeForm } from "./make.ts";
import type { FieldNode, FormNode } from "./node.ts";

/** A column of the table of a list. */
export interface ListColumn {
  readonly name: string;
  readonly label: string;
  /** The unit of all its cells; empty when there is none, or when it differs from row to row. */
  readonly unit: string;
  readonly number: boolean;
}

/** A row of the table of a list. */
export interface ListRow {
  readonly place: Place;
  readonly key: string;
  /** What the row is called: its name, or its key when it has none. */
  readonly title: string;
  readonly cells: readonly string[];
}

/** The table of a list: the columns that tell its rows apart. */
export interface ListTable {
  readonly columns: readonly ListColumn[];
  readonly rows: readonly ListRow[];
}

/** Most columns beside the one that names the row. */
const MOST_COLUMNS = 5;

/** Fields that name a row. */
const NAMES = ["/name", "/supplier", "/party", "/buyer", "/what"];

/** Fields that stand on the form and would only fill the table. */
const LEFT_OUT = new Set(["/id", "/by", "/note", "/reason", "/letter", ...NAMES]);

/** How telling a field is: what it refers to, its days, its weights and sizes, its kind, other numbers, the rest. */
function rank(field: FieldNode): number {
  const { control, name, choices, facts } = field;
  if (control === "choice" && name.endsWith("Id")) return 0;
  if (control === "day" || control === "minute") return 1;
  if (control === "number" && /(G|M2|L|P)$/.test(name)) return 2;
  if (control === "choice" && !choices.some(({ is }) => is === true)) return 3;
  return facts !== undefined && facts.unit !== "" ? 4 : 5;
}

/** The table of the list at a place. */
export function listTable(season: Season, list: Place): ListTable {
  const names = list.split("/").slice(1);
  const values = spotAt(season, list)?.value;
  const schema = formSource(season, `${list}/${NEW_ROW}`)!.schema;
  const rows = (Array.isArray(values) ? values : []).map((seen: unknown, index) => {
    const key = keyBy(seen, keyFields(names)) ?? "";
    const form = makeForm({ season, path: [...names, index], schema, seen });
    return { place: rowBelow(list, key), key, fields: ownFields(form) };
  });
  const all = [...new Map(rows.flatMap(({ fields }) => fields).map((one) => [one.name, one])).values()];
  const telling = all.filter(({ name, control }) => !LEFT_OUT.has(name) && control !== "long text");
  const best = telling.toSorted((a, b) => rank(a) - rank(b)).slice(0, MOST_COLUMNS);
  const columns = telling.filter((one) => best.includes(one)).map(({ name, label, control }): ListColumn => {
    const units = new Set(
      rows.map(({ fields }) => fields.find((one) => one.name === name)?.facts?.unit ?? ""),
    );
    return { name, label, unit: units.size === 1 ? [...units][0]! : "", number: control === "number" };
  });
  return {
    columns,
    rows: rows.map(({ place, key, fields }) => ({
      place,
      key,
      title: fields.find(({ name }) => NAMES.includes(name))?.text || key,
      cells: columns.map((column) => cell(fields.find(({ name }) => name === column.name), column)),
    })),
  };
}

/** The fields of a row that are not inside a part of it. */
function ownFields(form: FormNode): FieldNode[] {
  const nodes = form.kind === "kinds"
    ? [form.choice, ...form.fields]
    : form.kind === "group"
    ? form.fields
    : [];
  return nodes.filter((node) => node.kind === "field");
}

function cell(field: FieldNode | undefined, column: ListColumn): string {
  if (field === undefined || field.text === "") return "";
  const unit = column.unit === "" ? field.facts?.unit ?? "" : "";
  if (field.control === "day") return formatDay(field.text, undefined, "withYear");
  if (field.control === "minute") {
    return `${formatDay(field.text.slice(0, 10), undefined, "withYear")}, ${field.text.slice(11)}`;
  }
  const words = field.choices.find(({ text, is }) => text === field.text || is === field.seen)?.words;
  return words?.replace(/ \([a-z0-9-]+\)$/, "") ?? `${field.text} ${unit}`.trim();
}
