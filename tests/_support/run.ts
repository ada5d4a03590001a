/**
 * Runs the tests: `deno task test`, or `deno task test FILE…` for some of them. Looks for a browser first, and ends
 * with the line "N passed, N failed". Without a browser all other tests still run, and then the run fails.
 */
import { findChromium, installChromium } from "./chromium.ts";

if (findChromium() === null) await installChromium();
const chromium = findChromium();

const report = await Deno.makeTempFile({ prefix: "rickyard-tests-", suffix: ".json" });
const vitest = new Deno.Command(Deno.execPath(), {
  args: [
    ...["run", "-A", "node_modules/vitest/vitest.mjs", "run", "--config", "tests/vitest.config.ts"],
    ...["--reporter=default", "--reporter=json", `--outputFile.json=${report}`],
    ...(chromium === null ? ["--exclude", "tests/browser/**"] : []),
    ...Deno.args.filter((arg) => arg !== "--"),
  ],
  env: chromium === null ? {} : { CHROMIUM: chromium },
  stdin: "null",
});
const { success } = await vitest.spawn().status;
const { passed, failed } = await count(report);
await Deno.remove(report);

if (chromium === null) {
  console.error("The browser tests did not run: no Chromium was found. Install it (on Debian and Ubuntu:");
  console.error("apt-get install chromium), or say with CHROMIUM=/path/to/chromium where it is.");
}
// A file that cannot be loaded, or an error between tests, has no failed test of its own.
const unseen = !success && failed === 0 ? 1 : 0;
console.log(`${passed} passed, ${failed + unseen} failed`);
Deno.exit(success && chromium !== null ? 0 : 1);

async function count(path: string): Promise<{ passed: number; failed: number }> {
  const text = await Deno.readTextFile(path);
  if (text === "") return { passed: 0, failed: 0 };
  const { numPassedTests, numFailedTests } = JSON.parse(text);
  return { passed: numPassedTests, failed: numFailedTests };
}
