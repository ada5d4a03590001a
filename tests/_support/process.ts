/** How a process that a test started has ended. */
export interface Ended {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

/** The flags of the task's own command, so that a test runs with the permissions that people get. */
export function taskArguments(task: string): string[] {
  const { tasks } = JSON.parse(Deno.readTextFileSync("deno.json"));
  const command: string = tasks[task].command;
  return command.split(" ").slice(1);
}

/** Runs a task's command with more arguments and waits for its end. */
export function runTask(task: string, ...args: string[]): Promise<Ended> {
  return run([...taskArguments(task), ...args], {});
}

/** As runTask, with the store in `folder` and the permission to use it, on a free port. Given up after half a minute. */
export function runTaskIn(folder: string, task: string, ...args: string[]): Promise<Ended> {
  return run([...taskArgumentsIn(folder, task), ...args], { RICKYARD_DATA: folder, PORT: "0" });
}

/** As runTask, with variables set for it. */
export function runTaskWith(env: Record<string, string>, task: string, ...args: string[]): Promise<Ended> {
  return run([...taskArguments(task), ...args], { PORT: "0", ...env });
}

/** The flags of a task's command with `folder` in the place of .data. */
export function taskArgumentsIn(folder: string, task: string): string[] {
  return taskArguments(task).map((flag) => flag.replace(".data", folder));
}

/** Quietly: what the runtime says of a package it fetches for the first time is no word of the task's. */
async function run([run = "run", ...rest]: string[], env: Record<string, string>): Promise<Ended> {
  const args = [run, "--quiet", ...rest];
  const signal = AbortSignal.timeout(30_000);
  const command = new Deno.Command(Deno.execPath(), { args, env, signal, stdin: "null" });
  const { code, stdout, stderr } = await command.output();
  const text = (bytes: Uint8Array) => new TextDecoder().decode(bytes);
  return { code, out: text(stdout), err: text(stderr) };
}
