import { DatabaseSync } from "node:sqlite";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { formatOf } from "../../routes/_store/identity.ts";
import { migrate, MIGRATIONS, migrationsIn } from "../../routes/_store/migrate.ts";
import { openStore } from "../../routes/_store/open.ts";
import { latestSolved } from "../../routes/_store/plans.ts";
import { openTestApp } from "../_support/app.ts";
import { contentOf, FORMATS, writeOldStore } from "../_support/old-store.ts";

let folder: string;
let path: string;
beforeEach(() => {
  folder = Deno.makeTempDirSync();
  path = `${folder}/rickyard.sqlite`;
});
afterEach(() => Deno.removeSync(folder, { recursive: true }));

const formats = Array.from({ length: FORMATS }, (_, index) => index + 1);

describe.each(formats)("a store of format %i", (format) => {
  test("is brought to the newest format, and every row is still there", () => {
    const before = writeOldStore(path, format);
    const store = openStore(path);
    const after = contentOf(store);
    expect(formatOf(store)).toBe(FORMATS);
    store.close();
    expect(before.season).toHaveLength(2);
    expect(before.plan).toHaveLength(3);
    for (const [table, rows] of Object.entries(before)) {
      // A later format may give a row more columns, and takes none away.
      expect(after[table]).toEqual(rows.map((row) => expect.objectContaining(row)));
    }
  });

  test("is served: its seasons, its plan, and the plan that was cut off", async () => {
    writeOldStore(path, format);
    const app = openTestApp(path);
    const { store } = app.parts;
    expect((await app.get("/api/seasons/bare-farm")).headers.get("etag")).toBe('"3"');
    expect((await app.get("/seasons/bare-farm")).status).toBe(200);
    expect((await app.get("/seasons/second-farm")).status).toBe(200);
    expect(latestSolved(store, "bare-farm")?.id).toBe(5);
    const cut = store.prepare("SELECT state, reason FROM plan WHERE id = 7").get();
    expect({ ...cut }).toEqual({
      state: "failed",
      reason: "The server stopped while this plan was being made.",
    });
    app.parts.close();
  });
});

describe("offers in a store of the format that brought them", () => {
  const first = migrationsIn(MIGRATIONS).findIndex((name) => name.endsWith("_offers.sql")) + 1;
  const put = (state: string, decided: string | null) => (store: DatabaseSync) =>
    store.prepare(
      "INSERT INTO offer (season_id, season_hash, plan_id, as_of, state, document, found, decided, decided_by) " +
        "VALUES ('bare-farm', 'hash', 5, '2027-01-18T07:00', ?, '{}', '2027-01-18', ?, ?)",
    ).run(state, decided, decided);

  /** A store with the plan that the sample has, and no more. */
  function withOffers(...puts: ((store: DatabaseSync) => unknown)[]): DatabaseSync {
    writeOldStore(path, first);
    const store = new DatabaseSync(path, { enableForeignKeyConstraints: true });
    puts.forEach((one) => one(store));
    return store;
  }

  test("are all still there in the newest, and go with the plan that they were compared with", () => {
    const old = withOffers(put("open", null), put("left", "2027-01-19"), put("taken", "2027-01-20"));
    const before = contentOf(old).offer;
    old.close();
    const store = openStore(path);
    expect(contentOf(store).offer).toEqual(before!.map((row) => expect.objectContaining(row)));
    expect(before).toHaveLength(3);
    store.exec("DELETE FROM plan WHERE id = 5");
    expect(contentOf(store).offer).toEqual([]);
    store.close();
  });

  test.each([
    ["two open at once", [put("open", null), put("open", null)]],
    ["one left by nobody", [put("left", null)]],
    ["an open one that somebody has decided", [put("open", "2027-01-19")]],
    ["a state that there is not", [put("lost", "2027-01-19")]],
  ])("are refused: %s", (_, puts) => {
    expect(() => withOffers(...puts)).toThrow(/constraint failed/);
  });
});

describe("a migration that fails", () => {
  test("is told in words and leaves the store as it was, in the format it had", () => {
    const more = Deno.makeTempDirSync({ dir: folder });
    for (const name of migrationsIn(MIGRATIONS)) {
      Deno.copyFileSync(new URL(name, MIGRATIONS), `${more}/${name}`);
    }
    Deno.writeTextFileSync(
      `${more}/9999_half.sql`,
      "CREATE TABLE half (n INTEGER); DELETE FROM plan; UPDATE season SET hash = ''; INSERT INTO nowhere VALUES (1);",
    );
    const before = writeOldStore(path, FORMATS);
    const store = new DatabaseSync(path);
    expect(() => migrate(store, path, new URL(`file://${more}/`))).toThrow(
      new RegExp(
        `cannot be brought from format ${FORMATS} to format ${
          FORMATS + 1
        }: no such table: nowhere[^]*stays as it was`,
      ),
    );
    expect([formatOf(store), contentOf(store)]).toEqual([FORMATS, before]);
    store.close();
  });

  test("for want of room is told as a full disk, and leaves the store as it was", () => {
    const more = Deno.makeTempDirSync({ dir: folder });
    for (const name of migrationsIn(MIGRATIONS)) {
      Deno.copyFileSync(new URL(name, MIGRATIONS), `${more}/${name}`);
    }
    Deno.writeTextFileSync(
      `${more}/9999_large.sql`,
      "CREATE TABLE large AS SELECT randomblob(100000) AS data;",
    );
    const before = writeOldStore(path, FORMATS);
    const store = new DatabaseSync(path);
    store.exec("PRAGMA max_page_count = 1");
    expect(() => migrate(store, path, new URL(`file://${more}/`))).toThrow(/database or disk is full/);
    expect([formatOf(store), contentOf(store)]).toEqual([FORMATS, before]);
    store.close();
  });
});

describe("what is no store of this program is refused in words, and not changed", () => {
  test.each([
    ["a newer format", "PRAGMA user_version = 99", /format 99, but this program knows formats up to/],
    ["another program's mark", "PRAGMA application_id = 7", /belongs to another program/],
  ])("%s", (_, change, words) => {
    const before = writeOldStore(path, FORMATS);
    const store = new DatabaseSync(path);
    store.exec(change);
    store.close();
    expect(() => openStore(path)).toThrow(words);
    const after = new DatabaseSync(path);
    expect(contentOf(after)).toEqual(before);
    after.close();
  });

  test("another program's tables", () => {
    const store = new DatabaseSync(path);
    store.exec("CREATE TABLE song (title TEXT); INSERT INTO song VALUES ('Reel')");
    expect(() => openStore(path)).toThrow(/belongs to another program/);
    expect(contentOf(store)).toEqual({ song: [{ title: "Reel" }] });
    store.close();
  });

  test("a store from before there was a mark is taken, and gets it", () => {
    writeOldStore(path, 1);
    openStore(path).close();
    const store = new DatabaseSync(path);
    expect(store.prepare("PRAGMA application_id").get()?.application_id).toBe(0x5269636b);
    store.close();
  });
});
