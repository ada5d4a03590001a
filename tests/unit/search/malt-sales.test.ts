/** What a plan still owes of malt sold under contract. */
import { expect, test } from "vitest";
import { finish } from "../../../core/search/finish.ts";
import type { Season } from "../../../core/season/season.ts";
import { soldOf, T } from "./_malt-sold.ts";
import { plainStart } from "./_plain-start.ts";

function owed(season: Season) {
  const { candidate, ...by } = plainStart(season);
  const { maltDeliveries, unsold, goals } = finish({ ...by, highs: null }, candidate);
  return {
    soldG: maltDeliveries.flatMap((one) => one.from).reduce((sum, one) => sum + one.massG, 0),
    answers: [...maltDeliveries, ...unsold].map((one) => one.contractId),
    asked: goals.asked,
    salesCents: goals.money.salesCents,
  };
}

test("nothing delivered: the whole weight", () => {
  expect(owed(soldOf([]))).toEqual({
    soldG: 6 * T,
    answers: ["sale"],
    asked: [1, 0, 0],
    salesCents: -600_000,
  });
});

test("delivered in part: the rest, at its price", () => {
  expect(owed(soldOf([2 * T, 1.5 * T]))).toEqual({
    soldG: 2.5 * T,
    answers: ["sale"],
    asked: [1, 0, 0],
    salesCents: -250_000,
  });
});

test("delivered whole, or more: it is asked no more", () => {
  for (const parts of [[6 * T], [4 * T, 2 * T], [6 * T + 1]]) {
    expect(owed(soldOf(parts))).toEqual({ soldG: 0, answers: [], asked: [0, 0, 0], salesCents: 0 });
  }
});
