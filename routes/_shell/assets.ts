/** The browser's files, as islands/_bundle.ts made them. Their names hold a hash of their content. */
export interface Assets {
  /** The address of a source file's bundle, such as "client.js" -> "/assets/client-AB12CD34.js". */
  address(source: string): string | null;
  /** The style sheets in the order in which they apply; print sheets come last. */
  readonly styles: readonly { readonly address: string; readonly print: boolean }[];
  /** The content of a file that the bundle holds, or null for any other name. */
  read(name: string): Promise<{ body: Uint8Array<ArrayBuffer>; type: string } | null>;
}

/** Where islands/_bundle.ts says which source became which file. */
export const MANIFEST = "manifest.json";

const types: Record<string, string> = {
  js: "text/javascript; charset=utf-8",
  css: "text/css; charset=utf-8",
  svg: "image/svg+xml",
  woff2: "font/woff2",
};

/** Reads the bundle's list from `folder`, which ends in a slash. Throws when the islands were not built. */
export async function openAssets(folder: URL): Promise<Assets> {
  const text = await Deno.readTextFile(new URL(MANIFEST, folder)).catch(() => {
    throw new Error("The islands are not built. Run `deno task build` first.");
  });
  const manifest = JSON.parse(text) as { entries: Record<string, string>; files: string[] };
  const files = new Set(manifest.files);
  const address = (source: string) => {
    const name = manifest.entries[source];
    return name === undefined ? null : `/assets/${name}`;
  };
  // By the name before its ending, so that section.css comes before section-bands.css, which goes on from it.
  const sheets = Object.keys(manifest.entries).filter((source) => source.endsWith(".css"))
    .map((source) => source.slice(0, -".css".length)).sort().map((name) => `${name}.css`);
  const styles = sheets.map((source) => ({
    address: `/assets/${manifest.entries[source]}`,
    print: source.startsWith("print"),
  }));
  return {
    address,
    styles: [...styles.filter((style) => !style.print), ...styles.filter((style) => style.print)],
    async read(name) {
      if (!files.has(name)) return null;
      const type = types[name.slice(name.lastIndexOf(".") + 1)] ?? "application/octet-stream";
      return { body: await Deno.readFile(new URL(name, folder)), type };
    },
  };
}
