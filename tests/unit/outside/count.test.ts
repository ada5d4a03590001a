import { expect, test } from "vitest";

/** Every test file below a folder, as text. */
function testTexts(folder: string): string[] {
  return [...Deno.readDirSync(folder)].flatMap(({ name, isDirectory }) => {
    const path = `${folder}/${name}`;
    if (isDirectory) return testTexts(path);
    return name.endsWith(".test.ts") ? [Deno.readTextFileSync(path)] : [];
  });
}

const texts = testTexts("tests/unit");
const count = (text: string, pattern: RegExp) => [...text.matchAll(pattern)].length;
const sum = (pattern: RegExp) => texts.reduce((all, text) => all + count(text, pattern), 0);

// Patterns are put together here so that this file does not count itself.
const NAMED = new RegExp(`"${"outside"}: `, "g");
const SOURCED = new RegExp(`^ *// ${"outside"}: `, "gm");
const CONVERSIONS = new RegExp(`^ *// ${"outside"} \\(conversion\\): `, "gm");

test("thirty checks and more come from outside, unit conversions counted for five at most", () => {
  expect(sum(SOURCED) + Math.min(5, sum(CONVERSIONS))).toBeGreaterThanOrEqual(30);
});

test("every check from outside says where it comes from", () => {
  for (const text of texts) {
    expect(count(text, SOURCED) + count(text, CONVERSIONS)).toBe(count(text, NAMED));
  }
});
