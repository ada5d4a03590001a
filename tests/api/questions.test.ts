import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { seasonSchema } from "../../core/season/season.ts";
import type { Answered, AskOrder } from "../../routes/_solver/ask-messages.ts";
import { type Ask, askInWorker } from "../../routes/_solver/asker.ts";
import { NOW, openTestApp, type TestApp } from "../_support/app.ts";
import { emptyPlan } from "../_support/empty-plan.ts";
import { explainInto, explanation, type Job, plan, season } from "../_support/explained.ts";

const jobs: Job[] = [];
const asks: { order: AskOrder; answer: (answer: Answered) => void }[] = [];
const ask: Ask = (order) => {
  let answer: (answer: Answered) => void = () => {};
  const answered = new Promise<Answered>((resolve) => answer = resolve);
  asks.push({ order, answer });
  return { answered, stop: () => {} };
};
const settled = () => new Promise((done) => setTimeout(done, 0));
const beer = season.beers[0]!;

let app: TestApp;
beforeEach(async () => {
  jobs.length = 0;
  asks.length = 0;
  app = openTestApp(":memory:", () => NOW, explainInto(jobs), ask);
  await app.send("POST", "/api/seasons", season);
  await app.get(`/seasons/${season.id}`);
  await app.thread.end({ kind: "planned", plan });
});
afterEach(() => app.parts.close());

const page = async (query = "") =>
  (await (await app.get(`/seasons/${season.id}/questions${query}`)).text()).replace(
    /<[^>]*>/g,
    (tag) => /^<(?:input|option|select|path|details|div id)/.test(tag) ? tag : "¶",
  );

describe("the page of questions", () => {
  test("answers from the plan at once, and begins to work out the rest", async () => {
    const html = await page();
    expect(jobs.map(({ order }) => order.depth)).toEqual(["whole"]);
    expect(html.match(/Being worked out/g)!.length).toBe(6);
    expect(html).toContain("What can I sell as feed, and when?");
    expect(html).toContain("Do I meet the licence share?");
    expect(html).toMatch(/What cash goes out each month\?¶¶Most in \w+( \d+)?: CAD/);
  });

  test("tells the limit in one word and the months in which it is felt", async () => {
    await page();
    jobs[0]!.told(explanation);
    const html = await page();
    expect(html).toContain("What limits us?¶¶Room for malt¶");
    expect(html).toContain(explanation.limit);
    expect(html).toMatch(/<path class="felt" d="M[^"]+"/);
  });

  test("ranks what could be added, and a price that is typed gives the years until it has come back", async () => {
    await page();
    jobs[0]!.told(explanation);
    expect(await page()).toContain("1 more place in the malt store: 2 more brews");
    expect(await page("?price-malt-places-1=160")).toMatch(/\d+\.\d years/);
    const wrong = await page("?price-malt-places-1=dear");
    expect(wrong).toContain("that is no price");
    expect(wrong).toContain('value="dear"');
    expect(wrong).toContain("A bulk bag can fall");
  });

  test("tells what one more acre is worth and what is lost when a field fails", async () => {
    await page();
    jobs[0]!.told({
      ...explanation,
      acres: [{
        plantingId: "p",
        what: "One more hectare of oats",
        words: "nothing measurable",
        feed: "90 EUR a hectare",
      }],
      failing: [{
        lotId: "lot-g",
        letter: "G",
        what: "G, about 9.0 t",
        words: "2 fewer brews",
        beers: "2 Amber fewer",
        money: "",
      }],
    });
    const html = await page();
    expect(html).toContain("¶Nothing measurable¶");
    expect(html).toContain("90 EUR a hectare");
    expect(html).toContain("¶2 fewer brews; 2 Amber fewer¶");
  });

  test("tells what bad and good years carry, and in how many of twenty brews go short, as they become known", async () => {
    await page();
    const year = {
      kind: "bad" as const,
      cut: "9.0 t",
      pints: "1,200",
      shown: "900",
      lastsTo: "May 2027",
      noRoom: "",
      short: "2 brews short",
      firstShortDay: 20_800,
    };
    const odds = {
      of: 20,
      firstShortDays: [20_800, 20_801, 20_840, null],
      unplanned: 0,
      fromDay: 20_780,
      toDay: 20_900,
    };
    jobs[0]!.told({ ...explanation, years: [year], odds });
    const part = await page();
    expect(part).toContain("carry in a bad, likely, good year?¶¶Bad 1,200 …¶");
    expect(part).toContain("In 3 of 20 years, as far as 4 of them are planned: 2 of them first in Dec 2026.");
    jobs[0]!.told({
      ...explanation,
      years: [year, { ...year, kind: "likely", pints: "1,500" }, { ...year, kind: "good", pints: "1,600" }],
      odds: { ...odds, firstShortDays: Array.from({ length: 20 }, (_, at) => at < 3 ? 20_800 : null) },
    });
    const whole = await page();
    expect(whole).toContain("¶Bad 1,200, likely 1,500, good 1,600; the bad one goes short in Dec 2026¶");
    expect(whole).toContain("In 3 of 20 years: always first in Dec 2026.");
    jobs[0]!.told({ ...explanation, years: [0, 1, 2].map(() => ({ ...year, firstShortDay: null })) });
    expect(await page()).toContain("; the bad one runs out in about May 2027¶");
    const good = { ...year, kind: "good" as const, firstShortDay: null, noRoom: "21.4 t" };
    jobs[0]!.told({ ...explanation, years: [year, year, good] });
    expect(await page()).toContain("goes short in Dec 2026; in the good one there is no room for 21.4 t¶");
    jobs[0]!.told({ ...explanation, doing: "" });
    jobs[0]!.end(null);
    await settled();
    expect(await page()).toContain("No malting harvest is to come inside the days shown.");
  });

  test("holds own malt against its price, with the grain at what feed pays or at what growing costs", async () => {
    expect(await page()).toContain("Grain stands at what feed pays after haulage");
    const given = await page("?grain=210");
    expect(given).toContain("Grain stands at what you give for growing it.");
    expect(given).toMatch(/name="grain" value="210"/);
    expect(await page("?grain=dear")).toContain("Give what growing costs as a number.");
  });

  test("keeps what one form was told when another is sent", async () => {
    const html = await page("?grain=210&share=60");
    expect(html).toMatch(/type="hidden" name="grain" value="210"/);
    expect(html).toMatch(/type="hidden" name="share" value="60"/);
  });

  test("holds the newest harvest against its forecast, lot by lot", async () => {
    const html = await page();
    expect(html).toContain("¶Harvest 2027: 2.5 t forecast, 2.5 t came, as forecast¶");
    expect(html).toContain("A winter barley of 2027");
    expect(html).toContain("What was expected, and what came");
  });

  test("reads the share that is asked for, and says what is no share", async () => {
    expect(await page("?share=60")).toContain("No brews are made in the days shown.");
    expect(await page("?share=much")).toContain("Give the share in per cent");
    expect(await page("?share=101")).toContain("Give the share in per cent");
  });
});

describe("may I promise a new account", () => {
  const query = `?beer=${beer.id}&brews=2&from=${season.asOf.slice(0, 7)}`;

  test("plans the year once with the brews asked for, and shows the answer, also after a look without it", async () => {
    expect(await page(query)).toContain("The year is being planned with these brews");
    await page(query);
    expect(asks).toHaveLength(1);
    expect(asks[0]!.order.ask).toMatchObject({ beerId: beer.id, perMonth: 2 });
    asks[0]!.answer({ kind: "answer", words: "Yes until 3 Mar, no from 4 Mar on." });
    await settled();
    expect(await page(query)).toContain("Yes until 3 Mar, no from 4 Mar on.");
    expect(await page()).not.toContain("Yes until 3 Mar");
    expect(await page(`${query}&share=50`)).toContain("Yes until 3 Mar");
    expect(asks).toHaveLength(1);
  });

  test("one form keeps what another asked", async () => {
    const html = await page(`${query}&share=50`);
    expect(html).toContain('<input type="hidden" name="share" value="50"');
    expect(html).toContain(`<input type="hidden" name="beer" value="${beer.id}"`);
  });

  test.each(["brews=0", "brews=13", "brews=two", "from=soon", "beer=none"])(
    "refuses %s in words",
    async (wrong) => {
      const [name, value] = wrong.split("=") as [string, string];
      const params = new URLSearchParams(query);
      params.set(name, value);
      expect(await page(`?${params}`)).toContain("Give a whole number of brews");
      expect(asks).toHaveLength(0);
    },
  );

  test("says what broke, and asks the next question all the same", async () => {
    await page(query);
    asks[0]!.answer({ kind: "broke", message: "out of memory" });
    await settled();
    expect(await page(query)).toContain("It broke off: out of memory");
    await page(query.replace("brews=2", "brews=3"));
    expect(asks).toHaveLength(2);
  });

  test("an answer is of one plan: after an edit it is asked anew", async () => {
    await page(query);
    asks[0]!.answer({ kind: "answer", words: "Yes until 3 Mar, no from 4 Mar on." });
    await settled();
    const places = season.maltStore.places;
    const changes = [{ at: "/maltStore/places", from: places, to: places + 1 }];
    await app.send("POST", `/api/seasons/${season.id}/edits`, {
      id: "questions-edit-1",
      author: "Owner",
      changes,
    });
    expect(await page(query)).not.toContain("Yes until 3 Mar");
  });

  test("the worker answers by itself", async () => {
    const fromDay = Math.floor(Date.parse(season.asOf) / 864e5) + 20;
    const answered = await askInWorker({ season, plan, ask: { beerId: beer.id, perMonth: 1, fromDay } })
      .answered;
    expect(answered.kind).toBe("answer");
  });
});

test("of a plan without runs nothing is said to be worked out", async () => {
  jobs.length = 0;
  const { default: file } = await import("../../data-demo/empty-farm.json", { with: { type: "json" } });
  await app.send("POST", "/api/seasons", file);
  await app.get(`/seasons/${file.id}`);
  await app.thread.end({ kind: "planned", plan: await emptyPlan(seasonSchema.parse(file)) });
  for (const name of ["questions", "remedies"]) {
    const html = await (await app.get(`/seasons/${file.id}/${name}`)).text();
    expect(html).not.toContain("eing worked out: the year");
    expect(html).not.toContain("is being worked out.");
    expect(html).not.toContain("data-busy");
  }
  const html = await (await app.get(`/seasons/${file.id}/questions`)).text();
  expect(html).toContain("the plan has no runs");
  expect(html).toContain("Not before the farm has a beer.");
  // Twelve empty months would be no answer.
  expect(html).not.toContain("Cash by month");
  expect(jobs).toHaveLength(0);
});

test("an empty farm's page says that there is nothing to answer, and asks for nothing", async () => {
  const { default: file } = await import("../../data-demo/empty-farm.json", { with: { type: "json" } });
  await app.send("POST", "/api/seasons", file);
  const answer = await app.get(`/seasons/${file.id}/questions`);
  expect(answer.status).toBe(200);
  expect(await answer.text()).toContain("There is no plan yet");
  expect(jobs).toHaveLength(0);
});
