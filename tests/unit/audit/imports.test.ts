/** The auditor shares schemas, dates, units and physics with the planner, and nothing else. */
import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";

const AUDIT = new URL("../../../core/audit/", import.meta.url);
const ALLOWED =
  /^(\.\/[a-z-]+\.ts|\.\.\/(season\/[a-z-]+|plan\/plan|calendar|day-names|zone|units|physics\/[a-z-]+)\.ts)$/;

test("core/audit imports nothing of the planner", () => {
  const files = readdirSync(AUDIT).filter((name) => name.endsWith(".ts"));
  expect(files.length).toBeGreaterThan(20);
  const others = files.flatMap((name) => {
    const text = readFileSync(new URL(name, AUDIT), "utf8");
    const from = [...text.matchAll(/(?:from|import)\s*\(?\s*"([^"]+)"/g)].map((match) => match[1]!);
    return from.filter((path) => !ALLOWED.test(path)).map((path) => `${name}: ${path}`);
  });
  expect(others).toEqual([]);
});
