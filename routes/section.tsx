import { Hono } from "hono";
import type { SecureHeadersVariables } from "hono/secure-headers";
import { renderToString } from "preact-render-to-string";
import { Section } from "../islands/_charts/Section.tsx";
import { drawParts, partsOf } from "../core/year/draw.ts";
import type { Parts } from "./_parts.ts";
import type { Assets } from "./_shell/assets.ts";
import { readYear, standingOf } from "./_standing.ts";

/** The section as a drawing of its own, to be saved, sent or put into a letter. */
export function section(parts: Parts): Hono<{ Variables: SecureHeadersVariables }> {
  return new Hono<{ Variables: SecureHeadersVariables }>().get("/seasons/:id/section.svg", async (c) => {
    const { season, plan } = readYear(parts, standingOf(parts, c.req.param("id")));
    const year = drawParts(partsOf(season, plan));
    const html = renderToString(<Section year={year} weekStartsOn={season.weekStartsOn} />);
    const style = `<style nonce="${c.get("secureHeadersNonce")}"><![CDATA[${await sheets(
      parts.assets,
    )}]]></style>`;
    c.header("cache-control", "no-store");
    return c.body(standalone(html, style), 200, { "content-type": "image/svg+xml; charset=utf-8" });
  });
}

/** Takes the drawing out of its surroundings and gives it what a file needs beside: its language and its style. */
function standalone(html: string, style: string): string {
  const svg = html.slice(html.indexOf("<svg"), html.lastIndexOf("</svg>") + "</svg>".length);
  return withValues(svg).replace("<svg", '<svg xmlns="http://www.w3.org/2000/svg"').replace(">", `>${style}`);
}

/** Gives attributes that HTML writes without a value the empty one, as XML asks. */
function withValues(html: string): string {
  const tag = /<\w[^<>"]*(?:"[^"]*"[^<>"]*)*>/g;
  const bare = /"[^"]*"|\s[\w:-]+(?=[\s/>])/g;
  return html.replace(
    tag,
    (text) => text.replace(bare, (part) => part.startsWith('"') ? part : `${part}=""`),
  );
}

/** The style sheets of the pages, which hold the drawing's colours, lines and patterns, as one text. */
async function sheets({ styles, read }: Assets): Promise<string> {
  const screen = styles.filter(({ print }) => !print).map(({ address }) =>
    read(address.slice("/assets/".length))
  );
  return (await Promise.all(screen)).map((file) => new TextDecoder().decode(file?.body)).join("\n");
}
