/** A place in a file: keys and row numbers from the top. */
export type Place = readonly (string | number)[];

/** One corruption of a season file, as data, so that a failing case can be printed, cut down and tried again. */
export type Edit =
  | { readonly do: "put"; readonly at: Place; readonly value: unknown }
  | { readonly do: "remove"; readonly at: Place }
  /** Puts a row into a list before the row that stands there. */
  | { readonly do: "insert"; readonly at: Place; readonly value: unknown }
  | { readonly do: "rename"; readonly at: Place; readonly to: string }
  | { readonly do: "swap"; readonly at: Place; readonly with: Place }
  /** Every text that is `from` becomes `to`: an id renamed with all that refers to it. */
  | { readonly do: "rename-id"; readonly from: string; readonly to: string }
  /** Every date of the file moves by so many days. */
  | { readonly do: "shift"; readonly days: number }
  /** The text ends here. */
  | { readonly do: "cut"; readonly byte: number }
  | { readonly do: "flip"; readonly byte: number; readonly bit: number };

/** Stands in a value for text that goes into the file as it is, such as a number no program would write. */
export interface Raw {
  readonly raw: string;
}

const RAW_MARK = "@@raw@@";

type Loose = Record<string | number, unknown>;

function parentOf(root: unknown, at: Place): Loose | undefined {
  let value = root;
  for (const step of at.slice(0, -1)) {
    if (typeof value !== "object" || value === null || !Object.hasOwn(value, step)) return undefined;
    value = (value as Loose)[step];
  }
  return typeof value === "object" && value !== null ? value as Loose : undefined;
}

/** Sets a member even where its name means something to the language, as a parser of JSON does. */
function set(parent: Loose, step: string | number, value: unknown): void {
  // A list has rows and nothing else that a file could hold.
  if (Array.isArray(parent) && typeof step === "string") return;
  Object.defineProperty(parent, step, { value, enumerable: true, configurable: true, writable: true });
}

/** The file's text after all edits. An edit whose place an earlier one took away does nothing. */
export function corrupt(
  base: unknown,
  edits: readonly Edit[],
  shifted: (date: string, days: number) => string,
): string {
  const root = { file: structuredClone(base) };
  for (const edit of edits) {
    if (edit.do === "rename-id") {
      root.file = mapTexts(root.file, (text) => text === edit.from ? edit.to : text);
    }
    if (edit.do === "shift") {
      root.file = mapTexts(
        root.file,
        (text) => text.replace(/^\d{4}-\d{2}-\d{2}(?=$|T\d\d:\d\d$)/, (date) => shifted(date, edit.days)),
      );
    }
    if ("at" in edit) editAt(root, edit);
  }
  return smear(asText(root.file), edits);
}

function asText(file: unknown): string {
  const raws: string[] = [];
  const text =
    JSON.stringify(file, (_, value) => isRaw(value) ? `${RAW_MARK}${raws.push(value.raw) - 1}` : value) ?? "";
  return text.replaceAll(
    new RegExp(`"${RAW_MARK}(\\d+)"`, "g"),
    (_, index) => raws[index]!.slice(RAW_MARK.length),
  );
}

function isRaw(value: unknown): value is Raw {
  const text = (value as Raw | null | undefined)?.raw;
  return typeof text === "string" && text.startsWith(RAW_MARK);
}

/** A value that goes into the file as this text. */
export function raw(text: string): Raw {
  return { raw: RAW_MARK + text };
}

function editAt(root: { file: unknown }, edit: Extract<Edit, { at: Place }>): void {
  const at = ["file", ...edit.at];
  const parent = parentOf(root, at), step = at.at(-1)!;
  if (parent === undefined || (edit.do !== "put" && edit.do !== "insert" && !Object.hasOwn(parent, step))) {
    return;
  }
  switch (edit.do) {
    case "put":
      return set(parent, step, structuredClone(edit.value));
    case "remove":
      if (Array.isArray(parent)) parent.splice(Number(step), 1);
      else delete parent[step];
      return;
    case "insert":
      if (Array.isArray(parent)) parent.splice(Number(step), 0, structuredClone(edit.value));
      return;
    case "rename": {
      if (Array.isArray(parent)) return;
      const value = parent[step];
      delete parent[step];
      return set(parent, edit.to, value);
    }
    case "swap": {
      const there = ["file", ...edit.with], other = parentOf(root, there), name = there.at(-1)!;
      if (other === undefined || !Object.hasOwn(other, name)) return;
      const [a, b] = structuredClone([parent[step], other[name]]);
      set(parent, step, b);
      set(other, name, a);
    }
  }
}

function mapTexts(value: unknown, map: (text: string) => string): unknown {
  if (typeof value === "string") return map(value);
  if (Array.isArray(value)) return value.map((member) => mapTexts(member, map));
  if (typeof value !== "object" || value === null) return value;
  const copy: Loose = {};
  for (const [key, member] of Object.entries(value)) set(copy, key, mapTexts(member, map));
  return copy;
}

/** Cuts and flips are done on the bytes; what is no longer UTF-8 is read as a server reads it. */
function smear(text: string, edits: readonly Edit[]): string {
  if (!edits.some((edit) => edit.do === "cut" || edit.do === "flip")) return text;
  let bytes = new TextEncoder().encode(text);
  for (const edit of edits) {
    if (edit.do === "cut") bytes = bytes.slice(0, edit.byte);
    if (edit.do === "flip" && edit.byte < bytes.length) bytes[edit.byte]! ^= 1 << edit.bit;
  }
  return new TextDecoder().decode(bytes);
}
