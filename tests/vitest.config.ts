import { defineConfig } from "vitest/config";

export default defineConfig({
  oxc: { jsx: { runtime: "automatic", importSource: "preact" } },
  test: {
    include: ["tests/**/*.test.{ts,tsx}"],
    testTimeout: 60_000,
    hookTimeout: 60_000,
    // On Deno the other pools end with errors or run no test.
    pool: "forks",
    // Beside the test itself stand a server, its planner and a browser, on machines with two cores.
    maxWorkers: 2,
  },
});
