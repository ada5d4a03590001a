import type { VNode } from "preact";
import { renderToString } from "preact-render-to-string";
import type { Assets } from "./assets.ts";
import { RecordBar, type RecordBarProps } from "./record-bar.tsx";

/** What a whole page is made of. */
export interface Page {
  readonly title: string;
  /** The nonce that the content security policy of this answer allows for scripts. */
  readonly nonce: string | undefined;
  readonly assets: Assets;
  readonly body: VNode;
  /** The season whose pages the head of the page leads to. */
  readonly season?: { readonly id: string; readonly name: string };
  /** Which of the season's pages this one is, or belongs to. */
  readonly here?: "year" | "questions" | "farm" | "history";
  /** Who writes here and what they can take back. */
  readonly record?: RecordBarProps;
  /** Without scripts, the page is asked for again after this many seconds. */
  readonly againAfter?: number;
}

/** The document around a page's body, as HTML. */
export function page({ title, nonce, assets, body, season, here, record, againAfter }: Page): string {
  const client = assets.address("client.js");
  const icon = assets.address("icon.svg");
  return "<!doctype html>" + renderToString(
    <html lang="en">
      <head>
        <meta charset="utf-8" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <title>{`${title} · Rickyard`}</title>
        {icon !== null && <link rel="icon" href={icon} type="image/svg+xml" />}
        {assets.styles.map(({ address, print }) => (
          <link key={address} rel="stylesheet" href={address} media={print ? "print" : "all"} />
        ))}
        {client !== null && <script type="module" src={client} nonce={nonce} />}
        {againAfter !== undefined && (
          <noscript>
            <meta http-equiv="refresh" content={String(againAfter)} />
          </noscript>
        )}
      </head>
      <body>
        <a class="skip" href="#main">Skip to the page</a>
        {season !== undefined && (
          <header class="masthead">
            <span class="season-name">{season.name}</span>
            <nav aria-label="Pages">
              <a href={`/seasons/${season.id}`} aria-current={here === "year" ? "page" : undefined}>
                The year
              </a>
              <a
                href={`/seasons/${season.id}/questions`}
                aria-current={here === "questions" ? "page" : undefined}
              >
                Questions
              </a>
              <a href={`/seasons/${season.id}/farm`} aria-current={here === "farm" ? "page" : undefined}>
                The farm
              </a>
              <a
                href={`/seasons/${season.id}/history`}
                aria-current={here === "history" ? "page" : undefined}
              >
                History
              </a>
              <a href={`/seasons/${season.id}/print`}>On paper</a>
              <a href="/seasons">Seasons</a>
            </nav>
            {record !== undefined && <RecordBar {...record} />}
          </header>
        )}
        {body}
      </body>
    </html>,
  );
}
