import type { Store } from "./open.ts";
import { inTransaction } from "./transaction.ts";

const folder = new URL("./migrations/", import.meta.url);

/**
 * Applies the numbered files of migrations/ that the store has not had. The number reached stands in
 * user_version, which rolls back together with the tables when a file fails.
 *
 * Throws when the store was written by a newer program, because its tables may mean something else by then.
 */
export function migrate(store: Store): void {
  const files = [...Deno.readDirSync(folder)].map((entry) => entry.name).filter((name) =>
    name.endsWith(".sql")
  )
    .sort();
  const reached = Number(store.prepare("PRAGMA user_version").get()?.user_version ?? 0);
  if (reached > files.length) {
    throw new Error(
      `The store has format ${reached}, but this program knows formats up to ${files.length}. ` +
        "Start the newer program that wrote it, or give RICKYARD_DATA another folder.",
    );
  }
  files.slice(reached).forEach((name, index) => {
    const sql = Deno.readTextFileSync(new URL(name, folder));
    inTransaction(store, () => {
      store.exec(sql);
      store.exec(`PRAGMA user_version = ${reached + index + 1}`);
    });
  });
}
