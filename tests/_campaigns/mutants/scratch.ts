/** A copy of the tree in which code may be broken and tests run, so that the checkout itself is never touched. */
const COPIED = ["core", "islands", "routes", "tests", "data-demo", "deno.json", "deno.lock"];
/** A mutant that sends a test round for ever is ended after this long; all tests on a busy machine take a third of it. */
const LIMIT_MINUTES = 30;

/** How one run of tests went. */
export interface Outcome {
  /** Tests that failed, as "file › name". */
  readonly failed: readonly string[];
  /** Why the tests could not be judged: a file that does not load, or no end. */
  readonly trouble: string | null;
}

/** One copy; one run of tests at a time. */
export class Scratch {
  private running: Deno.ChildProcess | null = null;

  private constructor(private readonly directory: string) {}

  static async make(): Promise<Scratch> {
    const directory = await Deno.makeTempDir({ prefix: "rickyard-mutants-" });
    const copy = new Deno.Command("cp", { args: ["-R", ...COPIED, directory] });
    if (!(await copy.output()).success) throw new Error("the tree could not be copied");
    await Deno.symlink(await Deno.realPath("node_modules"), `${directory}/node_modules`);
    return new Scratch(directory);
  }

  /** Ends what runs and takes the copy away. */
  remove(): void {
    // The tests run in processes of their own below this one, all of one group.
    if (this.running !== null) Deno.kill(-this.running.pid, "SIGKILL");
    Deno.removeSync(this.directory, { recursive: true });
  }

  /** Runs test files with one file broken, and mends it again. */
  async broken(
    { file, find, replace }: { file: string; find: string; replace: string },
    tests: readonly string[],
  ): Promise<Outcome> {
    const path = `${this.directory}/${file}`;
    const whole = await Deno.readTextFile(path);
    await Deno.writeTextFile(path, whole.replace(find, () => replace));
    try {
      return await this.run(tests);
    } finally {
      await Deno.writeTextFile(path, whole);
    }
  }

  /** Runs test files, or all of a folder. All of them: on Deno, vitest told to stop at the first failure may never end. */
  async run(tests: readonly string[]): Promise<Outcome> {
    const report = `${this.directory}/report.json`;
    await Deno.writeTextFile(report, "");
    const vitest = new Deno.Command(Deno.execPath(), {
      args: [
        ...["run", "-A", "node_modules/vitest/vitest.mjs", "run", "--config", "tests/vitest.config.ts"],
        ...["--maxWorkers=1", "--reporter=json", `--outputFile.json=${report}`],
        ...tests,
      ],
      cwd: this.directory,
      stdin: "null",
      stdout: "null",
      stderr: "null",
      detached: true,
    });
    const process = this.running = vitest.spawn();
    let late = false;
    const timer = setTimeout(() => {
      late = true;
      Deno.kill(-process.pid, "SIGKILL");
    }, LIMIT_MINUTES * 60_000);
    const { success } = await process.status;
    this.running = null;
    clearTimeout(timer);
    if (late) return { failed: [], trouble: `no end within ${LIMIT_MINUTES} minutes` };
    return this.read(await Deno.readTextFile(report), success);
  }

  private read(report: string, success: boolean): Outcome {
    if (report === "") return { failed: [], trouble: "the tests did not run" };
    const { testResults } = JSON.parse(report) as Report;
    const failed: string[] = [];
    let trouble: string | null = null;
    for (const { name, status, message, assertionResults } of testResults) {
      const file = name.slice(name.indexOf("/tests/") + 1);
      const tests = assertionResults.filter((test) => test.status === "failed");
      failed.push(...tests.map((test) => `${file} › ${test.fullName}`));
      if (status === "failed" && tests.length === 0) {
        trouble ??= `${file} does not load: ${message.split("\n")[0]}`;
      }
    }
    return {
      failed,
      trouble: success || failed.length > 0 ? null : trouble ?? "the tests ended with an error",
    };
  }
}

interface Report {
  readonly testResults: readonly {
    readonly name: string;
    readonly status: string;
    readonly message: string;
    readonly assertionResults: readonly { readonly status: string; readonly fullName: string }[];
  }[];
}
