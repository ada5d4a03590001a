import { formatOf } from "./identity.ts";
import type { Store } from "./open.ts";
import { inTransaction } from "./transaction.ts";
import { StoreError, storeTrouble } from "./trouble.ts";

/** Where the numbered files of the formats are. */
export const MIGRATIONS = new URL("./migrations/", import.meta.url);

/** The names of the migrations in `folder`, in order. The first brings a store to format 1, and so on. */
export function migrationsIn(folder: URL): string[] {
  return [...Deno.readDirSync(folder)].map(({ name }) => name).filter((name) => name.endsWith(".sql")).sort();
}

/**
 * Applies the migrations that the store has not had. The number reached stands in user_version, which rolls back
 * together with the tables when a file fails. `path` is told to the person when something is wrong.
 *
 * Throws a StoreError when the store was written by a newer program, because its tables may mean something else by
 * then, and when a migration fails.
 */
export function migrate(store: Store, path: string, folder = MIGRATIONS): void {
  const names = migrationsIn(folder);
  const reached = formatOf(store);
  if (reached > names.length) {
    throw new StoreError({
      what: `The store has format ${reached}, but this program knows formats up to ${names.length}.`,
      where: path,
      whatToDo:
        "Start the newer program that wrote it, or give RICKYARD_DATA another folder. Nothing was changed.",
    });
  }
  names.slice(reached).forEach((name, index) => {
    const format = reached + index + 1;
    const sql = Deno.readTextFileSync(new URL(name, folder));
    try {
      inTransaction(store, () => {
        store.exec(sql);
        store.exec(`PRAGMA user_version = ${format}`);
      });
    } catch (error) {
      throw storeTrouble(error, path) === null ? cannotBring(format, path, error) : error;
    }
  });
}

function cannotBring(format: number, path: string, error: unknown): StoreError {
  return new StoreError(
    {
      what: `The store cannot be brought from format ${format - 1} to format ${format}: ${
        error instanceof Error ? error.message : error
      }.`,
      where: path,
      whatToDo: `It stays as it was, in format ${format - 1}. Start the program of before, and report this.`,
    },
    "told",
    { cause: error },
  );
}
