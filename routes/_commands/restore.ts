import { parseArgs } from "node:util";
import { dataFolder } from "../_data-folder.ts";
import { lockFolder } from "../_store/lock.ts";
import { type Restored, restoreStore } from "../_store/restore.ts";
import { EXIT, runCommand } from "./exit.ts";
import { misused } from "./season.ts";
import { toldInWords } from "./store-words.ts";

const USAGE = "deno task restore FILE";

/** Puts a copy in the place of the store, which is kept beside it. No server may run meanwhile. */
async function restoreCommand(args: string[]): Promise<number> {
  const { folder, store } = dataFolder();
  const file = readArguments(args);
  const restored = await toldInWords(file, async () => {
    await Deno.mkdir(folder, { recursive: true });
    const lock = lockFolder(folder);
    try {
      return await restoreStore(store, file, new Date());
    } finally {
      lock.release();
    }
  });
  console.log(account(restored, store, file));
  return EXIT.clean;
}

function account({ kept, damaged, from, to }: Restored, store: string, file: string): string {
  const migrated = from === to ? "" : ` It was brought from format ${from} to format ${to}.`;
  const lines = [`The store ${store} is now what ${file} holds.${migrated}`];
  if (kept === null) lines.push("There was no store before.");
  else if (damaged) lines.push(`The store of before is damaged; it is kept as it was: ${kept}`);
  else lines.push(`The store of before is kept: ${kept}`, `The way back to it: deno task restore ${kept}`);
  return [...lines, "Start the server again: deno task start"].join("\n");
}

function readArguments(args: string[]): string {
  try {
    const { positionals: [file, ...more] } = parseArgs({ args, options: {}, allowPositionals: true });
    if (file !== undefined && more.length === 0) return file;
  } catch (error) {
    misused(USAGE, (error as Error).message);
  }
  misused(USAGE, "Name one file.");
}

const INTERRUPTED =
  "Stopped. The store is the one of before or the restored one, whole; the other is beside it.";

if (import.meta.main) await runCommand(restoreCommand, INTERRUPTED);
