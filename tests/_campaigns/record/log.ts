import type { EditRow } from "../../../routes/_store/edits.ts";

/** The edits of a season after a revision, oldest first, page by page. */
export async function readLog(address: string, after: number): Promise<EditRow[]> {
  const rows: EditRow[] = [];
  for (;;) {
    const from = rows.at(-1)?.revision ?? after;
    const { edits } = await (await fetch(`${address}/edits?after=${from}`)).json() as { edits: EditRow[] };
    if (edits.length === 0) return rows;
    rows.push(...edits);
  }
}
