import { parseArgs } from "node:util";
import { faultsOf, type Kind, KINDS, type Mutant, nameOf, readMutants } from "./mutants.ts";
import { type Outcome, Scratch } from "./scratch.ts";

/**
 * The second look at the checks: `deno task mutants [--only physics|auditor|planner] [--of NAME] [--jobs N]`. Each formula of
 * physics, each rule of the auditor and each constraint of the planner is broken once at least, in a copy of the tree, and
 * the test that sees it is named. Ends with 1 when none does and the list gives no reason why, or when the list no longer
 * fits the code.
 */
export async function campaign(kinds: readonly Kind[], jobs: number, of?: string): Promise<number> {
  const began = performance.now();
  const all = (await Promise.all(kinds.map(readMutants))).flat();
  const faults = await faultsOf(kinds, all);
  if (faults.length > 0) {
    console.log(faults.join("\n"));
    console.log(`${faults.length} faults in the list of mutants`);
    return 1;
  }
  const mutants = all.filter((mutant) => of === undefined || mutant.of === of);
  const scratches = await Promise.all(Array.from({ length: jobs }, () => Scratch.make()));
  const clear = () => scratches.forEach((scratch) => scratch.remove());
  const interrupted = () => {
    clear();
    Deno.exit(130);
  };
  Deno.addSignalListener("SIGINT", interrupted);
  try {
    const unfit = await unbroken(scratches[0]!, mutants);
    if (unfit !== null) {
      console.log(`Nothing can be told while the unbroken code fails: ${unfit}`);
      return 1;
    }
    const found = await tryAll(scratches, mutants);
    return report(found, performance.now() - began);
  } finally {
    Deno.removeSignalListener("SIGINT", interrupted);
    clear();
  }
}

/** All tests that need no server and no browser: tried when the likely ones see nothing. */
const EVERYTHING = ["tests/unit"];
/** Tests that may fail because the machine is busy; what they say of time is no answer here. */
const TIMED = /in good time|in less than|speed\.test/;

interface Found {
  readonly mutant: Mutant;
  /** "file › name" of the test that saw it, or null. */
  readonly test: string | null;
  readonly trouble: string | null;
}

/** Says which of the likely tests fails before anything is broken. */
async function unbroken(scratch: Scratch, mutants: readonly Mutant[]): Promise<string | null> {
  const files = [...new Set(mutants.flatMap((mutant) => mutant.by))];
  const { failed, trouble } = await scratch.run(files);
  return failed.find((test) => !TIMED.test(test)) ?? trouble;
}

async function tryAll(scratches: readonly Scratch[], mutants: readonly Mutant[]): Promise<Found[]> {
  const found: Found[] = [];
  const left = [...mutants];
  let failing: Promise<ReadonlySet<string>> | undefined;
  /** What fails in the whole folder without any mutant; asked for once, when first needed. */
  const failingAnyway = (scratch: Scratch) =>
    failing ??= scratch.run(EVERYTHING).then((outcome) => new Set(outcome.failed));
  await Promise.all(scratches.map(async (scratch) => {
    for (let mutant = left.shift(); mutant !== undefined; mutant = left.shift()) {
      const one = await tryOne(scratch, mutant, failingAnyway);
      found.push(one);
      console.log(`${nameOf(mutant)}\n  ${wordOf(one)}`);
    }
  }));
  return found;
}

async function tryOne(
  scratch: Scratch,
  mutant: Mutant,
  failingAnyway: (scratch: Scratch) => Promise<ReadonlySet<string>>,
): Promise<Found> {
  const of = ({ failed, trouble }: Outcome, known: ReadonlySet<string> = new Set()): Found => {
    const test = failed.find((name) => !TIMED.test(name) && !known.has(name)) ?? null;
    return { mutant, test, trouble: test === null ? trouble : null };
  };
  // The likeliest file alone is often enough, and soon done.
  for (const file of mutant.by) {
    const likely = of(await scratch.broken(mutant, [file]));
    if (likely.test !== null || likely.trouble !== null) return likely;
  }
  if (mutant.survives !== undefined) return { mutant, test: null, trouble: null };
  const known = await failingAnyway(scratch);
  return of(await scratch.broken(mutant, EVERYTHING), known);
}

function wordOf({ mutant, test, trouble }: Found): string {
  if (test !== null) return `caught by ${test}`;
  if (trouble !== null) return `not judged: ${trouble}`;
  return mutant.survives === undefined ? "SURVIVES" : `survives, as it may: ${mutant.survives}`;
}

function report(found: readonly Found[], ms: number): number {
  const open = found.filter(({ mutant, test }) => test === null && mutant.survives === undefined);
  for (const kind of KINDS) {
    const of = found.filter(({ mutant }) => mutant.kind === kind);
    if (of.length === 0) continue;
    const caught = of.filter(({ test }) => test !== null).length;
    console.log(`${kind}: ${of.length} mutants, ${caught} caught, ${of.length - caught} survive`);
  }
  for (const one of open) console.log(`no test sees ${nameOf(one.mutant)}\n  ${wordOf(one)}`);
  console.log(`${Math.round(ms / 1000)} s`);
  return open.length === 0 ? 0 : 1;
}

if (import.meta.main) {
  const options = { only: { type: "string" }, of: { type: "string" }, jobs: { type: "string" } } as const;
  const { values } = parseArgs({ args: Deno.args, options });
  const kinds = KINDS.filter((kind) => values.only === undefined || values.only === kind);
  const jobs = Number(values.jobs ?? 1);
  if (kinds.length === 0 || !Number.isSafeInteger(jobs) || jobs < 1) {
    console.error("Use: deno task mutants [--only physics|auditor|planner] [--of NAME] [--jobs N]");
    Deno.exit(3);
  }
  Deno.exit(await campaign(kinds, jobs, values.of));
}
