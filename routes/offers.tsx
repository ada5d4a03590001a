import type { Context } from "hono";
import { Hono } from "hono";
import { renderToString } from "preact-render-to-string";
import { leaveOffer, offerView, takeOffer } from "./_offers.ts";
import type { Parts } from "./_parts.ts";
import { OfferPart } from "./_shell/offer-part.tsx";
import { standingOf } from "./_standing.ts";
import { whoOf } from "./_who.ts";

/** Better plans that are offered: taking one, leaving it, and looking no further for one. */
export function offers(parts: Parts): Hono {
  const decided = async (c: Context, decide: typeof takeOffer) => {
    const { id } = standingOf(parts, c.req.param("id")!).row;
    const { offer } = await c.req.parseBody<Record<string, string>>();
    decide(parts, id, Number(offer), whoOf(c) ?? "somebody");
    parts.looker.seen(id);
    return c.redirect(`/seasons/${id}`, 303);
  };
  return new Hono()
    .get("/seasons/:id/offer", (c) => {
      const standing = standingOf(parts, c.req.param("id"));
      c.header("cache-control", "no-store");
      const season = `/seasons/${standing.row.id}`;
      return c.html(renderToString(<OfferPart season={season} offer={offerView(parts, standing)} />));
    })
    .post("/seasons/:id/offer/take", (c) => decided(c, takeOffer))
    .post("/seasons/:id/offer/leave", (c) => decided(c, leaveOffer))
    .post("/seasons/:id/look/stop", (c) => {
      const { id } = standingOf(parts, c.req.param("id")).row;
      parts.looker.stop(id);
      return c.redirect(`/seasons/${id}`, 303);
    });
}
