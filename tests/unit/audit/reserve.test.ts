/** The floor that is left out is one mean week of the calendar's need; counted here day by day, apart from the auditor's way. */
import { expect, test } from "vitest";
import { auditPlan } from "../../../core/audit/audit.ts";
import { addDays } from "../../../core/calendar.ts";
import { extractKg } from "../../../core/physics/extract.ts";
import { handPlan } from "./_hand-plan.ts";
import { handSeason } from "./_hand-season.ts";
import { of, pay } from "./_variant.ts";

/** Pale malt by the book for one lager, and for one Half Wheat, in grams. */
const NEED_G = extractKg(1000, 12) * 1000 / 0.85;
const LAGER_G = NEED_G / 0.76;
const HALF_G = NEED_G * 0.6 / (0.6 * 0.76 + 0.3 * 0.6 + 0.1 * 0.722);

function dayByDayCents(): number {
  // Lagers b0, bx, b1, b2, b4 and two Half Wheats, from 10 June 2026 to 14 April 2027: 309 days, both counted.
  const floorG = (5 * LAGER_G + 2 * HALF_G) / 309 * 7;
  const plan = handPlan(),
    ready: { day: string; best: string; massG: number; id: string }[] = [
      { day: "2026-12-08", best: "2027-06-19", massG: plan.brews[0]!.grist[0]!.massG, id: "open-pale" },
    ];
  for (const run of plan.runs) {
    for (const out of run.outputs.filter((item) => item.maltId === "pale")) {
      ready.push({ day: out.readyOn, best: out.bestBefore, massG: out.massG, id: out.batchId });
    }
  }
  const takings = [
    ...plan.brews.flatMap((brew) =>
      brew.grist.flatMap(({ from, massG }) =>
        from.kind === "batch" ? [{ id: from.batchId, on: brew.on, massG }] : []
      )
    ),
    ...plan.drums.flatMap((drum) =>
      drum.from.map((item) => ({ id: item.batchId, on: drum.on, massG: item.massG }))
    ),
    ...plan.maltDeliveries.flatMap((item) =>
      item.from.map((part) => ({ id: part.batchId, on: item.on, massG: part.massG }))
    ),
  ];
  let gramDays = 0;
  for (let day = "2027-01-19"; day <= "2027-04-30"; day = addDays(day, 1)) {
    const stock = ready.filter((batch) => batch.day <= day && day <= batch.best)
      .reduce(
        (sum, batch) =>
          sum + batch.massG - takings.filter((taking) => taking.id === batch.id && taking.on <= day)
            .reduce((all, taking) => all + taking.massG, 0),
        0,
      );
    gramDays += Math.max(0, floorG - stock);
  }
  return gramDays / 1e6 * 20_000_000;
}

test("pale malt without a stated floor", () => {
  const season = handSeason(), plan = handPlan();
  delete of(season.maltTypes, "pale").reserveFloorG;
  of(season.maltTypes, "munich").reserveFloorG = 0;
  // A high price, so that a gram-day counts; the opening batch alone is thinner than a week's need.
  season.costs.reservePerTonneDayCents = 20_000_000;
  season.opening.malt[0]!.massG = 190_000 + plan.brews[0]!.grist[0]!.massG;
  const cents = Math.round(dayByDayCents());
  expect(cents).toBeGreaterThan(500_000);
  pay(plan, "reserveCents", cents);
  expect(auditPlan(season, plan)).toEqual([]);
  pay(plan, "reserveCents", cents + 10);
  expect(auditPlan(season, plan).map((breach) => breach.thing)).toEqual(["reserveCents"]);
});

test("a floor just above the stock, to the horizon's last day and past the batch's last", () => {
  const season = handSeason(), plan = handPlan();
  season.costs.reservePerTonneDayCents = 10_000;
  of(season.maltTypes, "munich").reserveFloorG = 600_000;
  of(season.maltTypes, "munich").shelfLifeDays = 27;
  of(plan.runs, "r5").outputs[0]!.bestBefore = "2027-04-26";
  // 594 kg are ready from 6 to 26 April: 77 days without, 21 days 6 kg short, 4 days without again.
  const cents = (77 + 4) * 6000 + 21 * 60;
  pay(plan, "reserveCents", cents);
  expect(auditPlan(season, plan)).toEqual([]);
  for (const wrong of [-6, 6]) {
    pay(plan, "reserveCents", cents + wrong);
    expect(auditPlan(season, plan).map((breach) => breach.thing)).toEqual(["reserveCents"]);
  }
});

test("malt of a customer's grain is no reserve, whether the plan makes it or it lies there", () => {
  const season = handSeason(), plan = handPlan();
  const paid = (cents: number) => {
    pay(plan, "reserveCents", cents);
    return !auditPlan(season, plan).some(({ thing }) => thing === "reserveCents");
  };
  season.opening.malt.push({
    ...structuredClone(season.opening.malt[0]!),
    id: "open-munich",
    ingredient: { kind: "malt", maltId: "munich" },
    lotIds: ["a", "x"],
  });
  // A tenth of a tonne is missing on none of the 102 days, or until r5 is ready on 6 April, or on all of them.
  expect(paid(0)).toBe(true);
  of(season.lots, "x").owner = "A neighbour";
  expect(paid(770)).toBe(true);
  of(season.lots, "b").owner = "A neighbour";
  const contract = of(season.contracts, "sell-pale");
  if (contract.kind === "sell-malt") contract.lotIds = ["b"];
  expect(paid(770)).toBe(false);
  expect(paid(1020)).toBe(true);
});
