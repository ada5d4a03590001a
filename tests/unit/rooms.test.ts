import { describe, expect, test } from "vitest";
import { readRoom, readSource, type Source } from "../_support/sources.ts";

const core = readRoom("core");
const islands = readRoom("islands");
const routes = readRoom("routes");

/** Packages that a room may import; its own files and those of the rooms before it are always allowed. */
const PACKAGES = {
  core: ["zod", "date-fns", "@date-fns/utc", "@date-fns/tz", "highs", "pure-rand"],
  islands: ["preact", "@preact/signals", "d3-scale", "d3-shape", "d3-sankey"],
};
/** Programs that belong to a room by subject, and that run neither in it nor in the server. */
const PROGRAMS = ["islands/_bundle.ts"];

/** What reaches out of a pure function: the machine, the page, the network, the clock, chance. */
const IMPURE =
  /\b(Deno|document|navigator|localStorage)\.|\bfetch\(|\bDate\.now\b|\bnew Date\(\)|\bMath\.random\b|\bperformance\.|\b(getRandomValues|randomUUID)\b|\bset(Timeout|Interval)\(/;

/** What the auditor may share with the planner: schemas, dates, units and physics. */
const AUDIT_SHARES =
  /^core\/(audit\/|season\/|physics\/|plan\/plan\.ts$|(calendar|day-names|zone|units)\.ts$)/;

const isOwn = (name: string) => /^(core|islands|routes|tests)\//.test(name);

/** Names each import of `sources` that `allowed` refuses, as "file -> import". */
function refused(
  sources: Source[],
  pick: "imports" | "values",
  allowed: (name: string) => boolean,
): string[] {
  return sources.flatMap((source) =>
    source[pick].filter((name) => !allowed(name)).map((name) => `${source.path} -> ${name}`)
  );
}

describe("three rooms, one arrow", () => {
  test("core imports only core and its few packages", () => {
    expect(core.length).toBeGreaterThan(0);
    expect(refused(core, "imports", (name) => name.startsWith("core/") || PACKAGES.core.includes(name)))
      .toEqual([]);
  });

  test("islands import only islands, core and their packages", () => {
    const allowed = (name: string) => /^(core|islands)\//.test(name) || PACKAGES.islands.includes(name);
    const inPages = islands.filter(({ path }) => !PROGRAMS.includes(path));
    expect(inPages.length).toBeGreaterThan(0);
    expect(refused(inPages, "imports", allowed)).toEqual([]);
  });

  test("routes import no tests", () => {
    expect(refused(routes, "imports", (name) => !name.startsWith("tests/"))).toEqual([]);
  });

  test("own files are imported with their ending, and none is called index or utils", () => {
    const all = [...core, ...islands, ...routes];
    expect(refused(all, "imports", (name) => !isOwn(name) || /\.tsx?$/.test(name))).toEqual([]);
    expect(all.filter(({ path }) => /\/(index|utils)\.tsx?$/.test(path))).toEqual([]);
  });
});

describe("core is pure", () => {
  test("no file of core touches the machine, the page, the network, the clock or chance", () => {
    expect(core.filter(({ code }) => IMPURE.test(code)).map(({ path }) => path)).toEqual([]);
  });

  test("only core/zone.ts imports a date library", () => {
    const others = [...core, ...islands, ...routes].filter(({ path }) => path !== "core/zone.ts");
    expect(refused(others, "imports", (name) => !/^(date-fns|@date-fns\/.*)$/.test(name))).toEqual([]);
  });
});

test("the auditor shares nothing with the planner but schemas, dates, units and physics", () => {
  const audit = core.filter(({ path }) => path.startsWith("core/audit/"));
  expect(audit.length).toBeGreaterThan(0);
  expect(refused(audit, "imports", (name) => !isOwn(name) || AUDIT_SHARES.test(name))).toEqual([]);
});

test("no island brings zod to the browser, neither itself nor through core", () => {
  const byPath = new Map([...core, ...islands].map((source) => [source.path, source]));
  const reached = new Map<string, string>();
  const visit = (path: string, way: string) => {
    if (reached.has(path)) return;
    reached.set(path, way);
    byPath.get(path)?.values.forEach((name) => visit(name, `${way} -> ${name}`));
  };
  islands.filter(({ path }) => !PROGRAMS.includes(path)).forEach(({ path }) => visit(path, path));
  expect(reached.get("zod")).toBeUndefined();
});

describe("the reading of sources sees what it has to", () => {
  const source = readSource(
    "core/season/a.ts",
    `import { b } from "../b.ts";
import type { C } from "./c.ts";
import { type G, type H } from "./g.ts";
import { type I, j } from "./i.ts";
export * from "./k.ts";
import {
  d,
} from "@date-fns/tz/x";
export { e } from "hono/cookie";
const f = () => import("../../routes/f.ts");
// import "commented" at Date.now()
const g = "Deno.env";`,
  );

  test("imports of every form, and which of them are only types", () => {
    const values = [
      "core/b.ts",
      "core/season/i.ts",
      "core/season/k.ts",
      "@date-fns/tz",
      "hono",
      "routes/f.ts",
    ];
    expect(source.values).toEqual(values);
    expect([...source.imports].sort()).toEqual([...values, "core/season/c.ts", "core/season/g.ts"].sort());
  });

  test("words in comments and quotes are not code", () => {
    expect(IMPURE.test(source.code)).toBe(false);
    expect(IMPURE.test("const now = Date.now();")).toBe(true);
  });
});
