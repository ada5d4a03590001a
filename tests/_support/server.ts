import { taskArgumentsIn } from "./process.ts";

/** A server of its own, as `deno task start` runs it, with its store in a folder of its own. */
export interface TestServer {
  /** The address without a slash at its end, such as http://127.0.0.1:41234. */
  readonly origin: string;
  /** Milliseconds from the start of the process to its first line. */
  readonly startedInMs: number;
  /** Ends the server without warning, as a power cut would. */
  kill(): Promise<void>;
  /** Asks the server to end, and returns its exit code. */
  stop(): Promise<number>;
}

/**
 * Starts a server on a free port. `folder` holds its store. The islands have to be built. Plans are made without a search and
 * nothing is looked for afterwards, so that tests side by side leave each other the machine; "full" searches as a farm's server does.
 */
export async function startServer(
  folder: string,
  search: "none" | "short" | "full" = "none",
): Promise<TestServer> {
  const args = taskArgumentsIn(folder, "start");
  const began = performance.now();
  const child = new Deno.Command(Deno.execPath(), {
    args,
    env: { PORT: "0", RICKYARD_DATA: folder, RICKYARD_SEARCH: search },
    stdin: "null",
    stdout: "piped",
    stderr: "inherit",
  }).spawn();
  const reader = child.stdout.pipeThrough(new TextDecoderStream()).getReader();
  let said = "";
  let origin: string | undefined;
  while (origin === undefined) {
    const { value, done } = await reader.read();
    if (done) throw new Error(`The server ended before it served. It said: ${said}`);
    said += value;
    origin = /http:\/\/127\.0\.0\.1:\d+/.exec(said)?.[0];
  }
  const startedInMs = performance.now() - began;
  const end = async (signal: Deno.Signal) => {
    child.kill(signal);
    const { code } = await child.status;
    await reader.cancel();
    return code;
  };
  return { origin, startedInMs, kill: async () => void await end("SIGKILL"), stop: () => end("SIGTERM") };
}
