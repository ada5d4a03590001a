import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { openTestApp, type TestApp } from "../_support/app.ts";
import { bareSeason } from "../_support/bare-season.ts";

let app: TestApp;
beforeEach(() => void (app = openTestApp()));
afterEach(() => app.parts.close());

describe("the first page", () => {
  test("leads to the season that is stored", async () => {
    await app.send("POST", "/api/seasons", bareSeason);
    const answer = await app.get("/");
    expect([answer.status, answer.headers.get("location")]).toEqual([302, "/seasons/bare-farm"]);
  });

  test("of an empty store says what to do", async () => {
    const answer = await app.get("/");
    expect(answer.status).toBe(404);
    expect(await answer.text()).toContain("No season is stored yet.");
  });
});

describe("every page", () => {
  beforeEach(() => app.send("POST", "/api/seasons", bareSeason));

  test("runs only scripts with the nonce of its own answer", async () => {
    const nonces = new Set<string>();
    for (let n = 0; n < 2; n++) {
      const answer = await app.get("/seasons/bare-farm");
      const policy = answer.headers.get("content-security-policy") ?? "";
      const nonce = /script-src 'nonce-([^']+)' 'strict-dynamic'/.exec(policy)?.[1] ?? "";
      expect(policy).toContain("default-src 'none'");
      expect(policy).not.toContain("unsafe");
      const html = await answer.text();
      expect(html.match(/<script/g)).toHaveLength(1);
      expect(html).toContain(`nonce="${nonce}"`);
      nonces.add(nonce);
    }
    expect(nonces.size).toBe(2);
  });

  test("carries no inline style or handler, which the policy would refuse", async () => {
    for (const path of ["/seasons/bare-farm", "/seasons/bare-farm/print", "/nothing"]) {
      const html = await (await app.get(path)).text();
      expect(html).not.toMatch(/<[^>]+\s(style|on\w+)=/);
      expect(html).not.toContain("<style");
    }
  });

  test("leads only to addresses that answer", async () => {
    const html = await (await app.get("/seasons/bare-farm")).text();
    const links = [...html.matchAll(/<a [^>]*href="(\/[^"]*)"/g)].map(([, link]) => link!);
    expect(links).toContain("/seasons/bare-farm");
    for (const link of links) expect([link, (await app.get(link)).status]).toEqual([link, 200]);
  });

  test("names its print sheet for paper only", async () => {
    const html = await (await app.get("/seasons/bare-farm")).text();
    expect(html).toContain('<link rel="stylesheet" href="/assets/print.css" media="print"/>');
  });

  test("a missing one says in words what is wrong and leads back", async () => {
    const answer = await app.get("/seasons/no-such-farm");
    expect(answer.status).toBe(404);
    const html = await answer.text();
    expect(html).toContain("There is no season of this name here.");
    expect(html).toContain('href="/"');
  });
});

describe("the browser's files", () => {
  test("may be kept for good, for their names change with their content", async () => {
    const answer = await app.get("/assets/client.js");
    expect(answer.headers.get("content-type")).toBe("text/javascript");
    expect(answer.headers.get("cache-control")).toContain("immutable");
  });

  test("nothing outside the bundle can be read", async () => {
    for (const name of ["manifest.json", "..%2Fdeno.json", "%2e%2e/deno.json"]) {
      expect((await app.get(`/assets/${name}`)).status).toBe(404);
    }
  });
});
