import { defineConfig } from "vitest/config";
import { LongestFirst } from "./_support/longest-first.ts";

/** Those that share the machine with a browser, and the one that times what a fresh process needs. */
const APART = ["tests/browser/**/*.test.{ts,tsx}", "tests/unit/audit/speed.test.ts"];

export default defineConfig({
  oxc: { jsx: { runtime: "automatic", importSource: "preact" } },
  test: {
    testTimeout: 60_000,
    hookTimeout: 60_000,
    // On Deno the other pools end with errors or run no test.
    pool: "forks",
    // Beside the test itself stand a server, its planner and a browser, on machines with two cores.
    maxWorkers: 2,
    sequence: { sequencer: LongestFirst },
    projects: [
      { extends: true, test: { name: "apart", include: APART } },
      {
        extends: true,
        // One process after another for each file would take a fifth of the whole run. Modules keep nothing but what can be computed
        // anew, so files may share them.
        test: { name: "shared", include: ["tests/**/*.test.{ts,tsx}"], exclude: APART, isolate: false },
      },
    ],
  },
});
