import { join } from "node:path";
import { parseArgs } from "node:util";
import { DatabaseSync } from "node:sqlite";
import { dataFolder } from "../_data-folder.ts";
import { checkHead } from "../_store/check.ts";
import { copiesIn, copyName } from "../_store/copies.ts";
import { writeCopy } from "../_store/copy.ts";
import { exists } from "../_store/files.ts";
import { recognise } from "../_store/identity.ts";
import { EXIT, runCommand, Stop } from "./exit.ts";
import { misused } from "./season.ts";
import { toldInWords } from "./store-words.ts";

const USAGE = "deno task backup [FILE]";

/** Copies the store, which a server may be using, to a file of its own. */
async function backupCommand(args: string[]): Promise<number> {
  const { folder, store } = dataFolder();
  const named = readArguments(args);
  if (!exists(store)) {
    throw new Stop(EXIT.storeTrouble, `There is no store at ${store}, so there is nothing to copy.`);
  }
  const target = named ?? join(copiesIn(folder), copyName(new Date(), false));
  await toldInWords(target, async () => {
    if (named === undefined) Deno.mkdirSync(copiesIn(folder), { recursive: true });
    checkHead(store);
    const source = new DatabaseSync(store, { timeout: 5000 });
    try {
      recognise(source, store);
      await writeCopy(source, target);
    } finally {
      source.close();
    }
  });
  console.log(`Copied to ${target}, and checked.\nThe way back to it: deno task restore ${target}`);
  return EXIT.clean;
}

function readArguments(args: string[]): string | undefined {
  try {
    const { positionals: [file, ...more] } = parseArgs({ args, options: {}, allowPositionals: true });
    if (more.length === 0) return file;
  } catch (error) {
    misused(USAGE, (error as Error).message);
  }
  misused(USAGE, "Name one file, or none.");
}

if (import.meta.main) await runCommand(backupCommand);
