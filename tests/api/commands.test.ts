import { afterEach, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { planSchema } from "../../core/plan/plan.ts";
import { bareSeason } from "../_support/bare-season.ts";
import { runTask, taskArguments } from "../_support/process.ts";

let folder: string;
let season: string;
let plan: string;
/** A plan of the bare farm as the command prints it. */
let made: string;

beforeAll(async () => {
  const folder = Deno.makeTempDirSync();
  write(`${folder}/season.json`, bareSeason);
  made = (await runTask("plan", `${folder}/season.json`, "--json")).out;
  Deno.removeSync(folder, { recursive: true });
});
beforeEach(() => {
  folder = Deno.makeTempDirSync();
  season = `${folder}/season.json`;
  plan = `${folder}/plan.json`;
  write(season, bareSeason);
});
afterEach(() => Deno.removeSync(folder, { recursive: true }));

const write = (path: string, content: unknown) => Deno.writeTextFileSync(path, JSON.stringify(content));
const read = (path: string) => JSON.parse(Deno.readTextFileSync(path));
const names = () => [...Deno.readDirSync(folder)].map(({ name }) => name).sort();

describe("plan", () => {
  test("0: prints the summary, and nothing of its progress among it", async () => {
    const { code, out, err } = await runTask("plan", season);
    expect(code, err).toBe(0);
    expect(out).toMatch(/\S/);
    expect(out).toMatch(/^Proven: no plan makes more brews/m);
    expect(err).toMatch(/^searching: \d+ %$/m);
    expect(out).not.toMatch(/^(naive|searching|weighing|proving)/m);
  });

  test("0: the same season and seed give the same plan, byte for byte, as JSON and as a file", async () => {
    const printed = await runTask("plan", season, "--seed", "7", "--json");
    const written = await runTask("plan", season, "--seed", "7", "--out", plan);
    expect([printed.code, written.code]).toEqual([0, 0]);
    expect(printed.out).toBe(Deno.readTextFileSync(plan));
    expect(planSchema.parse(read(plan))).toMatchObject({ seasonId: "bare-farm", seed: 7 });
    expect(names()).toEqual(["plan.json", "season.json"]);
  });

  test("0: a plan that starts from an earlier one; 3: from something that is no plan", async () => {
    Deno.writeTextFileSync(plan, made);
    const again = await runTask("plan", season, "--from", plan, "--json");
    expect([again.code, planSchema.parse(JSON.parse(again.out)).goals]).toEqual([0, read(plan).goals]);
    const none = await runTask("plan", season, "--from", season);
    expect([none.code, none.out, none.err]).toEqual([3, "", expect.stringContaining("is not a plan file")]);
  });

  test("1: a season with errors names each of them, and no plan is written", async () => {
    write(season, { ...bareSeason, asOf: "yesterday" });
    const { code, out, err } = await runTask("plan", season, "--out", plan);
    expect(code).toBe(1);
    expect(out).toBe("");
    expect(err).toMatch(/^error: .*asOf.*\(found "?yesterday"?; limit: .+\) .+$/m);
    expect(names()).toEqual(["season.json"]);
  });

  test.each([
    ["no file", []],
    ["a file that is not there", ["nowhere.json"]],
    ["two files", ["a.json", "b.json"]],
    ["an option that is none", ["a.json", "--fast"]],
    ["a seed that is none", ["a.json", "--seed", "x"]],
    ["two ways out", ["a.json", "--json", "--out", "b.json"]],
  ])("3: %s", async (_, args) => {
    const { code, out, err } = await runTask("plan", ...args);
    expect([code, out]).toEqual([3, ""]);
    expect(err).toMatch(/Use: deno task plan|cannot be read/);
  });

  test("3: a file that is not JSON, and a folder that cannot be written", async () => {
    Deno.writeTextFileSync(season, "{");
    expect(await runTask("plan", season)).toMatchObject({
      code: 3,
      err: expect.stringContaining("is not JSON"),
    });
    write(season, bareSeason);
    const out = `${folder}/no-such-folder/plan.json`;
    expect(await runTask("plan", season, "--out", out)).toMatchObject({ code: 3 });
  });

  test("4: stopped while planning, it leaves nothing half-written", async () => {
    const args = [...taskArguments("plan"), "data-demo/tern-and-furrow.json", "--out", plan];
    const child = new Deno.Command(Deno.execPath(), { args, stdin: "null", stdout: "null", stderr: "piped" })
      .spawn();
    const reader = child.stderr.pipeThrough(new TextDecoderStream()).getReader();
    // The first word of progress says that the planner is at work.
    await reader.read();
    child.kill("SIGINT");
    expect((await child.status).code).toBe(4);
    await reader.cancel();
    expect(names()).toEqual(["season.json"]);
  });
});

describe("verify", () => {
  beforeEach(() => Deno.writeTextFileSync(plan, made));

  test("0: a plan that holds", async () => {
    expect(await runTask("verify", season, plan)).toMatchObject({ code: 0 });
  });

  test("1: a plan that was tampered with, and the breach is named", async () => {
    const made = read(plan);
    write(plan, { ...made, goals: { ...made.goals, moneyCents: made.goals.moneyCents + 1 } });
    const { code, out } = await runTask("verify", season, plan);
    expect(code).toBe(1);
    expect(out).toMatch(/^breach of \S/m);
  });

  test("2: what another version proved and this one cannot is not taken for checked; 1: by this one a false claim is named", async () => {
    const made = read(plan);
    const count = (most: number) => ({ most, proof: null });
    // Duals of nothing do not prove that every plan costs millions.
    const money = { leastCents: 1e9, fixedCents: 0, proof: { cuts: [], duals: [] } };
    const bound = {
      made: made.goals.made.map(count),
      promises: count(made.goals.promisesHeld),
      tail: count(made.goals.tailMade),
      money,
    };
    const brews = { ...made, bound, program: "0.0.9" };
    write(plan, brews);
    const other = await runTask("verify", season, plan);
    expect(other.code).toBe(2);
    expect(other.out).toContain("was proven by version 0.0.9 and cannot be recomputed by this one");
    write(plan, { ...brews, program: made.program });
    const same = await runTask("verify", season, plan);
    expect(same.out).not.toContain("was proven by version");
    expect(same.code).toBe(1);
  });

  test("3: a plan of the season as it was before a change", async () => {
    write(season, { ...bareSeason, horizonEnd: "2027-07-01" });
    const { code, err } = await runTask("verify", season, plan);
    expect(code).toBe(3);
    expect(err).toContain("is not a plan of this season");
  });

  test("3: a file that is no plan, and wrong use", async () => {
    expect(await runTask("verify", season, season)).toMatchObject({ code: 3 });
    expect(await runTask("verify", season)).toMatchObject({ code: 3 });
  });
});

test("schema prints the JSON Schema of the season file, with units", async () => {
  const { code, out } = await runTask("schema");
  expect(code).toBe(0);
  const schema = JSON.parse(out);
  expect(schema.required).toContain("roster");
  expect(schema.required).not.toContain("bookValues");
  expect(schema.properties.maltStore.properties.placeG).toMatchObject({ type: "integer", unit: "g" });
});
