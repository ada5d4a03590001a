import { describe, expect, test } from "vitest";
import { FlowRecord } from "../../../core/search/flow-record.ts";
import type { Supply } from "../../../core/search/supply.ts";

const BATCH: Supply = {
  ...{ arrives: 10, ready: 20, last: 300, extractG: 1000, perG: 0.8, home: true, settled: false },
  share: null,
} as Supply;
const USE = { line: 3, day: 40, claimG: 500, homeG: 200, needG: 600 };

/** A question of one batch and one use. */
function asking(batch: Partial<Supply> = {}, use: Partial<typeof USE> = {}): FlowRecord {
  const record = new FlowRecord();
  record.ask([{ ...BATCH, ...batch }]);
  const { line, day, claimG, homeG, needG } = { ...USE, ...use };
  record.use(line, day, claimG, homeG, needG);
  return record;
}

describe("what a malt's flow was asked before", () => {
  const known = new FlowRecord();
  known.begin(asking());

  test("answers the very same question, and none before it was asked one", () => {
    expect(known.answers(asking())).toBe(true);
    expect(new FlowRecord().answers(new FlowRecord())).toBe(false);
  });

  test.each(
    [
      ...[{ arrives: 11 }, { ready: 21 }, { last: 299 }, { extractG: 999 }, { perG: 0.7 }, { home: false }],
      ...[{ settled: true }, { share: new Float64Array(2) as unknown as Supply["share"] }],
    ] as Partial<Supply>[],
  )("does not answer when the batch differs: %o", (batch) => {
    expect(known.answers(asking(batch))).toBe(false);
  });

  test.each(
    [{ line: 4 }, { day: 41 }, { claimG: 499 }, { homeG: 201 }, { needG: 601 }],
  )("does not answer when the use differs: %o", (use) => {
    expect(known.answers(asking({}, use))).toBe(false);
  });
});
