import type { Context } from "hono";
import { Hono } from "hono";
import type { SecureHeadersVariables } from "hono/secure-headers";
import { renderToString } from "preact-render-to-string";
import { renderPrint } from "./_pages/print.tsx";
import { renderYear } from "./_pages/year.tsx";
import { movedNews } from "./_moved.ts";
import type { Parts } from "./_parts.ts";
import { recordBarOf } from "./_record.ts";
import { Refusal } from "./_shell/errors.tsx";
import { page } from "./_shell/page.tsx";
import { PlanStrip } from "./_shell/plan-strip.tsx";
import { ensurePlanned, isOutOfDate, readYear, type Standing, standingOf, type Year } from "./_standing.ts";
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
      const { standing, year } = look(parts, c.req.param("id"));
      const { id, name } = year.season;
      return c.html(page({
        title: "The year",
        nonce: c.get("secureHeadersNonce"),
        assets: parts.assets,
        season: { id, name },
        here: "year",
        record: recordBarOf(parts, year.stored, whoOf(c)),
        ...(standing.making === null ? {} : { againAfter: AGAIN_AFTER_S }),
        body: (
          <>
            <PlanStrip standing={standing} />
            <main id="main">
              <div id="year" data-version={standing.version}>
                {renderYear(pageProps(parts, standing, year))}
              </div>
            </main>
          </>
        ),
      }));
    })
    .get("/seasons/:id/year", (c) => {
      const { standing, year } = look(parts, c.req.param("id"));
      return fresh(c).html(renderToString(renderYear(pageProps(parts, standing, year))));
    })
    .get("/seasons/:id/print", (c) => {
      const { standing, year } = look(parts, c.req.param("id"));
      return c.html(page({
        title: `${year.season.name}, the year on paper`,
        nonce: c.get("secureHeadersNonce"),
        assets: parts.assets,
        body: <main id="main">{renderPrint(pageProps(parts, standing, year))}</main>,
      }));
    });
}

/** The season as it now stands. The first look at a season that nobody has planned starts its plan. */
function look(parts: Parts, id: string): { standing: Standing; year: Year } {
  const standing = standingOf(parts, id);
  const year = readYear(parts, standing);
  return { standing: ensurePlanned(parts, standing, year) ? standingOf(parts, id) : standing, year };
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
    message: outOfDate ? `This plan was made for ${plan.asOf.replace("T", ", ")}.` : standing.says,
  };
}

/** Marks an answer as one that no browser or proxy may keep. */
function fresh(c: Context): Context {
  c.header("cache-control", "no-store");
  return c;
}
