/** A proof names rows by number: the program's version has to be raised when they change. */
import { expect, test } from "vitest";
import { leveledModel } from "../../../core/bound/bound.ts";
import { PROGRAM } from "../../../core/plan/program.ts";
import { problemOf } from "../../../core/search/problem.ts";
import { canonicalJson } from "../../../core/season/canonical.ts";
import { demoSeason } from "../../_support/demo.ts";

/** The version, and what its model of the demo farm comes to. Both are changed together, and the version is never used twice. */
const KNOWN = { program: "0.2.0", model: "95d198a7cff2d8e8" };

test("the bound's model of the demo farm is that of this version", async () => {
  const season = demoSeason();
  const { of: { model }, levelRow, totalRow, cutRow } = leveledModel(problemOf(season, season.fixedAsOf!));
  // Money is left out: prices of the demo may change, and a proof is recomputed with the season's own.
  const rows = [
    model.start,
    model.index,
    model.value.map((one) => one.toPrecision(9)),
    levelRow,
    totalRow,
    cutRow,
  ];
  const bytes = new TextEncoder().encode(canonicalJson(rows));
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  const fingerprint = [...digest.slice(0, 8)].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  expect({ program: PROGRAM, model: fingerprint }).toEqual(KNOWN);
});
