import { DatabaseSync } from "node:sqlite";
import { migrate } from "./migrate.ts";

export type Store = DatabaseSync;

/**
 * Opens the store, brings its tables up to date and returns it. `path` is a file, whose folder must exist, or
 * ":memory:" for a store that ends with the process.
 *
 * synchronous=FULL makes each acknowledged write survive a killed process; it costs under a millisecond.
 */
export function openStore(path: string): Store {
  const store = new DatabaseSync(path, { enableForeignKeyConstraints: true, timeout: 5000 });
  store.exec("PRAGMA journal_mode = WAL");
  store.exec("PRAGMA synchronous = FULL");
  migrate(store);
  return store;
}
