import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { openTestApp, type TestApp } from "../_support/app.ts";
import { demoFile, demoSeason } from "../_support/demo.ts";

const demo = demoSeason();
const SEASON = `/seasons/${demo.id}`;
const person = demo.people[0]!;

let app: TestApp;
let made = 0;
beforeEach(async () => {
  app = openTestApp();
  await app.send("POST", "/api/seasons", demoFile());
});
afterEach(() => app.parts.close());

const as = (who: string) => ({ cookie: `rickyard-person=${encodeURIComponent(who)}` });

async function change(from: number, to: number, author: string): Promise<void> {
  const id = `record-test-${made++}`;
  const changes = [{ at: "/costs/moveCents", from, to }];
  const answer = await app.send("POST", `/api${SEASON}/edits`, { id, author, changes });
  expect(answer.status).toBe(201);
}

async function cents(): Promise<number> {
  return (await (await app.get(`/api${SEASON}`)).json()).costs.moveCents;
}

async function page(path: string, who?: string): Promise<string> {
  return await (await app.get(path, who === undefined ? {} : as(who))).text();
}

const CENTS = demo.costs.moveCents;

describe("who writes", () => {
  test("is asked, remembered by the browser, and stands at the head of the pages", async () => {
    expect(await page(SEASON)).toContain("Who is writing?");
    const answer = await app.press(`${SEASON}/who`, { person: person.id, back: `${SEASON}/history` });
    expect([answer.status, answer.headers.get("location")]).toEqual([303, `${SEASON}/history`]);
    expect(answer.headers.get("set-cookie")).toMatch(new RegExp(`rickyard-person=${person.id};.*HttpOnly`));
    expect(await page(SEASON, person.id)).toContain(`Writing: ${person.name}`);
  });

  test("may be somebody else, and is never led away from this server", async () => {
    const answer = await app.press(`${SEASON}/who`, {
      person: "",
      other: "A hand",
      back: "https://elsewhere.test/",
    });
    expect(answer.headers.get("set-cookie")).toContain("rickyard-person=A%20hand");
    expect(answer.headers.get("location")).toBe(SEASON);
  });
});

describe("undo and redo", () => {
  test("stand at the head of every page, for the person who writes there", async () => {
    await change(CENTS, 900, person.id);
    expect(await page(SEASON, person.id)).toContain(">Undo</button>");
    expect(await page(SEASON, "another")).not.toContain(">Undo</button>");
    const back = await app.press(`${SEASON}/undo`, { id: "undo-test-1" }, as(person.id));
    expect([back.status, await cents()]).toEqual([303, CENTS]);
    expect(await page(`${SEASON}/history`, person.id)).toContain(">Redo</button>");
    await app.press(`${SEASON}/redo`, { id: "redo-test-1" }, as(person.id));
    expect(await cents()).toBe(900);
  });

  test("pressed twice by mistake count once", async () => {
    await change(CENTS, 900, person.id);
    await change(900, 950, person.id);
    await app.press(`${SEASON}/undo`, { id: "undo-test-1" }, as(person.id));
    await app.press(`${SEASON}/undo`, { id: "undo-test-1" }, as(person.id));
    expect(await cents()).toBe(900);
  });

  test("ask who is writing when nobody has said", async () => {
    await change(CENTS, 900, person.id);
    const answer = await app.press(`${SEASON}/undo`, { id: "undo-test-1" });
    expect([answer.status, await answer.text()]).toEqual([
      409,
      expect.stringContaining("Nobody has said who"),
    ]);
  });

  test("show whose later change stands in the way, and let the person choose", async () => {
    await change(CENTS, 900, person.id);
    await change(900, 950, "Another hand");
    const answer = await app.press(`${SEASON}/undo`, { id: "undo-test-1" }, as(person.id));
    const html = await answer.text();
    expect([answer.status, html]).toEqual([409, expect.stringContaining("Another hand")]);
    expect(await cents()).toBe(950);
    const seen = /name="seen" value="([^"]*)"/.exec(html)![1]!.replaceAll("&quot;", '"');
    const revision = /name="revision" value="(\d+)"/.exec(html)![1]!;
    await app.press(`${SEASON}/undo`, { id: "undo-test-2", revision, seen }, as(person.id));
    expect(await cents()).toBe(CENTS);
  });

  test.each(["{", "[1]", '[{"at":3}]'])("refuse what no page sends: %s", async (seen) => {
    await change(CENTS, 900, person.id);
    const answer = await app.press(`${SEASON}/undo`, { id: "undo-test-1", seen }, as(person.id));
    expect([answer.status, await cents()]).toEqual([400, 900]);
  });
});

describe("the history page", () => {
  test("tells every change in words, with a way back for each", async () => {
    await change(CENTS, 900, person.id);
    const html = await page(`${SEASON}/history`);
    expect(html).toMatch(new RegExp(`${person.name} changed .*: .* → 9.00 USD`));
    expect(html).toContain("Take back");
    expect(await page(`${SEASON}/history?at=/costs`)).toContain("→ 9.00 USD");
    expect(await page(`${SEASON}/history?at=/lots`)).toContain("Nothing was changed here yet");
  });

  test("shows an earlier season and goes back to it", async () => {
    await change(CENTS, 900, person.id);
    await change(900, 950, person.id);
    const html = await page(`${SEASON}/history/2`);
    expect(html).toMatch(/9\.00 USD → 9\.50 USD/);
    const answer = await app.press(
      `${SEASON}/restore`,
      { id: "restore-1", revision: "1", reason: "no" },
      as(person.id),
    );
    expect([answer.status, await cents()]).toEqual([303, CENTS]);
    expect((await app.get(`${SEASON}/history/99`)).status).toBe(404);
  });
});

describe("the list of seasons", () => {
  test("puts a season away, throws it away and brings it back; meanwhile nothing in it changes", async () => {
    for (const [to, words] of [["archived", "was put away"], ["thrown away", "was thrown away"]]) {
      const answer = await app.press(`${SEASON}/shelf`, { to: to! });
      expect(await page(answer.headers.get("location")!)).toContain(words);
      const id = `record-test-${made++}`;
      const changes = [{ at: "/costs/moveCents", from: CENTS, to: 1 }];
      const edit = await app.send("POST", `/api${SEASON}/edits`, { id, author: "x", changes });
      expect(edit.status).toBe(409);
    }
    await app.press(`${SEASON}/shelf`, { to: "open" });
    await change(CENTS, 900, person.id);
    expect((await app.press(`${SEASON}/shelf`, { to: "the attic" })).status).toBe(400);
  });

  test("takes a file, under another id where its own is taken", async () => {
    const file = new File([JSON.stringify(demoFile())], "season.json");
    const answer = await app.press("/seasons", { file });
    expect(answer.headers.get("location")).toBe(`/seasons?came=${demo.id}-2`);
    expect(await page(`/seasons?came=${demo.id}-2`)).toContain("another season has the one in its file");
    const broken = await app.press("/seasons", { file: new File(["{"], "season.json") });
    expect([broken.status, await broken.text()]).toEqual([422, expect.stringContaining("not JSON")]);
  });

  test("begins a farm with nothing, which can be planned", async () => {
    const answer = await app.press("/seasons/begin", { name: "Nether Field" });
    expect(answer.headers.get("location")).toBe("/seasons/nether-field");
    const season = await (await app.get("/api/seasons/nether-field")).json();
    expect(season).toMatchObject({
      name: "Nether Field",
      lots: [],
      asOf: expect.stringMatching(/^2027-01-18T/),
    });
    expect(await page("/seasons/nether-field/farm")).toContain("Nether Field");
  });
});

describe("the next season", () => {
  test("begins with what lies where, beside the old one", async () => {
    expect(await page(`${SEASON}/next`)).toContain("Begin the next season");
    const answer = await app.press(`${SEASON}/next`, { date: demo.asOf.slice(0, 10), name: "Year two" });
    expect(answer.status).toBe(200);
    const html = await answer.text();
    for (const part of ["Year two begins on", "To be entered now", "Taken over"]) {
      expect(html).toContain(part);
    }
    const next = await (await app.get("/api/seasons/year-two")).json();
    expect(next.opening.grain.length).toBeGreaterThan(0);
    expect(await page("/seasons")).toContain("Year two");
  });

  test.each([["", "Year two"], ["2027-02-30", "Year two"], ["2035-01-01", "Year two"], ["2027-01-18", " "]])(
    "on %j called %j is refused in words",
    async (date, name) => {
      const answer = await app.press(`${SEASON}/next`, { date, name });
      expect(answer.status).toBe(422);
      expect(await page("/seasons")).not.toContain("Year two");
    },
  );
});
