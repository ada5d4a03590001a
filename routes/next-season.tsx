import type { Context } from "hono";
import { Hono } from "hono";
import type { SecureHeadersVariables } from "hono/secure-headers";
import type { VNode } from "preact";
import { addDays, dateOf, isIsoDate, isoDate } from "../core/calendar.ts";
import { freeId, stemOf } from "../core/form/free-id.ts";
import { nextSeason } from "../core/next/next-season.ts";
import { checkSeason } from "../core/season/check.ts";
import { planEndDay } from "../core/season/tail.ts";
import { NextSeasonBegun, NextSeasonForm } from "./_pages/next-season.tsx";
import type { Parts } from "./_parts.ts";
import { seasonEntry } from "./_season-file.ts";
import { Refusal } from "./_shell/errors.tsx";
import { page } from "./_shell/page.tsx";
import { readYear, standingOf } from "./_standing.ts";
import { allSeasons, insertSeason } from "./_store/seasons.ts";
import { whoOf } from "./_who.ts";

type Env = { Variables: SecureHeadersVariables };

/** Beginning the next season from a day of this one. */
export function nextSeasons(parts: Parts): Hono<Env> {
  return new Hono<Env>()
    .get("/seasons/:id/next", (c) => {
      const { season, plan } = readYear(parts, standingOf(parts, c.req.param("id")));
      const today = dateOf(season.asOf);
      const date = plan === null ? today : addDays(today, 1);
      const plannedTo = plan === null ? null : isoDate(planEndDay(season));
      const name = `${season.name}, next year`.slice(0, 80);
      return show(c, "Begin the next season", <NextSeasonForm {...{ season, date, name, plannedTo }} />);
    })
    .post("/seasons/:id/next", async (c) => {
      const standing = standingOf(parts, c.req.param("id"));
      if (standing.making !== null) {
        throw new Refusal(409, {
          what: "The plan of this season is being made anew, so what will lie where is not known yet.",
          where: standing.row.id,
          whatToDo: "Wait until the year says that it is planned, go back, and begin the next season then.",
        });
      }
      const { season, plan } = readYear(parts, standing);
      const { date = "", name = "" } = await c.req.parseBody<Record<string, string>>();
      if (!isIsoDate(date) || name.trim() === "") {
        throw new Refusal(422, {
          what: "The next season needs a first day and a name.",
          where: isIsoDate(date) ? "the name" : `first day ${date}`,
          whatToDo: "Go back and give both.",
        });
      }
      const used = new Set(allSeasons(parts.store).map(({ id }) => id));
      const id = freeId(stemOf(name) || season.id, used);
      const { season: made, notes } = begun(() => nextSeason(season, plan, date, { id, name: name.trim() }));
      const { season: next, findings } = checkSeason(made);
      if (next === null) {
        const errors = findings.filter(({ level }) => level === "error").slice(0, 10);
        throw new Refusal(422, {
          what: "What lies where on that morning cannot be an opening position.",
          where: errors.map(({ thing }) => thing).join(", "),
          whatToDo: `${errors.map(({ message }) => message).join(" ")} Give another first day.`,
        });
      }
      const reason = `Begun from ${season.name} as on ${date}.`;
      insertSeason(parts.store, seasonEntry(next, parts.now()), {
        ...{ author: whoOf(c) ?? "somebody", reason },
        follows: season.id,
      });
      return show(c, "The next season", <NextSeasonBegun season={next} notes={notes} />);
    });

  function show(c: Context, title: string, body: VNode): Response {
    const nonce = c.get("secureHeadersNonce");
    return c.html(
      page({ title, nonce, assets: parts.assets, body: <main id="main">{body}</main> }),
    ) as Response;
  }
}

/** A day from which no season can begin is a trouble of the person who gave it. */
function begun<Result>(work: () => Result): Result {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    throw new Refusal(422, {
      what: error.message,
      where: "first day",
      whatToDo: "Go back and give another day.",
    });
  }
}
