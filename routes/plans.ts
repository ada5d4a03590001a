import { Hono } from "hono";
import type { Parts } from "./_parts.ts";
import { Refusal } from "./_shell/errors.tsx";
import { standingOf } from "./_standing.ts";
import { latestSolved } from "./_store/plans.ts";

/** The plan of a season as a file. */
export function plans(parts: Parts): Hono {
  return new Hono().get("/api/seasons/:id/plan", (c) => {
    const { row, says } = standingOf(parts, c.req.param("id"));
    const solved = latestSolved(parts.store, row.id);
    if (solved?.document == null) {
      throw new Refusal(404, {
        what: "There is no plan for this season yet.",
        where: row.id,
        whatToDo: `${says} Ask again when it is planned.`,
      });
    }
    return c.body(solved.document, 200, {
      "content-type": "application/json",
      etag: `"${solved.id}"`,
      "x-season-revision": String(solved.season_revision),
    });
  });
}
