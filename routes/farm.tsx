import type { Context } from "hono";
import { Hono } from "hono";
import type { SecureHeadersVariables } from "hono/secure-headers";
import type { VNode } from "preact";
import { dateOf } from "../core/calendar.ts";
import { contentOf } from "../core/form/contents.ts";
import { firstEntries } from "../core/form/first-entries.ts";
import { makeForm } from "../core/form/make.ts";
import { keyBy, keyFields, type Place, rowBelow, stepsOf } from "../core/edit/place.ts";
import type { Season } from "../core/season/season.ts";
import { asOfNow } from "./_as-of.ts";
import { type Desk, deskAt, deskOfGone, deskOrRefuse, isFresh } from "./_farm/desk.ts";
import { type Done, doneAt, said } from "./_farm/done.ts";
import { NO_REASON, saveForm, wrongsOf } from "./_farm/save.ts";
import { saveValue } from "./_farm/save-value.ts";
import { whyItStays } from "./_farm/in-use.ts";
import { type SentForm, sentForm, UNREADABLE } from "./_farm/sent.ts";
import { formView, takeOutPage } from "./_farm/views.tsx";
import { ContentsPage, ListPage } from "./_pages/farm.tsx";
import { FormPage } from "./_pages/form.tsx";
import type { Parts } from "./_parts.ts";
import { recordBarOf } from "./_record.ts";
import { Refusal } from "./_shell/errors.tsx";
import { limitBody } from "./_shell/guard.ts";
import { page } from "./_shell/page.tsx";
import { readStored, standingOf } from "./_standing.ts";
import { editOnce } from "./_store/edits.ts";
import { nameOfWho, rememberWho, whoIs, whoOf } from "./_who.ts";

type Variables = { Variables: SecureHeadersVariables };
type Request = Context<Variables>;

/** The largest form that is taken, in bytes; the roster of a large farm is under a tenth of it. */
const LARGEST_FORM = 1024 * 1024;

/** Every part of the season file: its contents, its lists, and a form for each row. */
export function farm(parts: Parts): Hono<Variables> {
  const personOf = (c: Context, season: Season) => nameOfWho(season, whoOf(c) ?? "");
  const stored = (c: Context): Season => readStored(standingOf(parts, c.req.param("id") ?? "").row).stored;
  const answer = (c: Request, season: Season, title: string, body: VNode, status: 200 | 409 | 422 = 200) => {
    c.header("cache-control", "no-store");
    const { id, name } = season;
    const nonce = c.get("secureHeadersNonce");
    const record = recordBarOf(parts, season, whoOf(c));
    return c.html(
      page({ title, nonce, assets: parts.assets, season: { id, name }, here: "farm", record, body }),
      status,
    );
  };
  const limit = limitBody(LARGEST_FORM, "This form is too large.", "Send fewer rows at once.");

  return new Hono<Variables>()
    .get("/seasons/:id/farm", (c) => {
      const season = stored(c);
      return answer(c, season, "The farm", <ContentsPage season={season} said={said(c, season)} />);
    })
    .get("/seasons/:id/farm/list", (c) => {
      const season = stored(c), place = c.req.query("at") ?? "";
      const content = contentOf(place);
      if (content === null || content.place !== place || content.kind !== "list") {
        throw new Refusal(404, {
          what: "There is no such list.",
          where: place,
          whatToDo: `Choose one from the contents at /seasons/${season.id}/farm.`,
        });
      }
      return answer(
        c,
        season,
        content.title,
        <ListPage season={season} content={content} said={said(c, season)} />,
      );
    })
    .get("/seasons/:id/farm/form", (c) => {
      const desk = deskOrRefuse(stored(c), c.req.query("at") ?? "");
      const person = personOf(c, desk.season), editId = crypto.randomUUID();
      if (c.req.query("out") !== undefined && canGo(desk)) {
        const sent = { editId, who: person, why: "" };
        return answer(c, desk.season, desk.thing, takeOutPage(desk, sent, []));
      }
      const today = dateOf(asOfNow(desk.season, parts.now()).asOf);
      const form = makeForm(desk.source, desk.fresh ? firstEntries(desk.source, today) : undefined);
      const view = formView(desk, { editId, who: person, why: "" }, { form });
      return answer(c, desk.season, view.title, <FormPage view={view} />);
    })
    .post("/seasons/:id/farm/form", limit, async (c) => {
      const season = stored(c), sent = await sentForm(c);
      if (sent.who !== "") rememberWho(c, whoIs(season, sent.who));
      const desk = sentDesk(season, sent);
      // A form that had no answer is sent again: what it asked for is done, whatever stands there by now.
      const made = editOnce(parts.store, season.id, sent.editId);
      if (made !== null) {
        const what = sent.act === "take-out" ? "takenOut" : desk.fresh ? "added" : "changed";
        return done(c, desk, what, keyIn(made.changes[0]?.at ?? ""));
      }
      if (sent.act === "take-out") return takeOut(c, desk, sent);
      if (sent.act === "add" || sent.act === "show") {
        const form = makeForm(desk.source, sent.act === "add" ? withRow(sent) : sent.entries);
        const view = formView(desk, sent, { form });
        return answer(c, season, view.title, <FormPage view={view} />);
      }
      const outcome = saveForm(parts, desk, sent);
      switch (outcome.kind) {
        case "saved":
          return done(c, desk, desk.fresh ? "added" : "changed", outcome.key);
        case "same":
          return c.redirect(doneAt(desk, "same", outcome.key), 303);
        case "wrong": {
          const view = formView(desk, sent, outcome);
          return answer(c, season, view.title, <FormPage view={view} />, 422);
        }
        case "clash": {
          const view = formView(outcome.desk, { ...sent, editId: crypto.randomUUID() }, outcome);
          return answer(c, season, view.title, <FormPage view={view} />, 409);
        }
      }
    });

  function takeOut(c: Request, desk: Desk, sent: SentForm): Response {
    const { season, place, source } = desk;
    if (!canGo(desk)) {
      throw new Refusal(400, {
        what: "This cannot be taken out.",
        where: place,
        whatToDo: "Change it instead.",
      });
    }
    const wrongs = wrongsOf(desk, sent);
    const key = place.slice(place.lastIndexOf("/=") + 2);
    if (wrongs.length === 0) {
      const author = whoIs(season, sent.who);
      const edit = { place, seen: source.seen, value: undefined, author, reason: sent.why };
      const saved = saveValue(parts, season.id, { ...edit, editId: sent.editId });
      if (saved.kind === "saved") return done(c, desk, "takenOut", key);
      if (saved.kind === "no reason") wrongs.push(NO_REASON);
      else if (saved.kind === "findings") {
        wrongs.push(...whyItStays(saved.findings));
      } else {
        const now = deskAt(stored(c), place);
        if (now === null) return c.redirect(doneAt(desk, "takenOut", key), 303);
        const { author } = saved.conflicts[0] ?? { author: "Somebody" };
        wrongs.push({
          name: "",
          label: author,
          message: "has changed this in the meantime.",
          wayOut: "Look at what stands here now, and take it out if that is still right.",
        });
        return answer(
          c,
          season,
          desk.thing,
          takeOutPage(now, { ...sent, editId: crypto.randomUUID() }, wrongs),
          409,
        );
      }
    }
    return answer(c, season, desk.thing, takeOutPage(desk, sent, wrongs), 422);
  }

  /** Leads back to where the form was opened from; the browser remembers who writes there. */
  function done(c: Request, desk: Desk, what: Done, key: string): Response {
    return c.redirect(doneAt(desk, what, key), 303);
  }
}

/** The key of the row that a place stands in; empty where it stands in none. */
function keyIn(place: Place): string {
  return stepsOf(place).find((step) => step.startsWith("="))?.slice(1) ?? "";
}

function canGo({ fresh, source }: Desk): boolean {
  return !fresh && typeof source.path.at(-1) === "number";
}

/** The desk of a sent form: the place as it is now, with what the person saw there. */
function sentDesk(season: Season, sent: SentForm): Desk {
  const { place, seen } = sent;
  const there = deskAt(season, place);
  if (isFresh(place)) return deskOrRefuse(season, place);
  if (!isOfPlace(seen, place)) throw new Refusal(400, { ...UNREADABLE, where: place });
  const desk = there ?? { ...deskOfGone(season, place), fresh: false, place };
  return { ...desk, source: { ...desk.source, seen } };
}

/** Whether this can have been seen at a place: a row has its key in the place, and never loses it. */
function isOfPlace(seen: unknown, place: Place): boolean {
  if (typeof seen !== "object" || seen === null || Array.isArray(seen)) return false;
  const list = contentOf(place)?.place ?? "";
  return list === place || rowBelow(list, keyBy(seen, keyFields(list.split("/").slice(1))) ?? "") === place;
}

function withRow({ about, entries }: SentForm): ReadonlyMap<string, readonly string[]> {
  const rows = Number(entries.get(`${about}:rows`)?.[0] ?? 0);
  return new Map(entries).set(`${about}:rows`, [String(rows + 1)]);
}
