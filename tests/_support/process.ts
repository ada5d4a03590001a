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
export async function runTask(task: string, ...args: string[]): Promise<Ended> {
  const command = new Deno.Command(Deno.execPath(), {
    args: [...taskArguments(task), ...args],
    stdin: "null",
  });
  const { code, stdout, stderr } = await command.output();
  const text = (bytes: Uint8Array) => new TextDecoder().decode(bytes);
  return { code, out: text(stdout), err: text(stderr) };
}
