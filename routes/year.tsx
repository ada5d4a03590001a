import type { Context } from "hono";
import { Hono } from "hono";
import type { SecureHeadersVariables } from "hono/secure-headers";
import { renderPrint } from "./_pages/print.tsx";
import type { Season } from "../core/season/season.ts";
import { asOfNow } from "./_as-of.ts";
import { explained } from "./_explained.ts";
import { drawYear } from "./_drawn.ts";
import { movedNews } from "./_moved.ts";
import { offerView } from "./_offers.ts";
import type { Parts } from "./_parts.ts";
import { recordBarOf } from "./_record.ts";
import { Refusal } from "./_shell/errors.tsx";
import { OfferPart } from "./_shell/offer-part.tsx";
import { page } from "./_shell/page.tsx";
import { PlanStrip } from "./_shell/plan-strip.tsx";
import {
  ensurePlanned,
  isOutOfDate,
  readStored,
  readYear,
  type Standing,
  standingOf,
  type Year,
} from "./_standing.ts";
import { firstSeasonId } from "./_store/seasons.ts";
import { whoOf } from "./_who.ts";

/** Without scripts, a page whose plan is in the making is asked for again after this many seconds. */
const AGAIN_AFTER_S = 3;

/** The year page of a season: whole, as the piece that is swapped while the planner works, and for paper. */
export function year(parts: Parts): Hono<{ Variables: SecureHeadersVariables }> {
  return new Hono<{ Variables: SecureHeadersVariables }>()
    .get("/", (c) => {
      const id = firstSeasonId(parts.store);
      if (id === null) {
        throw new Refusal(404, {
          what: "No season is stored yet.",
          where: "the store",
          whatToDo: "Send a season file to /api/seasons.",
        });
      }
      return c.redirect(`/seasons/${id}`);
    })
    .get("/seasons/:id", (c) => {
      const standing = look(parts, c.req.param("id"));
      parts.looker.seen(standing.row.id);
      const { stored, html } = drawn(parts, standing);
      const { id, name } = stored;
      return c.html(page({
        title: "The year",
        nonce: c.get("secureHeadersNonce"),
        assets: parts.assets,
        season: { id, name },
        here: "year",
        record: recordBarOf(parts, stored, whoOf(c)),
        ...(standing.making === null ? {} : { againAfter: AGAIN_AFTER_S }),
        body: (
          <>
            <PlanStrip standing={standing} looking={parts.looker.looking(id)} />
            <OfferPart season={`/seasons/${id}`} offer={offerView(parts, standing)} />
            <main id="main">
              <div id="year" data-version={standing.version} dangerouslySetInnerHTML={{ __html: html }} />
            </main>
          </>
        ),
      }));
    })
    .get("/seasons/:id/year", (c) => {
      return fresh(c).html(drawn(parts, look(parts, c.req.param("id"))).html);
    })
    .get("/seasons/:id/print", (c) => {
      const standing = look(parts, c.req.param("id"));
      const year = readYear(parts, standing);
      return c.html(page({
        title: `${year.season.name}, the year on paper`,
        nonce: c.get("secureHeadersNonce"),
        assets: parts.assets,
        body: <main id="main">{renderPrint(pageProps(parts, standing, year))}</main>,
      }));
    });
}

/** The season as it now stands. The first look at a season that nobody has planned starts its plan. */
function look(parts: Parts, id: string): Standing {
  const standing = standingOf(parts, id);
  if (!standing.unplanned) return standing;
  return ensurePlanned(parts, standing, readYear(parts, standing)) ? standingOf(parts, id) : standing;
}

/** The stored season, and its year as HTML. */
function drawn(parts: Parts, standing: Standing): { stored: Season; html: string } {
  const { stored } = readStored(standing.row);
  const { asOf } = asOfNow(stored, parts.now());
  const props = () => pageProps(parts, standing, readYear(parts, standing));
  return { stored, html: drawYear(parts.store, standing, props, asOf) };
}

function pageProps(parts: Parts, standing: Standing, year: Year) {
  const { season, findings, plan } = year;
  const outOfDate = standing.state === "planned" && plan !== null && isOutOfDate(season, plan);
  return {
    season,
    findings,
    plan,
    state: outOfDate ? "older" as const : standing.state,
    asOf: season.asOf,
    news: movedNews(parts, standing, year),
    explanation: explained(parts, standing, () => year, "slack").explanation,
    message: outOfDate ? `This plan was made for ${plan.asOf.replace("T", ", ")}.` : standing.says,
  };
}

/** Marks an answer as one that no browser or proxy may keep. */
function fresh(c: Context): Context {
  c.header("cache-control", "no-store");
  return c;
}
