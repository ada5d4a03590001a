import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { microSeason } from "../../core/generate/micro.ts";
import { caseOf, textOf } from "../_campaigns/fuzz/cases.ts";
import { baseOf } from "../_campaigns/fuzz/bases.ts";
import { openTestApp } from "../_support/app.ts";
import { bareSeason } from "../_support/bare-season.ts";
import { startServer, type TestServer } from "../_support/server.ts";

/** What the start command's server makes of bodies that are too large, of another kind, or not all there. */
describe("a body that is no season file", () => {
  let folder: string, server: TestServer;
  beforeAll(async () => {
    folder = Deno.makeTempDirSync();
    server = await startServer(folder);
  });
  afterAll(async () => {
    await server.stop();
    Deno.removeSync(folder, { recursive: true });
  });

  const MIB = 1024 * 1024;
  const spaces = new Uint8Array(MIB).fill(32);
  const post = (body: BodyInit | ReadableStream<Uint8Array>, type: string | null = "application/json") =>
    fetch(`${server.origin}/api/seasons`, {
      method: "POST",
      headers: type === null ? {} : { "content-type": type },
      body,
      redirect: "manual",
    });

  /** So many MiB without saying so beforehand; a sound season lies at the end of it. */
  function endless(mebibytes: number): ReadableStream<Uint8Array> {
    let sent = 0;
    return new ReadableStream({
      pull(to) {
        if (sent++ < mebibytes) return to.enqueue(spaces);
        to.enqueue(new TextEncoder().encode(JSON.stringify(bareSeason)));
        to.close();
      },
    });
  }

  async function expectTrouble(answer: Response, status: number, what: string): Promise<void> {
    expect(answer.status).toBe(status);
    const { error } = await answer.json();
    expect(error.what).toBe(what);
    for (const part of ["where", "whatToDo"]) expect(error[part]).toMatch(/\S/);
    await expectNothingStored();
  }
  async function expectNothingStored(): Promise<void> {
    const answer = await fetch(`${server.origin}/api/seasons/${bareSeason.id}`);
    expect(answer.status).toBe(404);
    await answer.body?.cancel();
  }

  test("11 MiB that say how long they are", async () => {
    const body = new Blob([...Array.from({ length: 11 }, () => spaces), JSON.stringify(bareSeason)]);
    await expectTrouble(await post(await body.bytes()), 413, "The season file is too large.");
  });

  test("11 MiB that do not say how long they are", async () => {
    await expectTrouble(await post(endless(11)), 413, "The season file is too large.");
  });

  test.each([["text/plain"], ["application/x-www-form-urlencoded"], ["multipart/form-data; boundary=x"], [
    "application/jsonp",
  ], ["text/json"]])("a body of type %s", async (type) => {
    await expectTrouble(await post(JSON.stringify(bareSeason), type), 415, "The API takes JSON only.");
  });

  test("a body without a type", async () => {
    const body = new TextEncoder().encode(JSON.stringify(bareSeason));
    await expectTrouble(await post(body, null), 415, "The API takes JSON only.");
  });

  test.each([
    ["none at all", ""],
    ["the first half of a season", JSON.stringify(bareSeason).slice(0, 200)],
    ["two seasons in one", JSON.stringify(bareSeason).repeat(2)],
    ["bytes that are no text", new Uint8Array([0xff, 0xfe, 0x7b, 0x00])],
    ["packed text", new Uint8Array([0x1f, 0x8b, 8, 0, 0, 0, 0, 0, 0, 3])],
  ])("a body of JSON that is %s", async (_, body) => {
    await expectTrouble(await post(body), 400, "The file is not JSON.");
  });

  /** Says that a season follows, sends the first bytes of it, and then `ends` the connection or waits for an answer. */
  async function sendHalf(text: string, end: "hang up" | "stop sending"): Promise<string> {
    const { port } = new URL(server.origin);
    const connection = await Deno.connect({ hostname: "127.0.0.1", port: Number(port) });
    const head =
      `POST /api/seasons HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\nContent-Type: application/json\r\n` +
      `Content-Length: ${text.length + 100}\r\n\r\n`;
    await connection.write(new TextEncoder().encode(head + text));
    if (end === "hang up") {
      connection.close();
      return "";
    }
    await connection.closeWrite();
    const answer = await new Response(connection.readable).text().catch(() => "");
    return answer;
  }

  test("a body that breaks off, by hanging up or by ending early", async () => {
    for (const part of [JSON.stringify(bareSeason), JSON.stringify(bareSeason).slice(0, 50), ""]) {
      await sendHalf(part, "hang up");
      expect(await sendHalf(part, "stop sending")).not.toMatch(/^HTTP\/1\.1 2/);
    }
    await expectNothingStored();
    // And the server goes on serving.
    const answer = await post(JSON.stringify(bareSeason));
    expect(answer.status).toBe(201);
    await answer.body?.cancel();
  });
});

test("corrupted files are refused or stored whole: what is stored is a season that can be read again", async () => {
  const app = openTestApp();
  const demo = baseOf("micro", microSeason(3, "plain"), true);
  const from = {
    demo,
    empty: baseOf("bare", bareSeason, true),
    micro: [demo, baseOf("micro", microSeason(4, "bins"), true)],
  };
  const statuses = new Map<number, number>();
  const stored = new Map<string, string>();
  for (let seed = 1; seed <= 150; seed++) {
    const answer = await app.send("POST", "/api/seasons", textOf(caseOf(seed, from)));
    const body = await answer.json();
    statuses.set(answer.status, (statuses.get(answer.status) ?? 0) + 1);
    expect([201, 400, 409, 422], `seed ${seed}`).toContain(answer.status);
    if (answer.status !== 201) {
      expect(body.error.what, `seed ${seed}`).toMatch(/\S/);
      if (answer.status === 422) expect(body.findings.length).toBeGreaterThan(0);
      continue;
    }
    const again = await (await app.get(`/api/seasons/${body.id}`)).text();
    expect(JSON.parse(again).id).toBe(body.id);
    stored.set(body.id, again);
    expect((await app.get(`/seasons/${body.id}`)).status, `seed ${seed}`).toBe(200);
  }
  expect(statuses.get(422)).toBeGreaterThan(40);
  expect(stored.size).toBeGreaterThan(0);
  // No refusal has touched what was stored before it.
  for (const [id, text] of stored) expect(await (await app.get(`/api/seasons/${id}`)).text()).toBe(text);
  app.parts.close();
});
