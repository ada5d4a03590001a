import { basename, dirname, join } from "node:path";
import { EXIT, Stop } from "./exit.ts";

/** Reads a JSON file. Stops with the reason when it is missing or not JSON. */
export async function readJson(path: string): Promise<unknown> {
  const text = await Deno.readTextFile(path).catch((error: Error) => {
    throw new Stop(EXIT.wrongUse, `${path} cannot be read: ${error.message}`);
  });
  try {
    // Editors on some systems begin a file with a byte order mark, which JSON does not know.
    return JSON.parse(text.replace(/^\uFEFF/, ""));
  } catch (error) {
    throw new Stop(EXIT.wrongUse, `${path} is not JSON: ${(error as Error).message}`);
  }
}

/** Writes a file whole or not at all: beside its place under another name first, then renamed. */
export async function writeWhole(path: string, text: string): Promise<void> {
  const beside = join(dirname(path), `.${basename(path)}.${Deno.pid}.new`);
  try {
    await Deno.writeTextFile(beside, text);
    await Deno.rename(beside, path);
  } catch (error) {
    await Deno.remove(beside).catch(() => {});
    throw new Stop(EXIT.wrongUse, `${path} cannot be written: ${(error as Error).message}`);
  }
}
