import { DatabaseSync } from "node:sqlite";
import { checkHead, checkPages } from "./check.ts";
import { mark, recognise } from "./identity.ts";
import { migrate } from "./migrate.ts";

export type Store = DatabaseSync;

/**
 * Opens the store, checks it, brings its tables up to date and returns it. `path` is a file, whose folder must
 * exist, or ":memory:" for a store that ends with the process.
 *
 * synchronous=FULL makes each acknowledged write survive a killed process; it costs under a millisecond.
 *
 * Throws a StoreError, and changes nothing, for a file that is damaged, of another program or of a newer format.
 */
export function openStore(path: string): Store {
  checkHead(path);
  const store = new DatabaseSync(path, { enableForeignKeyConstraints: true, timeout: 5000 });
  try {
    recognise(store, path);
    checkPages(store, path);
    store.exec("PRAGMA journal_mode = WAL");
    store.exec("PRAGMA synchronous = FULL");
    migrate(store, path);
    mark(store);
    return store;
  } catch (error) {
    store.close();
    throw error;
  }
}
