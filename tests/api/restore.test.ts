import { DatabaseSync } from "node:sqlite";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { formatOf } from "../../routes/_store/identity.ts";
import { openStore } from "../../routes/_store/open.ts";
import { insertSeason } from "../../routes/_store/seasons.ts";
import { bareSeason } from "../_support/bare-season.ts";
import { type Content, contentOf, FORMATS, writeOldStore } from "../_support/old-store.ts";
import { type Ended, runTaskIn, taskArgumentsIn } from "../_support/process.ts";
import { startServer } from "../_support/server.ts";

const AT = "2027-01-18T07:00:00.000Z";

let folder: string;
let path: string;
let copy: string;
beforeEach(() => {
  folder = Deno.makeTempDirSync();
  path = `${folder}/rickyard.sqlite`;
  copy = `${folder}/copy.sqlite`;
});
afterEach(() => Deno.removeSync(folder, { recursive: true }));

const backup = (...args: string[]) => runTaskIn(folder, "backup", ...args);
const restore = (...args: string[]) => runTaskIn(folder, "restore", ...args);
const names = () => [...Deno.readDirSync(folder)].map(({ name }) => name).sort();
/** The store that a restore has kept. */
const kept = () =>
  `${folder}/${names().find((name) => /^rickyard-before-restore-[\d-]+\.sqlite$/.test(name))}`;

/** Makes a store with one season of this name, with `bytes` of ballast in it. */
function makeStore(at: string, id: string, bytes = 10): void {
  const store = openStore(at);
  insertSeason(store, { id, document: JSON.stringify("x".repeat(bytes)), hash: "", at: AT }, {
    author: "a",
    reason: "",
  });
  store.close();
}

/** The ids of the seasons in a store. Throws when it is not sound. */
function seasonsIn(at: string): unknown[] {
  const store = new DatabaseSync(at);
  try {
    expect(store.prepare("PRAGMA integrity_check").get()?.integrity_check).toBe("ok");
    return store.prepare("SELECT id FROM season ORDER BY id").all().map(({ id }) => id);
  } finally {
    store.close();
  }
}

function read(at: string): Content {
  const store = new DatabaseSync(at);
  try {
    return contentOf(store);
  } finally {
    store.close();
  }
}

describe("backup", () => {
  test("copies the store of a running server, with all it has acknowledged, into the folder of copies", async () => {
    const server = await startServer(folder);
    try {
      const sent = await fetch(`${server.origin}/api/seasons`, {
        method: "POST",
        headers: { "content-type": "application/json" },
        body: JSON.stringify(bareSeason),
      });
      expect(sent.status).toBe(201);
      const { code, out, err } = await backup();
      expect([code, err]).toEqual([0, ""]);
      const file = /^Copied to (.+), and checked\.$/m.exec(out)?.[1] ?? "";
      expect(file).toMatch(/\/copies\/rickyard-\d{4}-\d{2}-\d{2}-\d{6}\.sqlite$/);
      expect(out).toContain(`deno task restore ${file}`);
      expect(seasonsIn(file)).toEqual(["bare-farm", "tern-and-furrow"]);
      expect(await fetch(`${server.origin}/copies`).then((answer) => answer.text())).toContain("hand");
    } finally {
      await server.stop();
    }
  });

  test("takes a name, and overwrites nothing", async () => {
    makeStore(path, "one");
    expect(await backup(copy)).toMatchObject({ code: 0 });
    expect(seasonsIn(copy)).toEqual(["one"]);
    const before = Deno.readFileSync(copy);
    const again = await backup(copy);
    expect([again.code, again.out]).toEqual([1, ""]);
    expect(again.err).toContain("a copy overwrites nothing");
    expect(Deno.readFileSync(copy)).toEqual(before);
    expect(names()).toEqual(["copy.sqlite", "rickyard.sqlite"]);
  });

  test("changes nothing in a store of an older format", async () => {
    writeOldStore(path, 1);
    await backup(copy);
    for (const at of [path, copy]) {
      const store = new DatabaseSync(at);
      expect(formatOf(store)).toBe(1);
      store.close();
    }
  });

  test("ends with 1 when there is no store or no such folder, and with 3 when it is used wrongly", async () => {
    expect(await backup()).toMatchObject({ code: 1, err: expect.stringContaining("There is no store at") });
    makeStore(path, "one");
    expect(await backup(`${folder}/nowhere/copy.sqlite`)).toMatchObject({
      code: 1,
      err: expect.stringContaining("Where: "),
    });
    expect(await backup("a", "b")).toMatchObject({
      code: 3,
      err: expect.stringContaining("Use: deno task backup"),
    });
    expect(names()).toEqual(["rickyard.sqlite"]);
  });
});

describe("restore", () => {
  test("puts the copy in the store's place, keeps the store of before, and says the way back", async () => {
    makeStore(path, "new");
    makeStore(copy, "old");
    const { code, out, err } = await restore(copy);
    expect([code, err]).toEqual([0, ""]);
    expect([seasonsIn(path), seasonsIn(copy), seasonsIn(kept())]).toEqual([["old"], ["old"], ["new"]]);
    expect(out).toContain(`The store ${path} is now what ${copy} holds.`);
    expect(out).toContain(`The way back to it: deno task restore ${kept()}`);
    const back = kept();
    await new Promise((resolve) => setTimeout(resolve, 1000));
    expect(await restore(back)).toMatchObject({ code: 0 });
    expect(seasonsIn(path)).toEqual(["new"]);
    expect(names().filter((name) => name.startsWith("."))).toEqual([]);
  });

  test("keeps what a killed server had only in its log", async () => {
    makeStore(copy, "old");
    const server = await startServer(folder);
    await fetch(`${server.origin}/api/seasons`, {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify(bareSeason),
    }).then((answer) => answer.body?.cancel());
    await server.kill();
    expect(Deno.statSync(`${path}-wal`).size).toBeGreaterThan(0);
    expect(await restore(copy)).toMatchObject({ code: 0 });
    expect(seasonsIn(kept())).toContain("bare-farm");
    expect(seasonsIn(path)).toEqual(["old"]);
  });

  test("refuses while a server runs, and changes nothing", async () => {
    makeStore(copy, "old");
    const server = await startServer(folder);
    try {
      const { code, out, err } = await restore(copy);
      expect([code, out]).toEqual([1, ""]);
      expect(err).toContain("A Rickyard server is running on this folder");
      expect((await fetch(`${server.origin}/seasons/tern-and-furrow`)).status).toBe(200);
    } finally {
      await server.stop();
    }
    expect(names()).not.toContainEqual(expect.stringContaining("before-restore"));
  });

  test("keeps a damaged store as it is, with its log", async () => {
    makeStore(copy, "old");
    const garbage = crypto.getRandomValues(new Uint8Array(20_000));
    Deno.writeFileSync(path, garbage);
    Deno.writeTextFileSync(`${path}-wal`, "log");
    const { code, out } = await restore(copy);
    expect(code).toBe(0);
    expect(out).toContain("The store of before is damaged; it is kept as it was:");
    expect(Deno.readFileSync(kept())).toEqual(garbage);
    expect(Deno.readTextFileSync(`${kept()}-wal`)).toBe("log");
    expect(seasonsIn(path)).toEqual(["old"]);
  });

  test("keeps a store that is damaged in its middle", async () => {
    makeStore(copy, "old");
    makeStore(path, "new", 100_000);
    const file = Deno.openSync(path, { write: true });
    file.seekSync(50 * 1024, Deno.SeekMode.Start);
    file.writeSync(new Uint8Array(8192).fill(0x5a));
    file.close();
    expect(await restore(copy)).toMatchObject({ code: 0, out: expect.stringContaining("is damaged") });
    expect(Deno.statSync(kept()).size).toBeGreaterThan(100_000);
    expect(seasonsIn(path)).toEqual(["old"]);
  });

  test("brings a copy of an older format on, and the file stays as it is", async () => {
    const before = writeOldStore(copy, 1);
    const bytes = Deno.readFileSync(copy);
    expect(await restore(copy)).toMatchObject({
      code: 0,
      out: expect.stringContaining("There was no store before."),
    });
    const after = read(path);
    expect(after.season).toEqual(before.season?.map((row) => expect.objectContaining(row)));
    expect(after.plan).toEqual(before.plan?.map((row) => expect.objectContaining(row)));
    const store = new DatabaseSync(path);
    expect(formatOf(store)).toBe(FORMATS);
    store.close();
    expect(Deno.readFileSync(copy)).toEqual(bytes);
  });

  test("leaves nothing of the store of before beside the new one, which would be taken for its own", async () => {
    makeStore(path, "new");
    makeStore(copy, "old");
    const store = new DatabaseSync(path);
    store.exec("PRAGMA journal_mode = DELETE");
    store.close();
    // A journal that a killed program had only begun: SQLite passes over it, and leaves it.
    Deno.writeFileSync(`${path}-journal`, new Uint8Array(600));
    expect(await restore(copy)).toMatchObject({ code: 0 });
    expect(names().filter((name) => name.startsWith("rickyard.sqlite"))).toEqual(["rickyard.sqlite"]);
    expect(seasonsIn(path)).toEqual(["old"]);
  });

  test("takes a copy made by hand together with the log beside it", async () => {
    const store = openStore(`${folder}/live.sqlite`);
    insertSeason(store, { id: "in-log", document: "{}", hash: "", at: AT }, { author: "a", reason: "" });
    for (const end of ["", "-wal"]) Deno.copyFileSync(`${folder}/live.sqlite${end}`, copy + end);
    store.close();
    expect(await restore(copy)).toMatchObject({ code: 0 });
    expect(seasonsIn(path)).toEqual(["in-log"]);
  });
});

describe("restore refuses in words what it cannot put in the store's place, and leaves everything as it is", () => {
  const change = (sql: string) => () => {
    makeStore(copy, "old", 50_000);
    const store = new DatabaseSync(copy);
    store.exec(`PRAGMA foreign_keys = OFF; ${sql}`);
    store.close();
  };
  const overwrite = (from: number) => () => {
    makeStore(copy, "old", 100_000);
    const file = Deno.openSync(copy, { write: true });
    file.seekSync(from, Deno.SeekMode.Start);
    file.writeSync(new Uint8Array(8192).fill(0x5a));
    file.close();
  };
  test.each<[string, () => void, RegExp]>([
    ["nothing at all", () => {}, /There is nothing at this place/],
    ["a text", () => Deno.writeTextFileSync(copy, "Dear diary. ".repeat(500)), /is no SQLite file/],
    ["an empty file", () => Deno.writeTextFileSync(copy, ""), /is empty/],
    ["a folder", () => Deno.mkdirSync(copy), /cannot be restored/],
    ["a damaged head", overwrite(0), /is no SQLite file/],
    ["a damaged middle", overwrite(48 * 1024), /The store is damaged/],
    [
      "a broken reference",
      change(
        "UPDATE season SET id = 'x'; INSERT INTO plan (season_id, season_revision, " +
          "season_hash, state, started) VALUES ('gone', 1, '', 'solving', '')",
      ),
      /The store is damaged/,
    ],
    ["a newer format", change("PRAGMA user_version = 99"), /has format 99/],
    ["another program's file", change("PRAGMA application_id = 5"), /belongs to another program/],
  ])("%s", async (_, make, words) => {
    makeStore(path, "mine");
    const before = Deno.readFileSync(path);
    make();
    const { code, out, err } = await restore(copy);
    expect([code, out]).toEqual([1, ""]);
    expect(err).toMatch(words);
    expect(err).toContain("The present store is as it was.");
    expect(Deno.readFileSync(path)).toEqual(before);
    expect(names().filter((name) => !name.startsWith("copy."))).toEqual(["rickyard.lock", "rickyard.sqlite"]);
  });

  test("the store itself, and wrong use", async () => {
    makeStore(path, "mine");
    expect(await restore(path)).toMatchObject({
      code: 1,
      err: expect.stringContaining("is the store itself"),
    });
    expect(await restore()).toMatchObject({
      code: 3,
      err: expect.stringContaining("Use: deno task restore FILE"),
    });
    expect(seasonsIn(path)).toEqual(["mine"]);
  });
});

test("a restore that is killed at any moment leaves the old store or the new one, whole", async () => {
  makeStore(path, "new", 8_000_000);
  makeStore(copy, "old", 8_000_000);
  const seen = new Set<unknown>();
  for (const wait of [180, 250, 310, 400]) {
    const child = new Deno.Command(Deno.execPath(), {
      args: [...taskArgumentsIn(folder, "restore"), copy],
      env: { RICKYARD_DATA: folder },
      stdin: "null",
      stdout: "null",
      stderr: "null",
    }).spawn();
    await new Promise((resolve) => setTimeout(resolve, wait));
    try {
      child.kill("SIGKILL");
    } catch { /* It had ended already. */ }
    await child.status;
    const [id] = seasonsIn(path);
    expect(["old", "new"]).toContain(id);
    seen.add(id);
    if (id === "old") {
      Deno.removeSync(path);
      makeStore(path, "new", 8_000_000);
    }
  }
  const ended: Ended = await restore(copy);
  expect([ended.code, ended.err, seasonsIn(path)]).toEqual([0, "", ["old"]]);
  expect(names().filter((name) => name.startsWith("."))).toEqual([]);
});
