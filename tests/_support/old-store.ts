import { DatabaseSync } from "node:sqlite";
import { migrate, MIGRATIONS, migrationsIn } from "../../routes/_store/migrate.ts";

/** How many formats this program knows. */
export const FORMATS = migrationsIn(MIGRATIONS).length;

/** Every row of a store by table, with each table's columns as they are, in order of row id or key. */
export type Content = Readonly<Record<string, readonly Readonly<Record<string, unknown>>[]>>;

/**
 * Writes a store of an earlier format to `path`: the sample of format 1, brought on by the first `format` migrations
 * alone, as the program of that time did. Returns what is in it.
 */
export function writeOldStore(path: string, format: number): Content {
  const store = new DatabaseSync(path);
  const until = Deno.makeTempDirSync();
  try {
    store.exec("PRAGMA journal_mode = WAL");
    store.exec(Deno.readTextFileSync(new URL("./stores/format-1.sql", import.meta.url)));
    for (const name of migrationsIn(MIGRATIONS).slice(0, format)) {
      Deno.copyFileSync(new URL(name, MIGRATIONS), `${until}/${name}`);
    }
    migrate(store, path, new URL(`file://${until}/`));
    return contentOf(store);
  } finally {
    store.close();
    Deno.removeSync(until, { recursive: true });
  }
}

/** Reads all that is in a store. */
export function contentOf(store: DatabaseSync): Content {
  const names = store.prepare(
    "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'",
  )
    .all().map(({ name }) => String(name)).sort();
  return Object.fromEntries(
    names.map((name) => [name, store.prepare(`SELECT * FROM "${name}"`).all().map((row) => ({ ...row }))]),
  );
}
