/** The list of mutants, read from the data files beside this one, and whether it still fits the code. */
import { RULES } from "../../../core/audit/rules.ts";
import { CONSTRAINTS } from "./constraints.ts";

export const KINDS = ["physics", "auditor", "planner"] as const;
export type Kind = (typeof KINDS)[number];

/** One way to break the code. */
export interface Mutant {
  readonly kind: Kind;
  /** What it breaks: an exported function of core/physics, an auditor rule's id, or a constraint of the planner. */
  readonly of: string;
  readonly file: string;
  /** Exact source text that occurs once in the file. */
  readonly find: string;
  readonly replace: string;
  readonly why: string;
  /** Test files most likely to catch it, the likeliest first. */
  readonly by: readonly string[];
  /** Why no test can be expected to catch it. */
  readonly survives?: string;
}

/** A data file holds its mutants by source file; `by` counts for each mutant that names no test files of its own. */
interface Group {
  readonly file: string;
  readonly by: readonly string[];
  readonly mutants: readonly (Omit<Mutant, "kind" | "file" | "by"> & { readonly by?: readonly string[] })[];
}

/** All mutants of a kind, in the order of the data file. */
export async function readMutants(kind: Kind): Promise<Mutant[]> {
  const text = await Deno.readTextFile(new URL(`./${kind}.json`, import.meta.url));
  const groups: Group[] = JSON.parse(text);
  return groups.flatMap(({ file, by, mutants }) => mutants.map((mutant) => ({ kind, file, by, ...mutant })));
}

/** A name that tells a mutant from the others in a report. */
export function nameOf({ kind, of, file, why }: Mutant): string {
  return `${kind} ${of} (${file}): ${why}`;
}

/** What no longer fits, in sentences: texts that are not found exactly once, test files that are gone, and what has no mutant. */
export async function faultsOf(kinds: readonly Kind[], mutants: readonly Mutant[]): Promise<string[]> {
  const faults: string[] = [];
  for (const mutant of mutants) {
    const { file, find, replace, by } = mutant;
    const times = (await textOf(file)).split(find).length - 1;
    if (find === "" || times !== 1) {
      faults.push(`${nameOf(mutant)}\n  its text occurs ${times} times, not once: ${find}`);
    }
    if (find === replace) faults.push(`${nameOf(mutant)}\n  it changes nothing`);
    for (const test of by) {
      if (await textOf(test) === "") faults.push(`${nameOf(mutant)}\n  there is no test file ${test}`);
    }
  }
  for (const kind of kinds) {
    const broken = new Set(mutants.filter((mutant) => mutant.kind === kind).map((mutant) => mutant.of));
    const known = await subjectsOf(kind);
    for (const of of known) if (!broken.has(of)) faults.push(`${kind} ${of} has no mutant`);
    for (const of of broken) if (!known.includes(of)) faults.push(`${kind} has no ${of}`);
  }
  return faults;
}

/** Everything of a kind that has to be broken once at least. */
async function subjectsOf(kind: Kind): Promise<readonly string[]> {
  if (kind === "auditor") return RULES.map((rule) => rule.id);
  if (kind === "planner") return CONSTRAINTS;
  const names: string[] = [];
  for await (const { name } of Deno.readDir("core/physics")) {
    const text = await textOf(`core/physics/${name}`);
    names.push(...text.matchAll(/^export function (\w+)/gm).map(([, functionName]) => functionName!));
  }
  return names;
}

async function textOf(file: string): Promise<string> {
  try {
    return await Deno.readTextFile(file);
  } catch (error) {
    if (error instanceof Deno.errors.NotFound) return "";
    throw error;
  }
}
