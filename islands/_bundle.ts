/**
 * Builds what the browser runs: `deno task build` writes .build/ with hashed names and a manifest of them.
 * It is a program of its own because esbuild starts a process, which the server is not allowed to do.
 */
import { build, stop } from "esbuild";
import { basename } from "node:path";

/** Builds the client script with its islands, and every style sheet and icon of _assets/, into .build/. */
export async function bundle(): Promise<void> {
  await Deno.mkdir(".build", { recursive: true });
  for await (const old of Deno.readDir(".build")) {
    await Deno.remove(`.build/${old.name}`, { recursive: true });
  }
  const sheets = [...Deno.readDirSync("islands/_assets")].map((entry) => entry.name)
    .filter((name) => name.endsWith(".css") || name.endsWith(".svg"));
  const result = await build({
    entryPoints: [
      { in: "islands/_client.ts", out: "client" },
      ...sheets.map((name) => ({ in: `islands/_assets/${name}`, out: name.replace(/\.\w+$/, "") })),
    ],
    outdir: ".build",
    bundle: true,
    splitting: true,
    format: "esm",
    target: "es2022",
    minify: true,
    metafile: true,
    jsx: "automatic",
    jsxImportSource: "preact",
    loader: { ".svg": "copy", ".woff2": "file" },
    entryNames: "[name]-[hash]",
    chunkNames: "[name]-[hash]",
    assetNames: "[name]-[hash]",
    logLevel: "warning",
  });
  const outputs = Object.entries(result.metafile.outputs).map(([path, output]) => ({
    name: basename(path),
    output,
  }));
  const entries = outputs.filter(({ output }) => output.entryPoint !== undefined).map(({ name, output }) => {
    const source = basename(output.entryPoint ?? "").replace(/^_client\.ts$/, "client.js");
    return [source, name] as const;
  });
  const manifest = { entries: Object.fromEntries(entries), files: outputs.map(({ name }) => name) };
  await Deno.writeTextFile(".build/manifest.json", JSON.stringify(manifest));
  // What an earlier build left goes last, so that a server that runs meanwhile never misses a file.
  const kept = new Set([...manifest.files, "manifest.json"]);
  for await (const { name } of Deno.readDir(".build")) {
    if (!kept.has(name)) await Deno.remove(`.build/${name}`);
  }
}

if (import.meta.main) {
  await bundle();
  await stop();
}
