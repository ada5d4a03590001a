import { DatabaseSync } from "node:sqlite";
import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { type Season, seasonSchema } from "../../core/season/season.ts";
import { failPlan, startPlan } from "../../routes/_store/plans.ts";
import { folderTrouble, storeTrouble } from "../../routes/_store/trouble.ts";
import { openTestApp, type TestApp } from "../_support/app.ts";
import { bareSeason } from "../_support/bare-season.ts";
import { demoFile } from "../_support/demo.ts";
import { emptyPlan } from "../_support/empty-plan.ts";

let folder: string;
let path: string;
beforeEach(() => {
  folder = Deno.makeTempDirSync();
  path = `${folder}/store.sqlite`;
  vi.spyOn(console, "error").mockImplementation(() => {});
});
afterEach(() => {
  vi.restoreAllMocks();
  Deno.removeSync(folder, { recursive: true });
});

/** What `work` throws. */
function caught(work: () => unknown): unknown {
  try {
    work();
  } catch (error) {
    return error;
  }
  throw new Error("Nothing was thrown.");
}

/** A database with one table of a few pages. */
function someDatabase(): DatabaseSync {
  const store = new DatabaseSync(path);
  store.exec("CREATE TABLE t (a); INSERT INTO t VALUES (randomblob(20000))");
  return store;
}

const kindOf = (error: unknown) => storeTrouble(error, path)?.kind;

describe("what SQLite throws is told in words", () => {
  test("a full disk, whether a prepared statement meets it or a script", () => {
    const store = someDatabase();
    store.exec("PRAGMA max_page_count = 1");
    const sql = "INSERT INTO t VALUES (randomblob(100000))";
    expect(kindOf(caught(() => store.exec(sql)))).toBe("full");
    expect(kindOf(caught(() => store.prepare(sql).run()))).toBe("full");
    store.close();
  });

  test("a store that cannot be written", () => {
    someDatabase().close();
    const store = new DatabaseSync(path, { readOnly: true });
    expect(kindOf(caught(() => store.exec("DELETE FROM t")))).toBe("readonly");
    store.close();
  });

  test("a store that somebody else holds", () => {
    const [one, other] = [someDatabase(), new DatabaseSync(path, { timeout: 1 })];
    one.exec("BEGIN EXCLUSIVE");
    expect(kindOf(caught(() => other.exec("BEGIN IMMEDIATE")))).toBe("busy");
    one.close();
    other.close();
  });

  test("a file that is no database, and one that is damaged", () => {
    Deno.writeTextFileSync(path, "Dear diary, ".repeat(100));
    const text = new DatabaseSync(path);
    expect(kindOf(caught(() => text.exec("SELECT * FROM sqlite_schema")))).toBe("not a store");
    text.close();
    Deno.removeSync(path);
    someDatabase().close();
    const file = Deno.openSync(path, { write: true });
    file.seekSync(4096, Deno.SeekMode.Start);
    file.writeSync(new Uint8Array(8192).fill(255));
    file.close();
    const store = new DatabaseSync(path);
    expect(kindOf(caught(() => store.prepare("SELECT a FROM t").all()))).toBe("damaged");
    store.close();
  });

  test("a file that cannot be opened", () => {
    expect(kindOf(caught(() => new DatabaseSync(`${folder}/nowhere/store.sqlite`)))).toBe("cannot open");
  });

  test("a broken rule of the tables, and any other error, is none of these", () => {
    const store = new DatabaseSync(":memory:");
    store.exec("CREATE TABLE t (a CHECK (a > 0))");
    expect(kindOf(caught(() => store.exec("INSERT INTO t VALUES (0)")))).toBeUndefined();
    expect(kindOf(caught(() => store.exec("INSERT INTO nowhere VALUES (0)")))).toBeUndefined();
    expect(kindOf(new Error("database or disk is full"))).toBeUndefined();
    store.close();
  });
});

test.each([
  [new Deno.errors.PermissionDenied("x"), "denied"],
  [new Deno.errors.NotCapable("x"), "not allowed"],
  [new Deno.errors.NotFound("x"), "missing"],
  [new Deno.errors.NotADirectory("x"), "not a folder"],
  [Object.assign(new Error("x"), { code: "ENOSPC" }), "full"],
  [Object.assign(new Error("x"), { code: "EROFS" }), "readonly"],
])("what the operating system says of a folder is told in words: %o", (error, kind) => {
  expect(folderTrouble(error, "/farm")).toMatchObject({ kind, trouble: { where: "/farm" } });
  // A page's own missing file must not be told as trouble with the store.
  expect(storeTrouble(error, "/farm")).toBeNull();
});

describe("while the server runs", () => {
  const season: Season = seasonSchema.parse(bareSeason);
  const year = `/seasons/${season.id}`;
  let app: TestApp;
  beforeEach(async () => {
    app = openTestApp(path);
    await app.send("POST", "/api/seasons", bareSeason);
  });
  afterEach(() => app.parts.close());

  const large = demoFile();
  const fill = () => app.parts.store.exec("PRAGMA max_page_count = 1");
  const makeRoom = () => app.parts.store.exec("PRAGMA max_page_count = 1000000");
  const send = () => app.send("POST", "/api/seasons", large);

  test("a full disk is a 507 in words; nothing of the edit is stored, and with room it goes on", async () => {
    fill();
    const answer = await send();
    expect(answer.status).toBe(507);
    const { error } = await answer.json();
    expect(error).toMatchObject({
      what: expect.stringContaining("disk is full"),
      where: "POST /api/seasons",
      whatToDo: expect.stringMatching(
        /^Nothing of this edit was stored; what was stored before is safe\. Make room/,
      ),
    });
    expect((await app.get("/api/seasons/tern-and-furrow")).status).toBe(404);
    expect((await app.get(`/api/seasons/${season.id}`)).status).toBe(200);
    makeRoom();
    expect((await send()).status).toBe(201);
  });

  test("a store that cannot be written is a 503 in words", async () => {
    app.parts.store.exec("PRAGMA query_only = ON");
    const answer = await send();
    expect([answer.status, (await answer.json()).error.what]).toEqual([
      503,
      expect.stringContaining("not written"),
    ]);
  });

  test("a damaged store is a page that shows the way back to a copy and does not say that all is safe", async () => {
    vi.spyOn(app.parts.store, "prepare").mockImplementation(() => {
      throw Object.assign(new Error("database disk image is malformed"), { code: "ERR_SQLITE_ERROR" });
    });
    const answer = await app.get(year);
    const html = await answer.text();
    expect(answer.status).toBe(503);
    expect(html).toContain("The store is damaged.");
    expect(html).toContain("deno task restore FILE");
    expect(html).not.toContain("is safe");
  });

  test("a plan that cannot be begun is told on the page, and is begun when it is asked for again", async () => {
    app.parts.store.exec("PRAGMA query_only = ON");
    await app.get(year);
    expect(await (await app.get(year)).text()).toContain(
      "The plan was not stored. The store can be read, but",
    );
    expect(app.thread.orders).toHaveLength(0);
    app.parts.store.exec("PRAGMA query_only = OFF");
    await app.press(`${year}/plan`);
    expect(await (await app.get(year)).text()).toContain("Planning: ");
    expect(app.thread.orders).toHaveLength(1);
  });

  test("a plan that cannot be stored for want of room is told on the page, and can be made again", async () => {
    const plan = await emptyPlan(season);
    // An earlier plan's reason takes the room that the new plan's row would find in its page.
    failPlan(
      app.parts.store,
      startPlan(app.parts.store, { id: season.id, revision: 1, hash: "" }, ""),
      "x".repeat(3300),
      "",
    );
    await app.get(year);
    fillToTheBrim(app.parts.store);
    await app.thread.end({ kind: "planned", plan });
    expect(await (await app.get(year)).text()).toContain("The plan was not stored. The disk is full");
    expect((await app.get(`/api/seasons/${season.id}/plan`)).status).toBe(404);
    makeRoom();
    await app.press(`${year}/plan`);
    await app.thread.end({ kind: "planned", plan });
    expect(await (await app.get(`/api/seasons/${season.id}/plan`)).json()).toEqual(plan);
    expect(await (await app.get(year)).text()).not.toContain("was not stored");
  });
});

/** Leaves the store no page and no room in the pages it has. */
function fillToTheBrim(store: DatabaseSync): void {
  store.exec("CREATE TABLE brim (a); PRAGMA max_page_count = 1");
  const row = store.prepare("INSERT INTO brim VALUES (randomblob(50))");
  expect(kindOf(caught(() => {
    for (;;) row.run();
  }))).toBe("full");
}
