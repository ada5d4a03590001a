import type { Context } from "hono";
import { Hono } from "hono";
import type { SecureHeadersVariables } from "hono/secure-headers";
import { freeId, stemOf } from "../core/form/free-id.ts";
import { checkSeason } from "../core/season/check.ts";
import type { Season } from "../core/season/season.ts";
import { beginSeason } from "../core/season/begin.ts";
import { wallTime } from "../core/zone.ts";
import { type Shelved, Shelves } from "./_pages/shelves.tsx";
import type { Parts } from "./_parts.ts";
import { seasonEntry } from "./_season-file.ts";
import { Refusal } from "./_shell/errors.tsx";
import { LARGEST_FILE, limitBody } from "./_shell/guard.ts";
import { page } from "./_shell/page.tsx";
import { standingOf } from "./_standing.ts";
import { allSeasons, insertSeason, shelve, SHELVES } from "./_store/seasons.ts";
import { whoOf } from "./_who.ts";

type Env = { Variables: SecureHeadersVariables };

const MOVED = { open: "is open again", archived: "was put away", "thrown away": "was thrown away" } as const;

/** The list of seasons, and the ways into it and out of it. Nothing that is thrown away is lost: it can be brought back. */
export function shelves(parts: Parts): Hono<Env> {
  const limit = limitBody(LARGEST_FILE, "The season file is too large.", "Bring in a file of at most 8 MiB.");
  return new Hono<Env>()
    .get("/seasons", (c) =>
      c.html(page({
        title: "Seasons",
        nonce: c.get("secureHeadersNonce"),
        assets: parts.assets,
        body: (
          <main id="main">
            <Shelves seasons={allSeasons(parts.store).map((row) => shelved(parts, row.id))} said={said(c)} />
          </main>
        ),
      })))
    .post("/seasons", limit, async (c) => {
      const { file } = await c.req.parseBody();
      const text = file instanceof File ? await file.text() : "";
      return put(c, seasonIn(text), "Brought in as a file.");
    })
    .post("/seasons/begin", async (c) => {
      const { name = "" } = await c.req.parseBody<Record<string, string>>();
      const zone = Intl.DateTimeFormat().resolvedOptions().timeZone;
      const now = wallTime(zone, Math.floor(parts.now().getTime() / 60_000));
      return put(
        c,
        beginSeason(name.trim() || "A new farm", stemOf(name) || "farm", zone, now),
        "Begun with nothing.",
      );
    })
    .post("/seasons/:id/shelf", async (c) => {
      const { row } = standingOf(parts, c.req.param("id"));
      const { to } = await c.req.parseBody<Record<string, string>>();
      const shelf = SHELVES.find((one) => one === to);
      if (shelf === undefined) {
        throw new Refusal(400, {
          what: "There is no such place for a season.",
          where: to ?? "nothing",
          whatToDo: "Go back to the list of seasons and try from there.",
        });
      }
      if (shelf !== "open") parts.solver.stop(row.id);
      shelve(parts.store, row.id, shelf);
      parts.looker.giveUp(row.id);
      return c.redirect(`/seasons?moved=${row.id}`, 303);
    });

  /** Stores a season under its own id, or under the next that is free, and goes to it. */
  function put(c: Context, season: Season, reason: string): Response {
    const used = new Set(allSeasons(parts.store).map(({ id }) => id));
    const id = freeId(season.id, used);
    const author = whoOf(c) ?? "somebody";
    insertSeason(parts.store, seasonEntry({ ...season, id }, parts.now()), { author, reason });
    return c.redirect(id === season.id ? `/seasons/${id}` : `/seasons?came=${id}`, 303);
  }

  function said(c: Context): string {
    const { moved, came } = c.req.query();
    const of = allSeasons(parts.store).find(({ id }) => id === (moved ?? came));
    if (of === undefined) return "";
    const { name } = shelved(parts, of.id);
    return moved === undefined
      ? `${name} was brought in under the id ${of.id}, because another season has the one in its file.`
      : `${name} ${MOVED[of.shelf]}.`;
  }
}

function shelved(parts: Parts, id: string): Shelved {
  const { row, says } = standingOf(parts, id);
  const { name, positionAt, horizonEnd } = JSON.parse(row.document) as Season;
  return { row, name, from: positionAt.slice(0, 10), to: horizonEnd, plan: row.shelf === "open" ? says : "" };
}

function seasonIn(text: string): Season {
  let input: unknown;
  try {
    input = JSON.parse(text);
  } catch {
    throw new Refusal(422, {
      what: "This file is not JSON.",
      where: "the file",
      whatToDo: "Choose a season file as it was saved.",
    });
  }
  const { season, findings } = checkSeason(input);
  if (season !== null) return season;
  const errors = findings.filter(({ level }) => level === "error");
  throw new Refusal(422, {
    what: errors.length === 1 ? "The season has 1 error." : `The season has ${errors.length} errors.`,
    where: errors.map(({ thing, field }) => `${thing} ${field}`).slice(0, 10).join(", "),
    whatToDo: errors.slice(0, 10).map(({ message, wayOut }) => `${message} ${wayOut}`).join(" "),
  });
}
