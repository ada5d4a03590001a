import { Hono } from "hono";
import { z } from "zod";
import { changesBetween } from "../core/edit/change.ts";
import { withPlaces } from "../core/edit/marks.ts";
import { type EditAnswer, editSchema, makeEdit, pastSeason } from "./_edits.ts";
import type { Parts } from "./_parts.ts";
import { Refusal } from "./_shell/errors.tsx";
import { limitBody } from "./_shell/guard.ts";
import { standingOf } from "./_standing.ts";
import { editsAfter, editsBefore } from "./_store/edits.ts";

/** The largest edit that is taken, in bytes: one that adds a whole list is far smaller. */
const LARGEST_EDIT = 1024 * 1024;
/** The most edits that one answer lists. */
const MOST_LISTED = 200;

const STATUS: Readonly<Record<EditAnswer["kind"], 200 | 201 | 409 | 422>> = {
  saved: 201,
  nothing: 200,
  conflict: 409,
  "no reason": 422,
  findings: 422,
};

/** Edits of a season: making one, and reading the log. */
export function edits(parts: Parts): Hono {
  const limit = limitBody(
    LARGEST_EDIT,
    "The edit is too large.",
    "Send a whole season with PUT, or change less at once.",
  );
  return new Hono()
    .post("/api/seasons/:id/edits", limit, async (c) => {
      const parsed = editSchema.safeParse(await c.req.json().catch(() => null));
      if (!parsed.success) {
        throw new Refusal(400, {
          what: "This is not an edit.",
          where: parsed.error.issues.map(({ path }) => path.join("/")).join(", ") || c.req.path,
          whatToDo:
            "Send id, author and changes (each at, from, to), or undo, redo or restore with a revision. " +
            z.prettifyError(parsed.error),
        });
      }
      const answer = makeEdit(parts, c.req.param("id"), parsed.data);
      return c.json(answer, STATUS[answer.kind]);
    })
    .get("/api/seasons/:id/edits", (c) => {
      const { row } = standingOf(parts, c.req.param("id"));
      const { after, before, at } = c.req.query();
      const rows = after === undefined
        ? editsBefore(parts.store, row.id, Number(before ?? row.revision + 1) || 0, MOST_LISTED, at)
        : editsAfter(parts.store, row.id, Number(after) || 0, MOST_LISTED);
      return c.json({ revision: row.revision, edits: rows });
    })
    .get("/api/seasons/:id/changes", (c) => {
      const { row } = standingOf(parts, c.req.param("id"));
      const [from, to] = [Number(c.req.query("from")), Number(c.req.query("to") ?? row.revision)];
      const [before, after] = [from, to].map((revision) => withPlaces(pastSeason(parts, row.id, revision)));
      return c.json({ from, to, changes: changesBetween(before!, after!) });
    });
}
