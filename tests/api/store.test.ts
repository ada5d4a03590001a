import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { openStore, type Store } from "../../routes/_store/open.ts";
import {
  endPlan,
  failPlan,
  failUnfinishedPlans,
  INTERRUPTED,
  latestPlan,
  latestSolved,
  startPlan,
} from "../../routes/_store/plans.ts";
import { firstSeasonId, insertSeason, readSeason, replaceSeason } from "../../routes/_store/seasons.ts";
import { inTransaction } from "../../routes/_store/transaction.ts";

const AT = "2027-01-18T07:00:00.000Z";
const LATER = "2027-01-18T08:00:00.000Z";
const entry = { id: "farm", document: '{"n":1}', hash: "a", at: AT };
const season = { id: "farm", revision: 1, hash: "a" };

let folder: string;
let path: string;
let store: Store;

beforeEach(() => {
  folder = Deno.makeTempDirSync();
  path = `${folder}/rickyard.sqlite`;
  store = openStore(path);
});
afterEach(() => {
  if (store.isOpen) store.close();
  Deno.removeSync(folder, { recursive: true });
});

describe("opening", () => {
  test("acknowledged writes are synced to the disk, and references are kept", () => {
    expect(store.prepare("PRAGMA journal_mode").get()?.journal_mode).toBe("wal");
    expect(store.prepare("PRAGMA synchronous").get()?.synchronous).toBe(2);
    expect(() => startPlan(store, { ...season, id: "no-such-season" }, AT)).toThrow(/FOREIGN KEY/);
  });

  test("a second opening finds what the first stored", () => {
    insertSeason(store, entry);
    store.close();
    store = openStore(path);
    expect(readSeason(store, "farm")?.document).toBe('{"n":1}');
  });

  test("a store of a newer program is refused, because its tables may mean something else", () => {
    store.exec("PRAGMA user_version = 99");
    store.close();
    expect(() => openStore(path)).toThrow(/format 99/);
  });
});

describe("transactions", () => {
  test("a failure takes back everything", () => {
    const broken = () =>
      inTransaction(store, () => {
        insertSeason(store, entry);
        throw new Error("stop");
      });
    expect(broken).toThrow("stop");
    expect(firstSeasonId(store)).toBeNull();
  });
});

describe("seasons", () => {
  test("an id is taken once", () => {
    expect(insertSeason(store, entry)).toBe(true);
    expect(insertSeason(store, { ...entry, document: '{"n":2}' })).toBe(false);
    expect(readSeason(store, "farm")).toEqual({
      id: "farm",
      revision: 1,
      document: '{"n":1}',
      hash: "a",
      created: AT,
      updated: AT,
    });
  });

  test("a change counts the revision up, and only from the revision it was made on", () => {
    insertSeason(store, entry);
    const change = { ...entry, document: '{"n":2}', hash: "b", at: LATER };
    expect(replaceSeason(store, change, 1)).toBe(2);
    expect(replaceSeason(store, { ...change, document: '{"n":3}' }, 1)).toBeNull();
    expect(readSeason(store, "farm")).toMatchObject({
      revision: 2,
      document: '{"n":2}',
      created: AT,
      updated: LATER,
    });
  });

  test("the first season is the one stored first", () => {
    insertSeason(store, { ...entry, id: "b-first" });
    insertSeason(store, { ...entry, id: "a-second", at: LATER });
    expect(firstSeasonId(store)).toBe("b-first");
  });
});

describe("plans", () => {
  beforeEach(() => void insertSeason(store, entry));

  test("a plan is solving, then solved with its document", () => {
    const id = startPlan(store, season, AT);
    expect(latestPlan(store, "farm")).toMatchObject({ id, state: "solving", document: null, ended: null });
    expect(latestSolved(store, "farm")).toBeNull();
    endPlan(store, id, '{"runs":[]}', "", LATER);
    expect(latestSolved(store, "farm")).toMatchObject({
      id,
      state: "solved",
      document: '{"runs":[]}',
      ended: LATER,
    });
  });

  test("after a failure the last solved plan is still there", () => {
    const good = startPlan(store, season, AT);
    endPlan(store, good, "{}", "", AT);
    failPlan(store, startPlan(store, season, LATER), "no way", LATER);
    expect(latestPlan(store, "farm")).toMatchObject({ state: "failed", reason: "no way" });
    expect(latestSolved(store, "farm")?.id).toBe(good);
  });

  test("what a stopped server left solving is marked failed, and nothing else", () => {
    const good = startPlan(store, season, AT);
    endPlan(store, good, "{}", "", AT);
    startPlan(store, season, AT);
    failUnfinishedPlans(store, LATER);
    expect(latestPlan(store, "farm")).toMatchObject({ state: "failed", reason: INTERRUPTED, ended: LATER });
    expect(latestSolved(store, "farm")?.id).toBe(good);
  });

  test("only the newest twenty plans of a season are kept", () => {
    insertSeason(store, { ...entry, id: "other" });
    endPlan(store, startPlan(store, { ...season, id: "other" }, AT), "{}", "", AT);
    for (let n = 0; n < 25; n++) endPlan(store, startPlan(store, season, AT), "{}", "", AT);
    const count = (id: string) => store.prepare("SELECT count(*) n FROM plan WHERE season_id = ?").get(id)?.n;
    expect([count("farm"), count("other")]).toEqual([20, 1]);
  });

  test("a solved plan without a document cannot be stored", () => {
    const id = startPlan(store, season, AT);
    expect(() => store.exec(`UPDATE plan SET state = 'solved', ended = '${AT}' WHERE id = ${id}`)).toThrow(
      /CHECK/,
    );
  });
});
