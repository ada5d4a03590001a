import { makeApp } from "./_app.ts";
import { openParts, putDemo } from "./_open.ts";
import { dataFolder } from "./_data-folder.ts";
import { openAssets } from "./_shell/assets.ts";
import { EFFORTS, type SearchEffort } from "./_solver/order.ts";
import { lockFolder } from "./_store/lock.ts";
import { firstSeasonId } from "./_store/seasons.ts";
import { folderTrouble, inWords } from "./_store/trouble.ts";

const root = new URL("../", import.meta.url);

/** The server looks this often whether a copy is due, in milliseconds: a machine that slept misses no day. */
const LOOK_EVERY_MS = 60 * 60 * 1000;

/** Opens the parts as the environment says, serves until the process is told to stop, and closes them. */
export async function main(): Promise<void> {
  const port = readPort(Deno.env.get("PORT"));
  const assets = await openAssets(new URL(".build/", root));
  const demo = JSON.parse(await Deno.readTextFile(new URL("data-demo/tern-and-furrow.json", root)));
  const { lock, parts } = await openFolder(demo, assets, readEffort(Deno.env.get("RICKYARD_SEARCH")));

  for (const signal of ["SIGINT", "SIGTERM"] as const) {
    Deno.addSignalListener(signal, () => {
      parts.close();
      lock.release();
      // Pages that follow a plan hold their connection open for good, so the server does not wait for them.
      Deno.exit(0);
    });
  }

  const app = makeApp(parts);
  const onListen = ({ port }: { port: number }) => console.log(`Rickyard is at http://127.0.0.1:${port}/`);
  Deno.serve({ hostname: "127.0.0.1", port, onListen, automaticCompression: true }, app.fetch);
  // The first reader finds the year drawn already.
  const first = firstSeasonId(parts.store);
  if (first !== null) await app.request(`http://127.0.0.1/seasons/${first}`);
  parts.copies.copyIfDue();
  setInterval(() => parts.copies.copyIfDue(), LOOK_EVERY_MS);
}

/** Takes the data folder and opens the store in it. Ends the process, with the reason in words, when it cannot. */
async function openFolder(
  demo: unknown,
  assets: Awaited<ReturnType<typeof openAssets>>,
  effort: SearchEffort,
) {
  const { folder, store } = dataFolder();
  try {
    await Deno.mkdir(folder, { recursive: true });
    const lock = lockFolder(folder);
    const parts = openParts(store, assets, () => new Date(), { effort });
    putDemo(parts, demo);
    return { lock, parts };
  } catch (error) {
    const found = folderTrouble(error, store);
    if (found === null) throw error;
    console.error(inWords(found.trouble));
    Deno.exit(1);
  }
}

function readPort(text: string | undefined): number {
  const port = Number(text ?? "8000");
  if (Number.isInteger(port) && port >= 0 && port <= 65_535) return port;
  console.error(`PORT is "${text}", which is no port. Give a whole number from 0 to 65535.`);
  Deno.exit(1);
}

function readEffort(text = "full"): SearchEffort {
  if (Object.hasOwn(EFFORTS, text)) return EFFORTS[text as keyof typeof EFFORTS];
  console.error(`RICKYARD_SEARCH is "${text}". Give full, short or none, or leave it out.`);
  Deno.exit(1);
}

if (import.meta.main) await main();
