import { expect, test } from "vitest";
import { dayNumber } from "../../../core/calendar.ts";
import { makeNaivePlan } from "../../../core/plan/make.ts";
import { cashBetween, cashOf } from "../../../core/year/cash-months.ts";
import { demoSeason } from "../../_support/demo.ts";

const season = demoSeason();
const plan = await makeNaivePlan(season, { seed: 1, iterations: 0, highs: null });
const entries = cashOf(season, plan);
const sumOf = (kind: string) =>
  entries.filter((one) => one.kind === kind).reduce((sum, { cents }) => sum + cents, 0);

test("dated money adds up to what the plan counts, part by part", () => {
  const { runsCents, ordersCents, movesCents, feedCents, salesCents } = plan.goals.money;
  expect(Math.abs(sumOf("runs") - runsCents)).toBeLessThan(100);
  expect(sumOf("orders")).toBe(ordersCents);
  expect(Math.abs(sumOf("moves") - movesCents)).toBeLessThan(20);
  expect(sumOf("feed")).toBe(feedCents);
  expect(Math.abs(sumOf("sales") - salesCents)).toBeLessThan(20);
  expect(runsCents).toBeGreaterThan(0);
  expect(feedCents).toBeLessThan(0);
});

test("grain bought under contract is paid on the day it comes, if that is still ahead", () => {
  const contract = {
    kind: "buy-grain" as const,
    id: "bought",
    party: "A merchant",
    lotId: "lot-a",
    massG: 2_000_000,
    on: "2027-03-05",
    perTonneCents: 30_000,
  };
  const of = (on: string) =>
    cashOf({ ...season, contracts: [{ ...contract, on }] }, plan).filter((one) =>
      one.kind === "grain bought"
    );
  expect(of("2027-03-05")).toEqual([{ kind: "grain bought", day: dayNumber("2027-03-05"), cents: 60_000 }]);
  expect(of("2026-10-05")).toEqual([]);
});

test("months have what goes out beside what comes in, the day after the last left to the next", () => {
  const rows = [
    { kind: "orders" as const, day: 10, cents: 500 },
    { kind: "feed" as const, day: 19, cents: -300 },
    { kind: "runs" as const, day: 20, cents: 40 },
  ];
  expect(cashBetween(rows, 10, 20)).toEqual({ out: 500, in: 300 });
  expect(cashBetween(rows, 20, 30)).toEqual({ out: 40, in: 0 });
});
