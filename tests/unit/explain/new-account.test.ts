import { describe, expect, test } from "vitest";
import { dayNumber } from "../../../core/calendar.ts";
import { accountWords, answerAccount, withAccount } from "../../../core/explain/new-account.ts";
import type { Plan, PlanBrew } from "../../../core/plan/plan.ts";
import { checkSeason } from "../../../core/season/check.ts";
import type { Season } from "../../../core/season/season.ts";
import { demoSeason } from "../../_support/demo.ts";
import { emptyPlan } from "../../_support/empty-plan.ts";

const demo = demoSeason();
const base = await emptyPlan(demo);
const ask = { beerId: "amber", perMonth: 2, fromDay: dayNumber("2027-03-01") };
const brew = (id: string, on: string, promiseHeld = true): PlanBrew => ({
  id,
  beerId: "amber",
  standing: "not booked",
  on,
  tanks: [],
  grist: [],
  homeShare: 1,
  promiseHeld,
});
const plan: Plan = { ...base, brews: [brew("old-1", "2027-04-10"), brew("old-2", "2027-06-10")] };
const added = (season: Season) => season.brews.filter((one) => one.id.startsWith("new-account"));
/** All brews asked for are made on their day but for those that are left out, and the old ones as given. */
const answer = async (left: (on: string) => boolean, old = plan.brews) =>
  await answerAccount(demo, plan, (season) =>
    Promise.resolve({
      ...base,
      brews: [...old, ...added(season).filter((one) => !left(one.on)).map((one) => brew(one.id, one.on))],
    }), ask);

describe("brews for a new account", () => {
  test("lie in parts of the month that do not overlap, promised, and the season with them is sound", () => {
    const { season, added } = withAccount(demo, ask);
    expect(added.slice(0, 3).map((one) => [one.earliest, one.latest, one.class])).toEqual([
      ["2027-03-01", "2027-03-15", 1],
      ["2027-03-16", "2027-03-31", 1],
      ["2027-04-01", "2027-04-15", 1],
    ]);
    expect(added).toHaveLength(20);
    expect(checkSeason(season, { asOf: demo.asOf }).findings.filter((one) => one.level === "error")).toEqual(
      [],
    );
  });

  test("none lies before the first free day", () => {
    const { added } = withAccount(demo, { ...ask, fromDay: dayNumber("2027-01-01") });
    expect(added[0]!.earliest).toBe("2027-02-01");
  });

  test("may be promised where all are made and nothing is lost", async () => {
    const found = await answer(() => false);
    expect(found).toMatchObject({ asked: 20, made: 20, noFrom: null });
    expect(accountWords(demo, found!)).toBe("Yes, all 20 brews, to 31 Dec. Nothing gives.");
  });

  test("until the first that is not made", async () => {
    const found = await answer((on) => on > "2027-09-01");
    expect(accountWords(demo, found!)).toBe(
      "Yes until 31 Aug, no from 1 Sep on: 12 of 20 brews can be made as promised. Nothing gives.",
    );
  });

  test("only at the cost of others where a brew of the calendar is lost for them, or breaks its promise", async () => {
    const lost = await answer(() => false, [brew("old-1", "2027-04-10")]);
    expect(accountWords(demo, lost!)).toBe(
      "Only if other brews give way, the first on 10 Jun: then all 20 brews can be made as promised. What gives: 1 Amber fewer.",
    );
    const broken = await answer(() => false, [brew("old-1", "2027-04-10", false), plan.brews[1]!]);
    expect(broken).toMatchObject({ firstLoss: dayNumber("2027-04-10"), gives: { brews: 0, promises: -1 } });
    expect(accountWords(demo, broken!)).toContain("What gives: 1 home-share promise of other brews.");
  });

  test("count only with the home-grown share that their beer promises", async () => {
    const found = await answerAccount(demo, plan, (season) =>
      Promise.resolve({
        ...base,
        brews: [...plan.brews, ...added(season).map((one) => brew(one.id, one.on, one.on < "2027-07-01"))],
      }), ask);
    expect(accountWords(demo, found!)).toContain("Yes until 30 Jun, no from 1 Jul on: 8 of 20 brews");
  });

  test("are not promised at all where the first cannot be made", async () => {
    const found = await answer(() => true);
    expect(accountWords(demo, found!)).toBe(
      "No, not from 1 Mar on: 0 of 20 brews can be made as promised. Nothing gives.",
    );
  });

  test("outside the days shown there is nothing to ask", async () => {
    const never = await answerAccount(demo, plan, () => Promise.resolve(base), {
      ...ask,
      fromDay: dayNumber("2029-01-01"),
    });
    expect(never).toBe(null);
  });
});
