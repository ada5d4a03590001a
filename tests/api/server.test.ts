import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { openStore } from "../../routes/_store/open.ts";
import { bareSeason } from "../_support/bare-season.ts";
import { taskArguments } from "../_support/process.ts";
import { startServer } from "../_support/server.ts";

let folder: string;
beforeEach(() => void (folder = Deno.makeTempDirSync()));
afterEach(() => Deno.removeSync(folder, { recursive: true }));

const DEMO = "/seasons/tern-and-furrow";

describe("the start command's server", () => {
  test("shows the demo farm within two seconds of being up, with its own few permissions", async () => {
    const server = await startServer(folder);
    try {
      const began = performance.now();
      const answer = await fetch(`${server.origin}/`);
      const html = await answer.text();
      expect([answer.status, answer.url]).toEqual([200, `${server.origin}${DEMO}`]);
      expect(html).toContain("Tern &amp; Furrow");
      expect(performance.now() - began).toBeLessThan(2000);
      for (const [, path] of html.matchAll(/(?:src|href)="(\/assets\/[^"]+)"/g)) {
        expect([path, (await fetch(server.origin + path)).status]).toEqual([path, 200]);
      }
    } finally {
      expect(await server.stop()).toBe(0);
    }
  });

  test("that is killed keeps what it acknowledged, and plans again what it was planning", async () => {
    const first = await startServer(folder);
    const headers = { "content-type": "application/json" };
    const stored = await fetch(`${first.origin}/api/seasons`, {
      method: "POST",
      headers,
      body: JSON.stringify(bareSeason),
    });
    expect(stored.status).toBe(201);
    await (await fetch(`${first.origin}${DEMO}`)).text();
    await first.kill();

    const second = await startServer(folder);
    try {
      expect((await fetch(`${second.origin}/api/seasons/bare-farm`)).status).toBe(200);
      expect(await (await fetch(`${second.origin}${DEMO}`)).text()).toContain("Planning: ");
    } finally {
      await second.stop();
    }
    const store = openStore(`${folder}/rickyard.sqlite`);
    const reasons = store.prepare("SELECT reason FROM plan WHERE state = 'failed'").all();
    store.close();
    expect(reasons.map(({ reason }) => reason)).toContain(
      "The server stopped while this plan was being made.",
    );
  });

  test("refuses a port that is none, in words", async () => {
    const args = taskArguments("start");
    const { code, stderr } = await new Deno.Command(Deno.execPath(), { args, env: { PORT: "http" } })
      .output();
    expect(code).toBe(1);
    expect(new TextDecoder().decode(stderr)).toContain('PORT is "http", which is no port.');
  });
});
