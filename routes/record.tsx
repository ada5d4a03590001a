import type { Context } from "hono";
import { Hono } from "hono";
import type { SecureHeadersVariables } from "hono/secure-headers";
import type { VNode } from "preact";
import { renderToString } from "preact-render-to-string";
import { changesBetween } from "../core/edit/change.ts";
import { withPlaces } from "../core/edit/marks.ts";
import type { JsonObject } from "../core/edit/json.ts";
import { changeWords } from "../core/edit/words.ts";
import { isWithin } from "../core/edit/place.ts";
import { undoState } from "../core/edit/undo.ts";
import type { Season } from "../core/season/season.ts";
import { expectedAndCome } from "../core/year/expected.ts";
import { type Conflict, type Edit, type EditAnswer, editSchema, makeEdit, pastSeason } from "./_edits.ts";
import { Expected } from "./_pages/expected.tsx";
import { History, Past, StandsInTheWay } from "./_pages/history.tsx";
import { Who } from "./_pages/who.tsx";
import type { Parts } from "./_parts.ts";
import { editedAt, recordBarOf } from "./_record.ts";
import { Refusal } from "./_shell/errors.tsx";
import { page } from "./_shell/page.tsx";
import { RecordBar } from "./_shell/record-bar.tsx";
import { readStored, standingOf } from "./_standing.ts";
import { bookedBefore, editOf, editsBefore, trailOf, undoneOf } from "./_store/edits.ts";
import { rememberWho, whoIs, whoOf } from "./_who.ts";

/** Edits on one page of the history. */
const PAGE = 50;

type Env = { Variables: SecureHeadersVariables };

/** The farm's own record: who writes, what was changed, and the way back. */
export function record(parts: Parts): Hono<Env> {
  const seasonOf = (c: Context) => readStored(standingOf(parts, c.req.param("id")!).row).stored;

  return new Hono<Env>()
    .get("/seasons/:id/who", (c) => {
      const season = seasonOf(c);
      const back = backOf(c.req.query("back") ?? c.req.header("referer"), season.id);
      return show(c, season, "Who is writing?", <Who season={season} who={whoOf(c)} back={back} />);
    })
    .post("/seasons/:id/who", async (c) => {
      const season = seasonOf(c);
      const { person, other, back } = await c.req.parseBody<Record<string, string>>();
      const who = person === undefined || person === "" ? whoIs(season, other ?? "") : whoIs(season, person);
      if (who !== "") rememberWho(c, who);
      return c.redirect(backOf(back, season.id), 303);
    })
    .get("/seasons/:id/bar", (c) => {
      c.header("cache-control", "no-store");
      return c.html(renderToString(<RecordBar {...recordBarOf(parts, seasonOf(c), whoOf(c))} />));
    })
    .get("/seasons/:id/history", (c) => {
      const season = seasonOf(c);
      const { before, at } = c.req.query();
      const from = Number(before ?? Number.MAX_SAFE_INTEGER);
      const edits = editsBefore(parts.store, season.id, Number.isSafeInteger(from) ? from : 0, PAGE, at);
      const more = edits.length === PAGE ? edits.at(-1)!.revision : null;
      const older = more === null
        ? null
        : `/seasons/${season.id}/history?before=${more}${
          at === undefined ? "" : `&at=${encodeURIComponent(at)}`
        }`;
      const about = at === undefined ? null : changeWords(season, { at }).thing;
      const undone = undoneOf(parts.store, season.id);
      return show(c, season, "What was changed", <History {...{ season, edits, undone, about, older }} />);
    })
    .get("/seasons/:id/expected", (c) => {
      const season = seasonOf(c);
      const rows = expectedAndCome(season, bookedBefore(parts.store, season.id));
      return show(c, season, "What was expected, and what came", <Expected season={season} rows={rows} />);
    })
    .get("/seasons/:id/history/:revision", (c) => {
      const season = seasonOf(c);
      const revision = Number(c.req.param("revision"));
      const past = pastSeason(parts, season.id, revision);
      const since = changesBetween(withPlaces(past), withPlaces(season as unknown as JsonObject));
      const edit = editOf(parts.store, season.id, revision)!;
      return show(c, season, "An earlier season", <Past {...{ season, edit, since }} />);
    })
    .post("/seasons/:id/undo", (c) => goBack(c, "undo"))
    .post("/seasons/:id/redo", (c) => goBack(c, "redo"))
    .post("/seasons/:id/restore", async (c) => {
      const season = seasonOf(c);
      const { id, revision, reason } = await c.req.parseBody<Record<string, string>>();
      const edit = sound({ id, author: authorOf(c), reason, restore: Number(revision) });
      return answered(c, season, makeEdit(parts, season.id, edit), () => {
        throw new Refusal(409, TRY_AGAIN);
      });
    });

  function show(c: Context, season: Season, title: string, body: VNode, status: 200 | 409 = 200): Response {
    return c.html(
      page({
        ...{ title, nonce: c.get("secureHeadersNonce"), assets: parts.assets, here: "history" as const },
        season: { id: season.id, name: season.name },
        record: recordBarOf(parts, season, whoOf(c)),
        body: <main id="main">{body}</main>,
      }),
      status,
    ) as Response;
  }

  async function goBack(c: Context, what: "undo" | "redo"): Promise<Response> {
    const season = seasonOf(c);
    const form = await c.req.parseBody<Record<string, string>>();
    const author = authorOf(c);
    const asked = Number(form.revision) || undoState(trailOf(parts.store, season.id, author))[what] || "last";
    const edit = sound({ id: form.id, author, [what]: asked, seen: readSeen(form.seen) });
    const answer = makeEdit(parts, season.id, edit);
    return answered(c, season, answer, (conflicts) => {
      const told = conflicts.map((one) => ({
        line: theirWords(parts, season, one),
        wanted: changeWords(season, { at: one.place, from: one.now, to: one.wanted }).to || "nothing",
        ...{ place: one.place, now: one.now, author: one.author, when: editedAt(season, one as never) },
      }));
      const body = <StandsInTheWay {...{ season, what, conflicts: told, revision: Number(asked) }} />;
      return show(c, season, "A later change stands in the way", body, 409);
    });
  }

  function answered(
    c: Context,
    season: Season,
    answer: EditAnswer,
    onConflict: (conflicts: Extract<EditAnswer, { kind: "conflict" }>["conflicts"]) => Response,
  ): Response {
    if (answer.kind === "saved" || answer.kind === "nothing") {
      return c.redirect(backOf(c.req.header("referer"), season.id), 303);
    }
    if (answer.kind === "conflict") return onConflict(answer.conflicts);
    if (answer.kind === "no reason") {
      throw new Refusal(422, { ...NO_REASON, where: answer.places.join(", ") });
    }
    throw new Refusal(422, {
      what: "The season would not hold after that.",
      where: answer.findings.map(({ thing }) => thing).join(", "),
      whatToDo: answer.findings.map(({ message, wayOut }) => `${message} ${wayOut}`).join(" "),
    });
  }
}

/** What the other person's edit did to the place, or to what it stands in. */
function theirWords({ store }: Parts, season: Season, { place, revision, now }: Conflict): string {
  const edit = editOf(store, season.id, revision);
  const change = edit?.changes.find(({ at }) => isWithin(place, at) || isWithin(at, place));
  return changeWords(season, change ?? { at: place, to: now }).line;
}

/** An edit as a form of the history sends it. Refuses what no such form sends. */
function sound(sent: Record<string, unknown>): Edit {
  const parsed = editSchema.safeParse(sent);
  if (parsed.success) return parsed.data;
  throw new Refusal(400, {
    what: "This is not what the page sends.",
    where: parsed.error.issues.map(({ path }) => path.join("/")).join(", ") || "the form",
    whatToDo: "Open the history anew and try from there.",
  });
}

function readSeen(text = "[]"): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

const TRY_AGAIN = {
  what: "Somebody has changed the season at this very moment.",
  where: "the season",
  whatToDo: "Nothing was changed. Look at the history and try again.",
};
const NO_REASON = {
  what: "This would correct or withdraw what was written down as having happened.",
  whatToDo: "Go back and say why; the reason stands beside it in the history.",
};

/** Who takes something back. Refuses when nobody has said who is writing. */
function authorOf(c: Context): string {
  const who = whoOf(c);
  if (who !== null) return who;
  throw new Refusal(409, {
    what: "Nobody has said who is writing here.",
    where: c.req.path,
    whatToDo: 'Follow "Who is writing?" at the head of the page, and try again.',
  });
}

/** The page of the season to go on with: only an address of this server, and no page that only answers a form. */
function backOf(address: string | undefined, seasonId: string): string {
  const home = `/seasons/${seasonId}`;
  const url = address === undefined ? null : URL.parse(address, "http://127.0.0.1");
  // What was done before is no news after this.
  for (const name of ["done", "key", "of"]) url?.searchParams.delete(name);
  const path = url === null ? home : url.pathname + url.search;
  return path.startsWith(home) && !/\/(undo|redo|restore|who)(\?|$)/.test(path) ? path : home;
}
