import type { FormNode } from "./node.ts";

/** What a browser sends when the form is sent as it stands. `keys` adds the fields that cannot be changed any more. */
export function entriesOf(form: FormNode, keys = false): Map<string, string[]> {
  const entries = new Map<string, string[]>();
  fill(form, entries, keys);
  return entries;
}

function fill(node: FormNode, entries: Map<string, string[]>, keys: boolean): void {
  switch (node.kind) {
    case "field":
      if (keys || node.control !== "fixed") entries.set(node.name, [node.text]);
      return;
    case "set":
      entries.set(`${node.name}:asked`, ["1"]);
      if (node.picked.length > 0) entries.set(node.name, [...node.picked]);
      return;
    case "rows":
      entries.set(`${node.name}:rows`, [String(node.rows.length)]);
      for (const row of node.rows) {
        if (row.out) entries.set(`${row.node.name}:out`, ["1"]);
        fill(row.node, entries, keys);
      }
      return;
    case "kinds":
      fill(node.choice, entries, keys);
      return node.fields.forEach((field) => fill(field, entries, keys));
    default:
      if (node.out) entries.set(`${node.name}:out`, ["1"]);
      node.fields.forEach((field) => fill(field, entries, keys));
  }
}

/** Every part of a form, the whole first. */
export function partsOfForm(node: FormNode): FormNode[] {
  const below = node.kind === "rows"
    ? node.rows.map((row) => row.node)
    : node.kind === "kinds"
    ? [node.choice, ...node.fields]
    : "fields" in node
    ? node.fields
    : [];
  return [node, ...below.flatMap(partsOfForm)];
}
