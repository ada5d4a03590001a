import { rowWord } from "../../core/season/check/thing.ts";
import type { Finding } from "../../core/season/check.ts";
import type { Wrong } from "../_pages/form-notes.tsx";

/**
 * Why something cannot be taken out: what names it, counted by kind, instead of a finding for each; other findings as they
 * are.
 */
export function whyItStays(findings: readonly Finding[]): Wrong[] {
  const naming = findings.filter(({ code }) => code === "unknown-reference");
  const others = findings.filter((one) => !naming.includes(one))
    .map(({ thing, message, wayOut }) => ({ name: "", label: thing, message, wayOut }));
  if (naming.length === 0) return others;
  const rows = new Set(naming.map(({ field }) => rowOf(field)));
  const kinds = Map.groupBy(
    rows,
    (row) => rowWord(row.split("/").filter((step) => step !== "" && !/^\d+$/.test(step))),
  );
  const counts = [...kinds].map(([word, of]) =>
    of.length === 1 ? `1 ${word}` : `${of.length} of kind "${word}"`
  );
  return [{
    name: "",
    label: "It is still in use",
    message: `It is named by ${counts.join(", ")}.`,
    wayOut: "Change or take out those first, or leave this in and let nothing new name it.",
  }, ...others];
}

/** The row of the season's own lists that a pointer leads into. */
function rowOf(pointer: string): string {
  const steps = pointer.split("/");
  const row = steps.findIndex((step) => /^\d+$/.test(step));
  return steps.slice(0, row + 1).join("/");
}
