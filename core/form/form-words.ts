import type { Choice, FormNode } from "./node.ts";

/** What stands in a part of a form, in a few words: of what was seen, or of what was typed. */
export function wordsOf(node: FormNode, which: "seen" | "typed"): string {
  switch (node.kind) {
    case "field": {
      const text = which === "seen" ? node.shown : node.text;
      const chosen = node.choices.find((one) => one.text === text)?.words;
      return text === "" ? "nothing" : chosen ?? `${text} ${node.facts?.unit ?? ""}`.trim();
    }
    case "set":
      return listed(
        node.choices.filter((one) =>
          which === "typed" ? node.picked.includes(one.text) : has(node.seen, one)
        ),
      );
    case "rows": {
      const staying = node.rows.filter(({ old, out }) => which === "seen" ? old : !out);
      return staying.length === 1 ? "one row" : `${staying.length} rows`;
    }
    case "months":
      return node.fields.map((field) => wordsOf(field, which)).join(", ");
    case "kinds":
      return wordsOf(node.choice, which);
    case "group":
      return node.fields.map((field) => `${field.label} ${wordsOf(field, which)}`).join(", ");
  }
}

function has(seen: readonly unknown[] | undefined, { is }: Choice): boolean {
  return seen?.includes(is) ?? false;
}

function listed(choices: readonly Choice[]): string {
  return choices.length === 0 ? "nothing" : choices.map(({ words }) => words).join(", ");
}
