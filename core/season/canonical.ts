import type { Season } from "./season.ts";

/**
 * JSON text that depends on content alone: keys are sorted by code unit, nothing is left between tokens, and members
 * that are undefined are left out, as `JSON.stringify` does. The order of lists is content.
 */
export function canonicalJson(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(canonicalJson).join(",")}]`;
  if (value === null || typeof value !== "object") return JSON.stringify(value) ?? "null";
  const members = Object.entries(value).filter(([, member]) => member !== undefined)
    .sort(([a], [b]) => a < b ? -1 : a > b ? 1 : 0);
  return `{${members.map(([key, member]) => `${JSON.stringify(key)}:${canonicalJson(member)}`).join(",")}}`;
}

/** SHA-256 of a season's canonical JSON, 64 hexadecimal digits. A plan keeps it to know its own season again. */
export async function seasonHash(season: Season): Promise<string> {
  const bytes = new TextEncoder().encode(canonicalJson(season));
  const digest = await globalThis.crypto.subtle.digest("SHA-256", bytes);
  return Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, "0")).join("");
}
