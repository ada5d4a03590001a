/** Serves while one works on the code: `deno task dev` builds the islands anew and restarts at each change. */
import { stop } from "esbuild";
import { bundle } from "../islands/_bundle.ts";
import { main } from "./_main.ts";

await bundle();
await stop();
await main();
