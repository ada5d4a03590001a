import { Hono } from "hono";
import type { SecureHeadersVariables } from "hono/secure-headers";
import { explained } from "./_explained.ts";
import { RemediesPage } from "./_pages/remedies.tsx";
import type { Parts } from "./_parts.ts";
import { recordBarOf } from "./_record.ts";
import { Live } from "./_shell/live.tsx";
import { page } from "./_shell/page.tsx";
import { ensurePlanned, readYear, standingOf } from "./_standing.ts";
import { whoOf } from "./_who.ts";

/** While something is being worked out, the page is asked for again after this many seconds. */
const AGAIN_AFTER_S = 5;

/** What limits a season's year and what would help. A look at it begins to work it out. */
export function remedies(parts: Parts): Hono<{ Variables: SecureHeadersVariables }> {
  return new Hono<{ Variables: SecureHeadersVariables }>()
    .get("/seasons/:id/remedies", (c) => {
      const standing = standingOf(parts, c.req.param("id"));
      const year = readYear(parts, standing);
      const planning = ensurePlanned(parts, standing, year) || standing.making !== null;
      const known = explained(parts, standing, () => year, "whole");
      const { id, name } = year.stored;
      c.header("cache-control", "no-store");
      return c.html(page({
        title: "What would help",
        nonce: c.get("secureHeadersNonce"),
        assets: parts.assets,
        season: { id, name },
        here: "year",
        record: recordBarOf(parts, year.stored, whoOf(c)),
        ...(planning || known.isBusy ? { againAfter: AGAIN_AFTER_S } : {}),
        body: (
          <main id="main">
            <Live season={`/seasons/${id}`} isBusy={planning || known.isBusy}>
              <RemediesPage season={year.stored} plan={year.plan} known={known} planning={planning} />
            </Live>
          </main>
        ),
      }));
    });
}
