import { makeApp } from "./_app.ts";
import { openParts, putDemo } from "./_open.ts";
import { openAssets } from "./_shell/assets.ts";

const root = new URL("../", import.meta.url);

/** Opens the parts as the environment says, serves until the process is told to stop, and closes them. */
export async function main(): Promise<void> {
  const port = readPort(Deno.env.get("PORT"));
  const folder = Deno.env.get("RICKYARD_DATA") ?? ".data";
  await Deno.mkdir(folder, { recursive: true });
  const assets = await openAssets(new URL(".build/", root));
  const parts = openParts(`${folder}/rickyard.sqlite`, assets, () => new Date());
  putDemo(parts, JSON.parse(await Deno.readTextFile(new URL("data-demo/tern-and-furrow.json", root))));

  const onListen = ({ port }: { port: number }) => console.log(`Rickyard is at http://127.0.0.1:${port}/`);
  Deno.serve({ hostname: "127.0.0.1", port, onListen, automaticCompression: true }, makeApp(parts).fetch);

  for (const signal of ["SIGINT", "SIGTERM"] as const) {
    Deno.addSignalListener(signal, () => {
      parts.close();
      // Pages that follow a plan hold their connection open for good, so the server does not wait for them.
      Deno.exit(0);
    });
  }
}

function readPort(text: string | undefined): number {
  const port = Number(text ?? "8000");
  if (Number.isInteger(port) && port >= 0 && port <= 65_535) return port;
  console.error(`PORT is "${text}", which is no port. Give a whole number from 0 to 65535.`);
  Deno.exit(1);
}

if (import.meta.main) await main();
