/** Malt delivered under a contract: what is left of it, and what the season check says. */
import { describe, expect, test } from "vitest";
import { addDays } from "../../../core/calendar.ts";
import { microSeason } from "../../../core/generate/micro.ts";
import { seasonHash } from "../../../core/season/canonical.ts";
import { checkSeason } from "../../../core/season/check.ts";
import { maltDueG } from "../../../core/season/malt-deliveries.ts";
import { type Season, seasonSchema } from "../../../core/season/season.ts";

const base = microSeason(13, "plain");
const today = base.asOf.slice(0, 10);
const [batch] = base.opening.malt;
const MALT = batch!.ingredient.kind === "malt" ? batch!.ingredient.maltId : "";
const contract = {
  kind: "sell-malt" as const,
  id: "sale",
  party: "a brewer down the road",
  maltId: MALT,
  massG: 100_000,
  from: addDays(today, -5),
  to: addDays(today, 20),
  perTonneCents: 100_000,
  class: 1,
};
const delivery = (massG: number, more: object = {}) => ({
  id: `delivery-${massG}`,
  contractId: "sale",
  on: today,
  batchId: batch!.id,
  massG,
  ...more,
});

function delivered(deliveries: ReturnType<typeof delivery>[], more: Partial<Season> = {}): Season {
  const season = structuredClone(base);
  return {
    ...season,
    contracts: [contract],
    records: { ...season.records, maltDeliveries: deliveries },
    ...more,
  };
}

const codes = (season: Season) => checkSeason(season).findings.map(({ code, field }) => `${code} ${field}`);

test("of a contract is due what was not delivered under it, and never less than nothing", () => {
  const due = (deliveries: ReturnType<typeof delivery>[]) => maltDueG(delivered(deliveries), contract);
  expect(due([])).toBe(100_000);
  expect(due([delivery(30_000), delivery(20_000)])).toBe(50_000);
  expect(due([delivery(30_000, { contractId: "other" })])).toBe(100_000);
  expect(due([delivery(100_001)])).toBe(0);
});

describe("a file of before", () => {
  test("is the same season still, with the same hash", async () => {
    const { maltDeliveries: _, ...records } = delivered([delivery(1)]).records;
    const file = { ...base, records };
    expect(Object.keys(seasonSchema.parse(file).records)).not.toContain("maltDeliveries");
    expect(await seasonHash(seasonSchema.parse(file))).toBe(await seasonHash(base));
  });
});

describe("the season check", () => {
  test("has nothing to say of malt delivered as agreed", () => {
    expect(codes(delivered([delivery(30_000)]))).toEqual(codes({ ...base, contracts: [contract] }));
  });

  test("asks for contracts and batches that are not there", () => {
    expect(codes(delivered([delivery(1, { contractId: "no", batchId: "none" })]))).toEqual(
      expect.arrayContaining([
        "unknown-reference /records/maltDeliveries/0/contractId",
        "unknown-reference /records/maltDeliveries/0/batchId",
      ]),
    );
  });

  test("asks about days to come and days before the opening position", () => {
    expect(codes(delivered([delivery(1, { on: addDays(today, 1) })]))).toContain(
      "record-after-as-of /records/maltDeliveries/0/on",
    );
    expect(codes(delivered([delivery(1, { on: addDays(base.positionAt.slice(0, 10), -1) })]))).toContain(
      "record-before-position /records/maltDeliveries/0/on",
    );
  });

  test("asks about more malt than there was", () => {
    expect(codes(delivered([delivery(batch!.massG)]))).not.toContain(
      "used-over-stock /records/maltDeliveries/0",
    );
    expect(codes(delivered([delivery(Math.ceil(batch!.massG * 1.002))]))).toContain(
      "used-over-stock /records/maltDeliveries/0",
    );
  });

  test("doubts a delivery of another kind than the contract is about", () => {
    const grain = {
      id: "d",
      contractId: "sale",
      on: today,
      lotId: base.lots[0]!.id,
      storeId: "bin-one",
      massG: 1,
    };
    const season = delivered([]);
    expect(codes({ ...season, records: { ...season.records, deliveries: [grain] } })).toContain(
      "delivery-of-other-kind /records/deliveries/0/contractId",
    );
    const other = base.maltTypes.find((one) => one.id !== MALT)!.id;
    expect(codes(delivered([delivery(1)], { contracts: [{ ...contract, maltId: other }] }))).toContain(
      "delivery-of-other-kind /records/maltDeliveries/0/contractId",
    );
  });
});
