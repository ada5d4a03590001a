import { DatabaseSync } from "node:sqlite";
import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { type CopyKeeper, KEPT_COPIES, openCopyKeeper } from "../../routes/_store/copy-keeper.ts";
import { copyName, listCopies, readCopyName } from "../../routes/_store/copies.ts";
import { openStore, type Store } from "../../routes/_store/open.ts";
import { insertSeason, readSeason } from "../../routes/_store/seasons.ts";
import { openTestApp, type TestApp } from "../_support/app.ts";
import { bareSeason } from "../_support/bare-season.ts";
import { contentOf } from "../_support/old-store.ts";

const HOUR = 60 * 60 * 1000;
const DAY = 24 * HOUR;

let folder: string;
let path: string;
let copies: string;
let now: Date;
beforeEach(() => {
  folder = Deno.makeTempDirSync();
  path = `${folder}/rickyard.sqlite`;
  copies = `${folder}/copies`;
  now = new Date(2027, 0, 18, 7, 5, 9);
});
afterEach(() => Deno.removeSync(folder, { recursive: true }));

const names = () => [...Deno.readDirSync(copies)].map(({ name }) => name).sort();
const later = (ms: number) => now = new Date(now.getTime() + ms);

describe("names of copies", () => {
  test("say when and why the copy was taken, and are read back", () => {
    expect(copyName(now, true)).toBe("rickyard-daily-2027-01-18-070509.sqlite");
    expect(copyName(now, false)).toBe("rickyard-2027-01-18-070509.sqlite");
    for (const scheduled of [true, false]) {
      expect(readCopyName(copyName(now, scheduled))).toEqual({ at: now, scheduled });
    }
  });

  test.each([
    "rickyard.sqlite",
    "rickyard-2027-02-30-070509.sqlite",
    "rickyard-2027-01-18-250000.sqlite",
    "rickyard-daily-2027-01-18-070509.sqlite.new",
    "rickyard-before-restore-2027-01-18-070509.sqlite",
    "../rickyard-2027-01-18-070509.sqlite",
    "",
  ])("%j is none", (name) => expect(readCopyName(name)).toBeNull());
});

describe("the schedule", () => {
  let store: Store;
  let keeper: CopyKeeper;
  let said: string[];
  let stored = 0;
  beforeEach(() => {
    store = openStore(path);
    said = [];
    keeper = openCopyKeeper({ store, folder, path, now: () => now, log: (line) => said.push(line) });
  });
  afterEach(() => store.close());

  const change = () =>
    insertSeason(store, { id: `s${stored++}`, document: "{}", hash: "", at: "" }, {
      author: "a",
      reason: "",
    });
  const days = () => listCopies(copies).map(({ at }) => at.getDate());

  test("takes the first copy at once, and the next when a day has gone by and something has changed", async () => {
    await keeper.copyIfDue();
    expect(names()).toEqual(["rickyard-daily-2027-01-18-070509.sqlite"]);
    change();
    later(DAY - 1000);
    await keeper.copyIfDue();
    expect(names()).toHaveLength(1);
    later(1000);
    await keeper.copyIfDue();
    expect(days()).toEqual([19, 18]);
    later(3 * DAY);
    await keeper.copyIfDue();
    expect(days()).toEqual([19, 18]);
    change();
    await keeper.copyIfDue();
    expect(days()).toEqual([22, 19, 18]);
    expect(said).toEqual([]);
  });

  test("sees what changed before the server was started, and takes closing and opening for no change", async () => {
    await keeper.copyIfDue();
    later(DAY);
    const again = () =>
      openCopyKeeper({ store, folder, path, now: () => now, log: (line) => said.push(line) });
    store.close();
    store = openStore(path);
    await again().copyIfDue();
    expect(days()).toEqual([18]);
    change();
    await again().copyIfDue();
    expect(days()).toEqual([19, 18]);
  });

  test("counts a copy by hand, and none that lies in the future after the clock was put back", async () => {
    await keeper.copyNow();
    change();
    await keeper.copyIfDue();
    expect(days()).toEqual([18]);
    later(-10 * DAY);
    await keeper.copyIfDue();
    await keeper.copyIfDue();
    expect(days()).toEqual([18, 8]);
  });

  test("keeps its newest fourteen, and never touches a file that is not its own", async () => {
    Deno.mkdirSync(copies);
    const others = ["rickyard-2020-01-01-000000.sqlite", "rickyard-daily-.sqlite", "notes.txt"];
    for (const name of others) Deno.writeTextFileSync(`${copies}/${name}`, "mine");
    Deno.mkdirSync(`${copies}/rickyard-daily-2020-01-01-000000.sqlite`);
    for (let n = 0; n < KEPT_COPIES + 3; n++) {
      change();
      await keeper.copyIfDue();
      later(DAY);
    }
    const kept = listCopies(copies).filter(({ scheduled }) => scheduled);
    expect(kept).toHaveLength(14);
    expect(kept.at(-1)?.at).toEqual(new Date(2027, 0, 21, 7, 5, 9));
    expect(names()).toEqual(expect.arrayContaining([...others, "rickyard-daily-2020-01-01-000000.sqlite"]));
  });

  test("a copy holds all there is and needs nothing beside it", async () => {
    change();
    await keeper.copyIfDue();
    change();
    const file = `${copies}/${names()[0]}`;
    // Two bytes of the head say whether a log belongs to the file: a copy with one cannot be read from a locked stick.
    expect([...Deno.readFileSync(file).slice(18, 20)]).toEqual([1, 1]);
    const copy = openStore(file);
    expect(contentOf(copy).season).toHaveLength(1);
    copy.close();
    expect(names()).toEqual(["rickyard-daily-2027-01-18-070509.sqlite"]);
  });

  test("a copy that fails is told in the log and kept for the page, until one succeeds", async () => {
    Deno.writeTextFileSync(copies, "a file in the way");
    await keeper.copyIfDue();
    expect(said).toEqual([
      expect.stringMatching(/^The daily copy was not taken\. There is a file where a folder/),
    ]);
    expect(keeper.failure()).toMatchObject({ at: now, trouble: { where: copies } });
    Deno.removeSync(copies);
    await keeper.copyIfDue();
    expect([keeper.failure(), days()]).toEqual([null, [18]]);
  });

  test("a copy that does not pass its check is thrown away", async () => {
    store.exec("PRAGMA foreign_keys = OFF");
    store.exec(
      "INSERT INTO plan (season_id, season_revision, season_hash, state, started) VALUES ('gone', 1, '', 'solving', '')",
    );
    await keeper.copyIfDue();
    expect(keeper.failure()?.trouble.what).toBe("The store is damaged.");
    expect(names()).toEqual([]);
  });

  test("what a killed server left half copied is cleared away, and nothing of anybody else's", async () => {
    Deno.mkdirSync(copies);
    const left = [".rickyard-daily-2027-01-17-070509.sqlite.new", ".rickyard-2027-01-17-070509.sqlite.new"];
    for (const name of left) Deno.writeTextFileSync(`${copies}/${name}`, "half");
    await keeper.copyIfDue();
    expect(names()).toEqual([left[1], "rickyard-daily-2027-01-18-070509.sqlite"]);
  });
});

describe("the page of copies", () => {
  let app: TestApp;
  beforeEach(async () => {
    vi.spyOn(console, "error").mockImplementation(() => {});
    app = openTestApp(path, () => now);
    await app.send("POST", "/api/seasons", bareSeason);
  });
  afterEach(() => {
    app.parts.close();
    vi.restoreAllMocks();
  });

  const look = async () => await (await app.get("/copies")).text();

  test("says that there is none yet, and how to go back to one", async () => {
    const html = await look();
    expect(html).toContain("There is no copy of the farm's record yet.");
    expect(html).toContain(`deno task restore ${copies}/FILE`);
    expect(html).toContain("deno task start");
  });

  test("a copy by hand is taken by its button, listed, and carried away whole", async () => {
    const pressed = await app.press("/copies/now");
    expect([pressed.status, pressed.headers.get("location")]).toEqual([303, "/copies"]);
    const html = await look();
    expect(html).toContain("18 Jan 2027, 07:05:09");
    const address = /href="(\/copies\/rickyard-[^"]+)"/.exec(html)?.[1] ?? "";
    const taken = await app.get(address);
    expect(taken.status).toBe(200);
    expect(taken.headers.get("content-disposition")).toBe(
      'attachment; filename="rickyard-2027-01-18-070509.sqlite"',
    );
    Deno.writeFileSync(`${folder}/taken.sqlite`, new Uint8Array(await taken.arrayBuffer()));
    const store = new DatabaseSync(`${folder}/taken.sqlite`);
    expect(readSeason(store, "bare-farm")?.revision).toBe(1);
    store.close();
  });

  test("pressed twice in a second it is one copy", async () => {
    await app.press("/copies/now");
    expect((await app.press("/copies/now")).status).toBe(303);
    expect(names()).toEqual(["rickyard-2027-01-18-070509.sqlite"]);
  });

  test("tells which copies are the schedule's, and why one was not taken", async () => {
    await app.parts.copies.copyIfDue();
    expect(await look()).toMatch(/schedule.*rickyard-daily-2027-01-18-070509\.sqlite/);
    Deno.removeSync(copies, { recursive: true });
    Deno.writeTextFileSync(copies, "");
    await app.parts.copies.copyIfDue();
    Deno.removeSync(copies);
    expect(await look()).toMatch(/role="alert".*The daily copy was not taken \(18 Jan 2027, 07:05:09\)/);
  });

  test("a copy by hand that fails is told in words", async () => {
    Deno.writeTextFileSync(copies, "");
    const pressed = await app.press("/copies/now");
    expect([pressed.status, await pressed.text()]).toEqual([
      503,
      expect.stringContaining("No copy was taken. There is a file where a folder should be."),
    ]);
  });

  test.each([
    "rickyard.sqlite",
    "..%2Frickyard.sqlite",
    "%2e%2e%2frickyard.sqlite",
    "rickyard-2027-01-18-070510.sqlite",
    "rickyard-2027-01-18-070509.sqlite%00",
    "now",
  ])("gives nothing but the copies in the list: %s", async (name) => {
    await app.press("/copies/now");
    Deno.symlinkSync(path, `${copies}/rickyard-2027-01-18-070510.sqlite`);
    expect((await app.get(`/copies/${name}`)).status).toBe(404);
  });

  test("a form of a foreign page takes none", async () => {
    const headers = { "content-type": "application/x-www-form-urlencoded", origin: "http://farm.example" };
    expect((await app.send("POST", "/copies/now", "", headers)).status).toBe(403);
    expect(listCopies(copies)).toEqual([]);
  });
});
