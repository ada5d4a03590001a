import type { Context } from "hono";
import { Hono } from "hono";
import { checkSeason, type Finding } from "../core/season/check.ts";
import type { Season } from "../core/season/season.ts";
import { makeEdit, pastSeason } from "./_edits.ts";
import type { Parts } from "./_parts.ts";
import { seasonEntry } from "./_season-file.ts";
import { Refusal } from "./_shell/errors.tsx";
import { LARGEST_FILE, limitBody } from "./_shell/guard.ts";
import { readYear, standingOf } from "./_standing.ts";
import { insertSeason } from "./_store/seasons.ts";

/** Season files in and out. An ETag is the season's revision. */
export function seasons(parts: Parts): Hono {
  const limit = limitBody(LARGEST_FILE, "The season file is too large.", "Send a file of at most 8 MiB.");
  return new Hono()
    .get("/api/seasons/:id", (c) => {
      const { row } = standingOf(parts, c.req.param("id"));
      const revision = c.req.query("revision");
      if (revision !== undefined) return c.json(pastSeason(parts, row.id, Number(revision)));
      return c.body(row.document, 200, { "content-type": "application/json", etag: `"${row.revision}"` });
    })
    .get("/api/seasons/:id/check", (c) => {
      const standing = standingOf(parts, c.req.param("id"));
      return c.json({ findings: readYear(parts, standing).findings });
    })
    .post("/api/seasons", limit, async (c) => {
      const { season, findings } = await sound(c);
      const beginning = { author: authorOf(c), reason: "Brought in as a file." };
      if (!insertSeason(parts.store, seasonEntry(season, parts.now()), beginning)) {
        throw new Refusal(409, {
          what: "A season of this name is already stored.",
          where: season.id,
          whatToDo: `Replace it with PUT /api/seasons/${season.id}, or give the file another id.`,
        });
      }
      const location = `/api/seasons/${season.id}`;
      return c.json({ id: season.id, revision: 1, findings }, 201, { location, etag: '"1"' });
    })
    .put("/api/seasons/:id", limit, async (c) => {
      const { row } = standingOf(parts, c.req.param("id"));
      const { season, findings } = await sound(c);
      if (season.id !== row.id) {
        throw new Refusal(409, {
          what: "The file is of another season than the address.",
          where: `id ${season.id}, address ${row.id}`,
          whatToDo: "Send it to the address of its own season.",
        });
      }
      // A tag that came with a compressed answer is marked as weak.
      const expected = c.req.header("if-match")?.replace(/^W\//, "") ?? `"${row.revision}"`;
      if (expected !== `"${row.revision}"`) {
        throw new Refusal(412, {
          what: "Somebody has changed this season in the meantime.",
          where: `revision ${row.revision}`,
          whatToDo: "Read it again, put your change into it, and send that.",
        });
      }
      const answer = makeEdit(parts, row.id, {
        ...{ id: crypto.randomUUID(), author: authorOf(c), reason: "Replaced by a file.", seen: [] },
        replace: season,
      });
      const { revision } = answer.kind === "saved" ? answer : row;
      return c.json({ id: season.id, revision, findings }, 200, { etag: `"${revision}"` });
    });
}

/** Who sends a file; a program that says nothing is called what it is. */
function authorOf(c: Context): string {
  return c.req.query("author")?.trim().slice(0, 60) || "a program";
}

/** The season that a request carries; refuses one that has errors with the list of them. */
async function sound(c: Context): Promise<{ season: Season; findings: readonly Finding[] }> {
  const input: unknown = await c.req.json().catch(() => {
    throw new Refusal(400, {
      what: "The file is not JSON.",
      where: c.req.path,
      whatToDo: "Send the season file as it was saved, in UTF-8.",
    });
  });
  const { season, findings } = checkSeason(input);
  if (season === null) {
    const errors = findings.filter(({ level }) => level === "error").length;
    throw new Refusal(422, {
      what: `The season has ${errors} ${errors === 1 ? "error" : "errors"}.`,
      where: c.req.path,
      whatToDo: "Mend what the findings name and send the file again.",
    }, { findings });
  }
  return { season, findings };
}
