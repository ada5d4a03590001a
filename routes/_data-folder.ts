import { join } from "node:path";

/** Where everything is stored, as RICKYARD_DATA says, and the store's file in it. */
export function dataFolder(): { readonly folder: string; readonly store: string } {
  const folder = Deno.env.get("RICKYARD_DATA") ?? ".data";
  return { folder, store: join(folder, "rickyard.sqlite") };
}
