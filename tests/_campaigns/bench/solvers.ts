/** What a general solver found of a model written as MPS, in the model's units. */
export interface SolverResult {
  readonly solver: string;
  /** Its best point's objective, or null when it had none. */
  readonly objective: number | null;
  /** What it proved: nothing costs less. Null when it proved nothing. */
  readonly bound: number | null;
  readonly seconds: number;
}

/** One of the general solvers that may be on the machine, as a command. */
interface Command {
  readonly solver: string;
  readonly program: string;
  readonly args: (file: string, seconds: number) => string[];
  readonly read: (said: string) => Pick<SolverResult, "objective" | "bound">;
}

const COMMANDS: readonly Command[] = [
  {
    solver: "CBC",
    program: "cbc",
    args: (file, seconds) => [file, "-seconds", String(seconds), "-solve", "-quit"],
    read: readCbc,
  },
  {
    solver: "GLPK",
    program: "glpsol",
    args: (file, seconds) => ["--freemps", file, "--tmlim", String(seconds), "--cuts"],
    read: readGlpk,
  },
];

/** The solvers of `COMMANDS` that can be run here. */
export async function solversHere(): Promise<string[]> {
  const found = await Promise.all(COMMANDS.map(async ({ solver, program }) => {
    const answers = await new Deno.Command(program, { args: ["--version"], ...QUIET }).output().then(
      () => true,
      () => false,
    );
    return answers ? [solver] : [];
  }));
  return found.flat();
}

/** Lets one solver work on the file for so many seconds at most. */
export async function solveFile(solver: string, file: string, seconds: number): Promise<SolverResult> {
  const command = COMMANDS.find((one) => one.solver === solver);
  if (command === undefined) throw new RangeError(`no solver is called ${solver}`);
  const began = performance.now();
  const { stdout } = await new Deno.Command(command.program, { args: command.args(file, seconds), ...QUIET })
    .output();
  const said = new TextDecoder().decode(stdout);
  return { solver, ...command.read(said), seconds: (performance.now() - began) / 1000 };
}

const QUIET = { stdin: "null", stdout: "piped", stderr: "null" } as const;

/** CBC ends with "Objective value:" and, where it was stopped, "Lower bound:". */
export function readCbc(said: string): Pick<SolverResult, "objective" | "bound"> {
  const objective = lastNumber(said, /^Objective value:\s+(\S+)/gm);
  const bound = lastNumber(said, /^Lower bound:\s+(\S+)/gm);
  const optimal = /^Result - Optimal solution found/m.test(said);
  // Stopped before its first point CBC prints 1e50.
  const none = objective === null || Math.abs(objective) >= 1e49 || /^No feasible solution found/m.test(said);
  return { objective: none ? null : objective, bound: optimal ? objective : bound };
}

/** GLPK logs "mip = BEST >= BOUND", or "not found yet" for the best. */
export function readGlpk(said: string): Pick<SolverResult, "objective" | "bound"> {
  const objective = lastNumber(said, /mip =\s+(\S+) >=/g);
  const bound = lastNumber(said, />=\s+(\S+)\s/g);
  const optimal = /^INTEGER OPTIMAL SOLUTION FOUND/m.test(said);
  return { objective, bound: optimal ? objective : bound };
}

/** The last of the numbers that the pattern's group finds; what is no number ("not", "-inf", "tree") is passed over. */
function lastNumber(said: string, pattern: RegExp): number | null {
  const numbers = [...said.matchAll(pattern)].map((match) => Number(match[1])).filter(Number.isFinite);
  return numbers.at(-1) ?? null;
}
