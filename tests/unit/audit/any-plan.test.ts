/** Whatever passes the schemas is judged, never thrown at. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { auditPlan } from "../../../core/audit/audit.ts";
import { planSchema } from "../../../core/plan/plan.ts";
import { seasonSchema } from "../../../core/season/season.ts";
import { handPlan } from "./_hand-plan.ts";
import { handSeason } from "./_hand-season.ts";

/** Bold values for a field of each kind; those a field cannot hold are refused by the schema. */
const ODD: Readonly<Record<string, readonly unknown[]>> = {
  number: [0, 1, 0.5, -1, 2, 7, 40, 1e6, 2e9],
  boolean: [true, false],
  object: [[]],
  day: ["0000-01-01", "9999-12-31", "2027-03-28", "2027-01-17"],
  minute: ["0000-01-01T00:00", "9999-12-31T23:59", "2027-03-28T01:30", "2027-10-31T01:30"],
  time: ["24:00", "00:00", "12:00"],
  text: [
    "a",
    "b",
    "r1",
    "b1",
    "bin-1",
    "pale",
    "wheat",
    "rye",
    "nobody",
    "booked",
    "under way",
    "held",
    "UTC",
  ],
};

function kindOf(value: unknown): string {
  if (typeof value !== "string") return typeof value;
  if (/T/.test(value)) return "minute";
  if (/^\d{4}-/.test(value)) return "day";
  return /^\d\d:/.test(value) ? "time" : "text";
}

type Place = [holder: Record<string, unknown> | unknown[], key: string];

function places(holder: unknown, found: Place[] = []): Place[] {
  if (typeof holder !== "object" || holder === null) return found;
  for (const [key, value] of Object.entries(holder)) {
    found.push([holder as Place[0], key]);
    places(value, found);
  }
  return found;
}

type Change = readonly [at: number, value: number, how: "set" | "drop" | "double"];

function changed(thing: unknown, changes: readonly Change[], accepts: (thing: unknown) => boolean): unknown {
  let is = thing;
  for (const [at, value, how] of changes) {
    const next = structuredClone(is), all = places(next);
    const [holder, key] = all[at % all.length]!;
    if (how === "drop" && Array.isArray(holder)) holder.splice(Number(key), 1);
    else if (how === "double" && Array.isArray(holder)) holder.push(structuredClone(holder[Number(key)]));
    else {
      const fields = holder as Record<string, unknown>, odd = ODD[kindOf(fields[key])] ?? [];
      fields[key] = odd[value % odd.length];
    }
    if (accepts(next)) is = next;
  }
  return is;
}

const CHANGES = fc.array(
  fc.tuple(
    fc.noBias(fc.nat({ max: 1_000_000 })),
    fc.nat({ max: 1000 }),
    fc.constantFrom("set", "drop", "double"),
  ),
  { minLength: 1, maxLength: 30 },
);

test("the auditor never throws, and every breach can be read", () => {
  let looked = 0, broken = 0;
  fc.assert(
    fc.property(CHANGES, CHANGES, (inSeason, inPlan) => {
      looked += 1;
      const season = changed(handSeason(), inSeason, (item) => seasonSchema.safeParse(item).success);
      const plan = changed(handPlan(), inPlan, (item) => planSchema.safeParse(item).success);
      const breaches = auditPlan(seasonSchema.parse(season), planSchema.parse(plan));
      if (breaches.length > 0) broken += 1;
      for (const { message } of breaches) expect(message).not.toMatch(/undefined|\[object/);
    }),
    { numRuns: 200 },
  );
  // A fuzz whose changes are all refused would prove nothing.
  expect(broken / looked).toBeGreaterThan(0.8);
});
