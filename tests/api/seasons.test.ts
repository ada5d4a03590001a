import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { openTestApp, type TestApp } from "../_support/app.ts";
import { bareSeason } from "../_support/bare-season.ts";

let app: TestApp;
beforeEach(() => void (app = openTestApp()));
afterEach(() => app.parts.close());

/** The error of an answer, which has to say what, where and what to do. */
async function trouble(answer: Response): Promise<string> {
  const { error } = await answer.json();
  for (const part of ["what", "where", "whatToDo"]) expect(error[part], part).toMatch(/\S/);
  return error.what;
}

describe("a season file in", () => {
  test("a sound one is stored and comes out as it went in", async () => {
    const answer = await app.send("POST", "/api/seasons", bareSeason);
    expect(answer.status).toBe(201);
    expect(answer.headers.get("location")).toBe("/api/seasons/bare-farm");
    const stored = await app.get("/api/seasons/bare-farm");
    expect(stored.headers.get("etag")).toBe('"1"');
    const season = await stored.json();
    expect(season).toMatchObject({ ...bareSeason, roster: { heldDays: 3 } });

    // Export and import is the identity.
    await app.send("PUT", "/api/seasons/bare-farm", season);
    expect(await (await app.get("/api/seasons/bare-farm")).json()).toEqual(season);
  });

  test("one with errors is refused with the findings, and nothing is stored", async () => {
    const answer = await app.send("POST", "/api/seasons", { ...bareSeason, asOf: "yesterday" });
    expect(answer.status).toBe(422);
    const body = await answer.json();
    expect(body.error.what).toBe("The season has 1 error.");
    expect(body.findings[0]).toMatchObject({ level: "error" });
    expect(body.findings[0].wayOut).toMatch(/\S/);
    expect((await app.get("/api/seasons/bare-farm")).status).toBe(404);
  });

  test("an id that is taken is refused", async () => {
    await app.send("POST", "/api/seasons", bareSeason);
    const again = await app.send("POST", "/api/seasons", bareSeason);
    expect(again.status).toBe(409);
    expect(await trouble(again)).toBe("A season of this name is already stored.");
  });

  test("text that is not JSON is refused", async () => {
    const answer = await app.send("POST", "/api/seasons", "{");
    expect(answer.status).toBe(400);
    expect(await trouble(answer)).toBe("The file is not JSON.");
  });

  test("a form is refused, because a foreign page could send one", async () => {
    const answer = await app.send("POST", "/api/seasons", "x=1", { "content-type": "text/plain" });
    expect(answer.status).toBe(415);
    expect(await trouble(answer)).toBe("The API takes JSON only.");
  });

  test("a file beyond 8 MiB is refused", async () => {
    const length = String(9 * 1024 * 1024);
    const answer = await app.send("POST", "/api/seasons", bareSeason, { "content-length": length });
    expect(answer.status).toBe(413);
    expect(await trouble(answer)).toBe("The season file is too large.");
  });
});

describe("a changed season", () => {
  beforeEach(() => app.send("POST", "/api/seasons", bareSeason));

  test("counts the revision up", async () => {
    const answer = await app.send("PUT", "/api/seasons/bare-farm", { ...bareSeason, name: "New Name" });
    expect(answer.headers.get("etag")).toBe('"2"');
    expect((await (await app.get("/api/seasons/bare-farm")).json()).name).toBe("New Name");
  });

  test("is refused when it was made on an older revision", async () => {
    await app.send("PUT", "/api/seasons/bare-farm", { ...bareSeason, name: "Theirs" });
    const mine = { ...bareSeason, name: "Mine" };
    const answer = await app.send("PUT", "/api/seasons/bare-farm", mine, { "if-match": '"1"' });
    expect(answer.status).toBe(412);
    expect(await trouble(answer)).toBe("Somebody has changed this season in the meantime.");
    expect((await (await app.get("/api/seasons/bare-farm")).json()).name).toBe("Theirs");
  });

  test("is refused at the address of another season", async () => {
    const answer = await app.send("PUT", "/api/seasons/bare-farm", { ...bareSeason, id: "other" });
    expect(answer.status).toBe(409);
  });
});

describe("who may ask", () => {
  test("a request under a foreign name is refused, so that no page can reach in by renaming this machine", async () => {
    const answer = await app.get("http://farm.example:8000/api/seasons/bare-farm");
    expect(answer.status).toBe(403);
    expect(await trouble(answer)).toBe("This server answers only to the machine it runs on.");
  });

  test("an unknown address and an unknown season are told apart in words", async () => {
    expect(await trouble(await app.get("/api/nothing"))).toBe("There is nothing at this address.");
    expect(await trouble(await app.get("/api/seasons/none"))).toBe("There is no season of this name here.");
  });
});

test("the check of a stored season is its list of findings", async () => {
  await app.send("POST", "/api/seasons", bareSeason);
  const { findings } = await (await app.get("/api/seasons/bare-farm/check")).json();
  expect(findings.every(({ level }: { level: string }) => level === "warning")).toBe(true);
});
