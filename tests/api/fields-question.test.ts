import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { makeNaivePlan } from "../../core/plan/make.ts";
import type { Answered, AskOrder } from "../../routes/_solver/ask-messages.ts";
import { type Ask, askInWorker, openAsker } from "../../routes/_solver/asker.ts";
import { NOW, openTestApp, type TestApp } from "../_support/app.ts";
import { demoSeason } from "../_support/demo.ts";
import { emptyPlan } from "../_support/empty-plan.ts";
import { explainInto, plan, season } from "../_support/explained.ts";

const asks: { order: AskOrder; answer: (answer: Answered) => void }[] = [];
const ask: Ask = (order) => {
  let answer: (answer: Answered) => void = () => {};
  const answered = new Promise<Answered>((resolve) => answer = resolve);
  asks.push({ order, answer });
  return { answered, stop: () => answer({ kind: "broke", message: "given up" }) };
};
const settled = () => new Promise((done) => setTimeout(done, 0));
const farm = demoSeason();
const naive = await makeNaivePlan(farm, { seed: 1, iterations: 0, highs: null });

let app: TestApp;
beforeEach(async () => {
  asks.length = 0;
  app = openTestApp(":memory:", () => NOW, explainInto([]), ask);
  await app.send("POST", "/api/seasons", farm);
  await app.get(`/seasons/${farm.id}`);
  await app.thread.end({ kind: "planned", plan: naive });
});
afterEach(() => app.parts.close());

describe("which field gets which grain", () => {
  const farmPage = async (query = "") =>
    await (await app.get(`/seasons/${farm.id}/questions${query}`)).text();
  const typed = "?fields=try&yield.home-piece.spring-barley-2027=50.5&yield.mill-strip.oats-2027=60";

  test("is planned when it is asked for, with the yields that were typed in the reader's unit", async () => {
    expect(await farmPage()).toContain("Say what each field would yield");
    expect(asks).toHaveLength(0);
    expect(await farmPage(typed)).toContain("fields given otherwise");
    const { yields } = asks[0]!.order.ask as { yields: Record<string, number> };
    // A legal bushel of barley has 48 lb, one of oats 32 lb (7 CFR 810, 15 USC 237).
    const lbPerAc = 0.45359237 / 0.40468564224;
    expect(yields["home-piece spring-barley-2027"]).toBeCloseTo(50.5 * 48 * lbPerAc, 6);
    expect(yields["mill-strip oats-2027"]).toBeCloseTo(60 * 32 * lbPerAc, 6);
  });

  test("is told in words and field by field, beside what else was asked", async () => {
    await farmPage(`${typed}&share=60`);
    const row = { field: "Home Piece", area: "9.5 ac", before: "barley", planned: "barley", best: "oats" };
    asks[0]!.answer({
      ...{ kind: "answer", words: "Oats on Home Piece: 2 more brews." },
      fields: [{ ...row, fieldId: "home-piece", why: "barley loses 2 brews" }],
    });
    await settled();
    const html = await farmPage(`${typed}&share=60`);
    expect(html).toContain("Oats on Home Piece: 2 more brews.");
    expect(html).toContain("Barley loses 2 brews");
    expect(html).toContain('name="share" value="60"');
    expect(html).toContain('name="yield.home-piece.spring-barley-2027" value="50.5"');
  });

  test.each(["much", "-3", "0", "99999", "1,5"])("refuses a yield of %s", async (yield_) => {
    const html = await farmPage(`?fields=try&yield.home-piece.spring-barley-2027=${yield_}`);
    expect(html).toContain(
      "Give each yield as a number above 0, and at most 371 bu/ac of barley, 557 bu/ac of oats.",
    );
    expect(asks).toHaveLength(0);
  });

  test("the worker answers by itself", async () => {
    // With nothing to brew each plan takes a moment.
    const tiny = { ...farm, brews: [] };
    const answered = await askInWorker({ season: tiny, plan: await emptyPlan(tiny), ask: { yields: {} } })
      .answered;
    expect(answered).toMatchObject({ kind: "answer" });
    expect((answered as { fields?: unknown[] }).fields).toHaveLength(4);
  });
});

test("what was asked of an earlier plan is given up for what is asked of the next one", async () => {
  const asker = openAsker(ask, () => {});
  const of = (planId: number, perMonth: number) => ({
    ...{ planId, key: String(perMonth), season, plan },
    ask: { beerId: "amber", perMonth, fromDay: 0 },
  });
  asker.ask(of(1, 1));
  asker.ask(of(1, 2));
  asker.ask(of(2, 3));
  await settled();
  expect(asks.map(({ order }) => (order.ask as { perMonth: number }).perMonth)).toEqual([1, 3]);
  expect(asker.look(1, "2")).toBe(null);
  expect(asker.look(2, "3")).toBe("waiting");
  asker.close();
});
