import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { bookedBefore, lastEdit, seasonAt } from "../../routes/_store/edits.ts";
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
import { firstSeasonId, insertSeason, readSeason, shelve, storeEdited } from "../../routes/_store/seasons.ts";
import { inTransaction } from "../../routes/_store/transaction.ts";

const AT = "2027-01-18T07:00:00.000Z";
const LATER = "2027-01-18T08:00:00.000Z";
const entry = { id: "farm", document: '{"n":1}', hash: "a", at: AT };
const beginning = { author: "Owner", reason: "Brought in." };
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
    insertSeason(store, entry, beginning);
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
    insertSeason(store, entry, beginning);
    const broken = () =>
      inTransaction(store, () => {
        startPlan(store, season, AT);
        throw new Error("stop");
      });
    expect(broken).toThrow("stop");
    expect(latestPlan(store, "farm")).toBeNull();
  });
});

describe("seasons", () => {
  test("an id is taken once", () => {
    expect(insertSeason(store, entry, beginning)).toBe(true);
    expect(insertSeason(store, { ...entry, document: '{"n":2}' }, beginning)).toBe(false);
    expect(readSeason(store, "farm")).toEqual({
      id: "farm",
      revision: 1,
      document: '{"n":1}',
      hash: "a",
      created: AT,
      updated: AT,
      shelf: "open",
      follows: null,
    });
  });

  const edit = {
    ...{
      season_id: "farm",
      revision: 2,
      edit_id: "edit-0001",
      at: LATER,
      author: "Owner",
      verb: "change" as const,
    },
    ...{
      reason: "",
      changes: [{ at: "/n", from: 1, to: 2 }],
      undoes: null,
      redoes: null,
      restores: null,
      asked: "",
      hash: "b",
    },
  };

  test("an edit counts the revision up, and only from the revision it was made on", () => {
    insertSeason(store, entry, beginning);
    storeEdited(store, edit, '{"n":2}');
    expect(() => storeEdited(store, { ...edit, edit_id: "edit-0002" }, '{"n":3}')).toThrow(/Revision 2/);
    const now = { revision: 2, document: '{"n":2}', hash: "b", created: AT, updated: LATER };
    expect(readSeason(store, "farm")).toMatchObject(now);
  });

  test("an edit in the log is never changed, taken out or stored twice", () => {
    insertSeason(store, entry, beginning);
    storeEdited(store, edit, '{"n":2}');
    expect(() => store.exec("UPDATE edit SET author = 'Nobody'")).toThrow(/never changed/);
    expect(() => store.exec("DELETE FROM edit")).toThrow(/never taken out/);
    expect(() => storeEdited(store, { ...edit, revision: 3 }, '{"n":2}')).toThrow(/UNIQUE/);
    expect(lastEdit(store, "farm")).toEqual(edit);
  });

  test("a run is remembered as it was booked last, once its booking is gone", () => {
    insertSeason(store, entry, beginning);
    const run = { id: "r1", stripAt: "2027-02-01T08:00" };
    const at = "/bookings/runs/=r1";
    const changes = [
      [{ at, to: run, index: 0 }],
      [{ at: `${at}/stripAt`, from: run.stripAt, to: "2027-02-02T08:00" }],
      [{ at, from: { ...run, stripAt: "2027-02-02T08:00" }, index: 0 }],
    ];
    const sizes = changes.map((one, n) => {
      storeEdited(store, { ...edit, revision: n + 2, edit_id: `booking-${n}`, changes: one }, "{}");
      return bookedBefore(store, "farm").size;
    });
    expect(sizes).toEqual([0, 0, 1]);
    expect(bookedBefore(store, "farm").get("r1")).toMatchObject({ stripAt: "2027-02-02T08:00" });
  });

  test("the season of any revision can be had again", () => {
    insertSeason(store, entry, beginning);
    for (let n = 2; n <= 250; n++) {
      const changes = [{ at: "/n", from: n - 1, to: n }];
      storeEdited(store, { ...edit, revision: n, edit_id: `edit-${n}`, changes }, `{"n":${n}}`);
    }
    for (const n of [1, 2, 99, 100, 101, 250]) expect(seasonAt(store, "farm", n)).toEqual({ n });
    expect(seasonAt(store, "farm", 251)).toBeNull();
    expect(store.prepare("SELECT count(*) AS n FROM milestone").get()?.n).toBe(3);
  });

  test("the first season is the one stored first", () => {
    insertSeason(store, { ...entry, id: "b-first" }, beginning);
    insertSeason(store, { ...entry, id: "a-second", at: LATER }, beginning);
    expect(firstSeasonId(store)).toBe("b-first");
    shelve(store, "b-first", "thrown away");
    expect(firstSeasonId(store)).toBe("a-second");
  });
});

describe("plans", () => {
  beforeEach(() => void insertSeason(store, entry, beginning));

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
    insertSeason(store, { ...entry, id: "other" }, beginning);
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
