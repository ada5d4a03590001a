import { describe, expect, test } from "vitest";
import { entriesOf, partsOfForm } from "../../../core/form/entries.ts";
import { makeForm } from "../../../core/form/make.ts";
import type { FieldNode } from "../../../core/form/node.ts";
import { plainDigits } from "../../../core/form/number-text.ts";
import { readForm } from "../../../core/form/read.ts";
import { formSource } from "../../../core/form/source.ts";
import { valueAt } from "../../../core/season/check/finding.ts";
import type { Season } from "../../../core/season/season.ts";
import { demoSeason } from "../../_support/demo.ts";

const us = demoSeason();
const metric: Season = { ...us, readerUnits: "metric" };

function field(season: Season, place: string, name: string): FieldNode {
  const found = partsOfForm(makeForm(formSource(season, place)!)).find((part) => part.name === name);
  if (found?.kind !== "field") throw new Error(`${place} has no field ${name}.`);
  return found;
}

function typed(season: Season, place: string, name: string, text: string) {
  const source = formSource(season, place)!;
  const reading = readForm(source, entriesOf(makeForm(source)).set(name, [text]));
  return { value: valueAt(reading.value, name.split("/").slice(1)), troubles: reading.troubles };
}

describe("a number stands in the reader's unit", () => {
  test.each([
    ["us", "/fields/=home-piece", "/areaM2", "9.5", "acres"],
    ["metric", "/fields/=home-piece", "/areaM2", "3.8445", "ha"],
    ["us", "/opening/grain/=lot-a bin-1", "/massG", "49,549.67", "lb"],
    ["metric", "/opening/grain/=lot-a bin-1", "/massG", "22,475.352", "kg"],
    ["us", "/tanks/=tank-1", "/volumeL", "15", "bbl"],
    ["metric", "/tanks/=tank-1", "/volumeL", "17.60216", "hl"],
    ["us", "/dryers/=dryer", "/greatestAirTempC", "100.04", "°F"],
    ["metric", "/dryers/=dryer", "/greatestAirTempC", "37.8", "°C"],
    ["us", "/stores/=bin-1", "/shape/diameterM", "15", "ft"],
    ["metric", "/stores/=bin-1", "/shape/diameterM", "4.572", "m"],
    // A standard bushel of barley weighs 48 lb, so 50 bu an acre are 2,690 kg a hectare.
    ["us", "/plantings/=spring-barley-2026", "/yieldKgPerHa/likely", "50", "bu/ac"],
    ["metric", "/plantings/=spring-barley-2026", "/yieldKgPerHa/likely", "2.69", "t/ha"],
    ["us", "/plantings/=spring-barley-2026", "/testWeightKgPerHl", "48.5", "lb/bu"],
    ["us", "/lots/=lot-d", "/moistureWb", "12.5", "%"],
    ["us", "/supplyOffers/=buy-pale", "/packCents", "41.50", "USD"],
    ["metric", "/contracts/=sale-2025-barley", "/perTonneCents", "210.00", "USD/t"],
    ["us", "/contracts/=sale-2025-barley", "/perTonneCents", "190.51", "USD/short ton"],
    ["us", "/dryers/=dryer", "/fuelCentsPerMj", "0.022", "USD/MJ"],
  ])("%s: %s %s as %s %s", (units, place, name, text, unit) => {
    const { shown, facts } = field(units === "us" ? us : metric, place, name);
    expect([shown, facts?.unit]).toEqual([text, unit]);
  });
});

describe("a number that was typed", () => {
  test.each([
    ["us", "/opening/grain/=lot-a bin-1", "/massG", "1,000", 453_592],
    ["us", "/opening/grain/=lot-a bin-1", "/massG", "1000", 453_592],
    ["metric", "/opening/grain/=lot-a bin-1", "/massG", "1234.5", 1_234_500],
    ["us", "/fields/=home-piece", "/areaM2", "10", 40_468.564224],
    ["us", "/lots/=lot-a", "/moistureWb", "12.3", 0.123],
    ["us", "/supplyOffers/=buy-pale", "/packCents", "41.57", 4157],
    ["us", "/contracts/=sale-2025-barley", "/perTonneCents", "200", 22_046],
    ["us", "/dryers/=dryer", "/greatestAirTempC", "104", 40],
    ["us", "/records/adjustments/=" + us.records.adjustments[0]!.id, "/deltaG", "-10", -4536],
  ])("%s: %s %s, %s gives %d", (units, place, name, text, value) => {
    expect(typed(units === "us" ? us : metric, place, name, text)).toEqual({ value, troubles: [] });
  });

  test.each([
    ["/moistureWb", "12abc", /"12abc" is not a number\. Write digits only/],
    ["/moistureWb", "1,2", /"1,2" is not a number/],
    ["/moistureWb", "120", /120 is too much\. Write 100 % or less\./],
    ["/moistureWb", "-1", /-1 is too little\. Write 0 % or more\./],
    ["/moistureWb", "", /must not be empty/],
    ["/harvestYear", "2026.5", /not a whole number/],
    ["/formedOn", "2026-02-30", /is not a day\. Write it as 2027-01-18\./],
    ["/crop", "maize", /none of the choices/],
    ["/letter", "ABCD", /too long: 4 letters\. Use at most 3\./],
  ])("%s: %s is refused in words", (name, text, words) => {
    const { troubles } = typed(us, "/lots/=lot-a", name, text);
    expect(troubles.map((one) => one.name)).toEqual([name]);
    expect(`${troubles[0]!.message} ${troubles[0]!.wayOut}`).toMatch(words);
  });

  test("is written with at most one point, and commas only between groups of three", () => {
    expect(["1,234.5", "1234.5", ".5", "12.", "\u22123"].map(plainDigits)).toEqual([
      "1234.5",
      "1234.5",
      ".5",
      "12.",
      "-3",
    ]);
    expect(["", "1e3", "1,23", "1.2.3", "12,3456", "0x1f", "Infinity", "NaN", "1 2"].map(plainDigits))
      .toEqual(
        Array(9).fill(null),
      );
  });
});

describe("what a form says of a number", () => {
  test("its range and source in the reader's unit, and whose word it is", () => {
    const book = field(us, "/dryers/=dryer", "/energyMjPerKgWater");
    expect([book.standing, book.facts?.source]).toEqual([
      "book value",
      expect.stringContaining("4.65 MJ/kg"),
    ]);
    expect(field(us, "/lots/=lot-a", "/moistureWb")).toMatchObject({
      standing: "own figure",
      facts: { plausible: "8 to 16 %", basis: "wet basis" },
    });
    const wet = { ...us, lots: us.lots.map((lot) => ({ ...lot, moistureWb: 0.3 })) };
    expect(field(us, "/lots/=lot-a", "/moistureWb").unlikely).toBe(false);
    expect(field(wet, "/lots/=lot-a", "/moistureWb").unlikely).toBe(true);
    expect(field(us, "/opening/grain/=lot-a bin-1", "/massG").standing).toBe("measured");
    expect(field(us, "/lots/=lot-a", "/analyses/0/germinativeEnergy").standing).toBe("measured");
  });
});
