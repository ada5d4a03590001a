import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { microSeason } from "../../core/generate/micro.ts";
import type { Season } from "../../core/season/season.ts";
import { EXIT, Stop } from "../../routes/_commands/exit.ts";
import { readSeasonFile } from "../../routes/_commands/season.ts";
import { GAPS } from "../_campaigns/fuzz/gaps.ts";
import { openTestApp } from "../_support/app.ts";
import { demoSeason } from "../_support/demo.ts";
import { runTask } from "../_support/process.ts";

let folder: string;
beforeEach(() => void (folder = Deno.makeTempDirSync()));
afterEach(() => Deno.removeSync(folder, { recursive: true }));

// deno-lint-ignore no-explicit-any
type Loose = any;

/** A change for each kind of mistake, and the code of its finding. */
const MISTAKES: readonly [code: string, change: (file: Loose) => void][] = [
  ["newer-version", (file) => file.version = 2],
  ["unknown-field", (file) => file.colour = "red"],
  ["missing-field", (file) => delete file.lots[0].crop],
  ["absurd-value", (file) => file.opening.grain[0].massG = 5e12],
  ["outside-horizon", (file) => file.brews.at(-1).on = file.brews.at(-1).latest = "2031-02-03"],
  ["lot-cycle", (file) => file.lots[0].parents = [{ kind: "lot", lotId: file.lots[0].id, massG: 1 }]],
  ["same-weight-twice", (file) => {
    file.stores.push({ ...file.stores[0], id: "bin-again" });
    file.opening.grain.push({ ...file.opening.grain[0], storeId: "bin-again" });
  }],
  ["horizon-too-long", (file) => file.horizonEnd = "2031-01-01"],
  ["duplicate-id", (file) => file.tanks[1].id = file.tanks[0].id],
];

function changed(season: Season, change: (file: Loose) => void): Loose {
  const file = structuredClone(season);
  change(file);
  return file;
}

describe("the plan command", () => {
  const write = (content: unknown) => {
    const path = `${folder}/season.json`;
    Deno.writeTextFileSync(path, typeof content === "string" ? content : JSON.stringify(content));
    return path;
  };
  const left = () => [...Deno.readDirSync(folder)].map(({ name }) => name);

  test.each(MISTAKES.slice(2, 6))(
    "1: the demo with %s names the thing, the field and the way out",
    async (_, change) => {
      const path = write(changed(demoSeason(), change));
      const { code, out, err } = await runTask("plan", path, "--out", `${folder}/plan.json`);
      expect([code, out]).toEqual([1, ""]);
      expect(err).toMatch(/^error: (lot|grain in store|brew) .+ \/[a-z/]+\/\d.*: .+\. .+[.?]$/m);
      expect(err).toMatch(/No plan was made\.$/m);
      expect(left()).toEqual(["season.json"]);
    },
  );

  test.each([
    "",
    "{",
    "not json",
    '{"format": NaN}',
    '\u0000{"a":1}',
    "[1,2",
    '{"a":1}}',
    "{'a':1}",
    '{"a":+1}',
  ])(
    "3: %j is not JSON",
    async (text) => {
      const stopped = await readSeasonFile(write(text), EXIT.seasonErrors).catch((stop) => stop);
      expect(stopped).toBeInstanceOf(Stop);
      expect(stopped).toMatchObject({ exit: 3, message: expect.stringContaining("is not JSON") });
    },
  );

  test.each(["", "{"])("3: the command itself says so of %j, and writes nothing", async (text) => {
    const { code, out, err } = await runTask("plan", write(text), "--out", `${folder}/plan.json`);
    expect([code, out]).toEqual([3, ""]);
    expect(err).toContain("is not JSON");
    expect(left()).toEqual(["season.json"]);
  });

  test("1: lists without end inside each other are told in words, not by a crash", async () => {
    const deep = "[".repeat(100_000) + "]".repeat(100_000);
    const text = JSON.stringify(demoSeason()).replace('"lots":[', `"lots":[${deep},`);
    const { code, err } = await runTask("plan", write(text));
    expect(code).toBe(1);
    expect(err).toMatch(/^error: .+ \/lots\/0: /m);
  });

  test("0: an empty farm is warned of all it lacks, and planned", async () => {
    const { code, err } = await runTask("plan", "data-demo/empty-farm.json", "--out", `${folder}/plan.json`);
    expect(code, err).toBe(0);
    for (const words of ["is no grain", "are no brews", "are no fields", "is no vessel", "is no fermenter"]) {
      expect(err).toMatch(new RegExp(`^warning: .*There ${words}`, "m"));
    }
    expect(left()).toEqual(["plan.json"]);
    const verified = await runTask("verify", "data-demo/empty-farm.json", `${folder}/plan.json`);
    expect(verified.code).toBe(0);
  });

  test("0: a small farm without brews is warned and planned", async () => {
    const path = write(changed(microSeason(2, "plain"), GAPS["no-brews"]));
    const { code, err } = await runTask("plan", path, "--out", `${folder}/plan.json`);
    expect(code, err).toBe(0);
    expect(err).toMatch(/^warning: /m);
    expect((await runTask("verify", path, `${folder}/plan.json`)).code).toBe(0);
  });
});

describe("a season file sent to the server", () => {
  test.each(MISTAKES)("with %s is refused with the finding, and nothing is stored", async (code, change) => {
    const app = openTestApp();
    const file = changed(demoSeason(), change);
    const answer = await app.send("POST", "/api/seasons", file);
    expect(answer.status).toBe(422);
    const { findings } = await answer.json();
    const found = findings.find((one: Loose) => one.code === code);
    for (const name of ["thing", "field", "value", "limit", "message", "wayOut"]) {
      expect(typeof found[name]).toBe("string");
    }
    expect((await app.get(`/api/seasons/${file.id}`)).status).toBe(404);
    app.parts.close();
  });

  test.each(Object.entries(GAPS))("with %s is stored, with its warning", async (code, change) => {
    const app = openTestApp();
    const file = changed(demoSeason(), change);
    const answer = await app.send("POST", "/api/seasons", file);
    expect(answer.status).toBe(201);
    const { findings } = await answer.json();
    expect(findings).toContainEqual(expect.objectContaining({ level: "warning", code }));
    expect((await app.get(`/api/seasons/${file.id}`)).status).toBe(200);
    app.parts.close();
  });

  test("a season that is stored stands as it was when a bad one is sent over it", async () => {
    const app = openTestApp();
    const sound = demoSeason();
    await app.send("POST", "/api/seasons", sound);
    for (const [, change] of MISTAKES) {
      expect((await app.send("PUT", `/api/seasons/${sound.id}`, changed(sound, change))).status).toBe(422);
    }
    const stored = await app.get(`/api/seasons/${sound.id}`);
    expect(stored.headers.get("etag")).toBe('"1"');
    expect(await stored.json()).toEqual(sound);
    app.parts.close();
  });
});
