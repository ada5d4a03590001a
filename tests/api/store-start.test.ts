import { DatabaseSync } from "node:sqlite";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { insertSeason } from "../../routes/_store/seasons.ts";
import { lockFolder } from "../../routes/_store/lock.ts";
import { inTransaction } from "../../routes/_store/transaction.ts";
import { openStore } from "../../routes/_store/open.ts";
import { runTaskIn, runTaskWith } from "../_support/process.ts";
import { canMount, mount, unmount } from "../_support/mount.ts";
import { startServer } from "../_support/server.ts";

let folder: string;
let path: string;
beforeEach(() => {
  folder = Deno.makeTempDirSync();
  path = `${folder}/rickyard.sqlite`;
});
afterEach(() => Deno.removeSync(folder, { recursive: true }));

/** Starts a server that has to end by itself: with 1, in words, without a stack. Returns the words. */
async function refusedStart(): Promise<string> {
  const { code, out, err } = await runTaskIn(folder, "start");
  expect([code, out]).toEqual([1, ""]);
  expect(err).toMatch(/^Where: \S/m);
  expect(err).not.toMatch(/^\s+at /m);
  return err;
}

/** Writes a store of some hundred pages. */
function largeStore(): void {
  const store = openStore(path);
  const document = JSON.stringify("x".repeat(10_000));
  inTransaction(store, () => {
    for (let n = 0; n < 50; n++) {
      insertSeason(store, { id: `s${n}`, document, hash: "", at: "2027-01-01T00:00:00Z" }, {
        author: "a",
        reason: "",
      });
    }
  });
  store.close();
}

function overwrite(from: number, bytes: number): void {
  const file = Deno.openSync(path, { write: true });
  file.seekSync(from, Deno.SeekMode.Start);
  file.writeSync(new Uint8Array(bytes).fill(0x5a));
  file.close();
}

describe("one server a folder", () => {
  test("a second server ends with 1 and the words; after a kill the folder is free at once", async () => {
    const first = await startServer(folder);
    try {
      expect(await refusedStart()).toContain("A Rickyard server is running on this folder");
    } finally {
      await first.kill();
    }
    const next = await startServer(folder);
    expect(await next.stop()).toBe(0);
  });

  test("the lock is one process's until it is let go", () => {
    const lock = lockFolder(folder);
    expect(() => lockFolder(folder)).toThrow(/is running on this folder/);
    lock.release();
    lockFolder(folder).release();
  });
});

describe("a server that cannot have its store ends with 1 and says why and what to do", () => {
  test("a store that is damaged in its middle", async () => {
    largeStore();
    const { size } = Deno.statSync(path);
    overwrite(Math.floor(size / 2), 8192);
    const before = Deno.readFileSync(path);
    const words = await refusedStart();
    expect(words).toContain("The store is damaged.");
    expect(words).toContain("deno task restore FILE");
    expect(Deno.readFileSync(path)).toEqual(before);
  });

  test("a store whose head is damaged", async () => {
    largeStore();
    overwrite(0, 100);
    Deno.writeTextFileSync(`${path}-wal`, "the log");
    expect(await refusedStart()).toMatch(/is no SQLite file[^]*deno task restore FILE/);
    expect(Deno.readTextFileSync(`${path}-wal`)).toBe("the log");
  });

  test("a store of a newer program", async () => {
    largeStore();
    const store = new DatabaseSync(path);
    store.exec("PRAGMA user_version = 99");
    store.close();
    expect(await refusedStart()).toMatch(/has format 99[^]*Start the newer program/);
  });

  test("a folder that the task has no permission for", async () => {
    const elsewhere = { RICKYARD_DATA: `${folder}/elsewhere` };
    const { code, err } = await runTaskWith(elsewhere, "start");
    expect(code).toBe(1);
    expect(err).toMatch(/without the permission to use this place\.\nWhere: .*elsewhere/);
  });

  test("a file in the place of the folder", async () => {
    Deno.removeSync(folder);
    Deno.writeTextFileSync(folder, "");
    expect(await refusedStart()).toContain("There is a file where a folder should be.");
  });

  test("a store that another program holds", async () => {
    largeStore();
    const viewer = new DatabaseSync(path);
    viewer.exec("PRAGMA locking_mode = EXCLUSIVE; BEGIN EXCLUSIVE");
    expect(await refusedStart()).toContain("Another program holds the store.");
    viewer.close();
  });

  // The superuser may write everything, so these two need what only the superuser or only another user can set up.
  test.skipIf(Deno.uid() === 0)("a folder that the account may not write", async () => {
    Deno.chmodSync(folder, 0o500);
    expect(await refusedStart()).toContain("The operating system does not let Rickyard read or write here.");
    Deno.chmodSync(folder, 0o700);
  });

  test.skipIf(!canMount)("a disk that is read-only", async () => {
    largeStore();
    mount("--bind", folder, folder);
    mount("-o", "remount,ro,bind", folder);
    try {
      expect(await refusedStart()).toMatch(/can be read, but not written|does not let Rickyard/);
    } finally {
      unmount(folder);
    }
  });
});

describe("damage anywhere is found at the start", () => {
  test.each([0.2, 0.35, 0.5, 0.65, 0.8, 0.95])("at %f of the file", (part) => {
    largeStore();
    const page = Math.floor(part * Deno.statSync(path).size / 4096);
    overwrite(page * 4096, 4096);
    expect(() => openStore(path)).toThrow(/The store is damaged|malformed/);
  });
});
