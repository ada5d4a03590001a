import type { Context } from "hono";
import { HTTPException } from "hono/http-exception";
import type { ContentfulStatusCode } from "hono/utils/http-status";
import { inWords, storeTrouble, type TroubleKind } from "../_store/trouble.ts";
import type { Assets } from "./assets.ts";
import { page } from "./page.tsx";

/** Something a person has to be told: what was wrong, where, and what to do about it. */
export interface Trouble {
  readonly what: string;
  readonly where: string;
  readonly whatToDo: string;
}

/** A trouble with its HTTP status; thrown by any address and answered here. `more` goes beside it in the JSON. */
export class Refusal extends Error {
  constructor(
    readonly status: ContentfulStatusCode,
    readonly trouble: Trouble,
    readonly more: Readonly<Record<string, unknown>> = {},
  ) {
    super(trouble.what);
  }
}

/** Answers a thrown error as a page, or as JSON below /api. Its own faults go to the log with their stack. */
export function answerError(assets: Assets) {
  return (error: Error, c: Context): Response => {
    if (error instanceof Refusal) return answer(c, assets, error.status, error.trouble, error.more);
    const where = `${c.req.method} ${c.req.path}`;
    if (error instanceof HTTPException) {
      const trouble = { what: error.message || "The request was refused.", where, whatToDo: TRY_FROM_PAGE };
      return answer(c, assets, error.status, trouble);
    }
    const found = storeTrouble(error, where);
    if (found !== null) return answerStore(c, assets, found);
    console.error(error);
    return answer(c, assets, 500, {
      what: "Rickyard made a mistake of its own.",
      where,
      whatToDo:
        "Nothing that was stored is lost. Try again; if it happens again, report what the server's log says.",
    });
  };
}

/** Answers an address that does not exist. */
export function answerMissing(assets: Assets) {
  return (c: Context): Response =>
    answer(c, assets, 404, {
      what: "There is nothing at this address.",
      where: c.req.path,
      whatToDo: "Go back to the first page and follow its links.",
    });
}

/**
 * Answers a trouble with the store. Every change is one transaction, so what failed is stored in no part; only a disk
 * that fails while it writes leaves open whether its last word was kept.
 */
function answerStore(
  c: Context,
  assets: Assets,
  { kind, trouble }: { kind: TroubleKind; trouble: Trouble },
): Response {
  console.error(inWords(trouble));
  const safe = kind === "disk"
    ? "Whether this edit was stored shows when the page is opened anew; what was stored before is as it was."
    : kind === "damaged" || kind === "not a store"
    ? "Nothing of this edit was stored."
    : "Nothing of this edit was stored; what was stored before is safe.";
  const status = kind === "full" ? 507 : 503;
  return answer(c, assets, status, { ...trouble, whatToDo: `${safe} ${trouble.whatToDo}` });
}

const TRY_FROM_PAGE = "Open the page anew and try from there.";

function answer(
  c: Context,
  assets: Assets,
  status: ContentfulStatusCode,
  trouble: Trouble,
  more: Readonly<Record<string, unknown>> = {},
): Response {
  if (c.req.path.startsWith("/api/")) return c.json({ error: trouble, ...more }, status);
  const back = cameFrom(c);
  const body = (
    <main id="main" class="trouble">
      <h1>{trouble.what}</h1>
      <p>
        <code>{trouble.where}</code>
      </p>
      <p>{trouble.whatToDo}</p>
      <p class="ways">
        {back !== null && <a href={back}>Back</a>}
        <a href="/">To the first page</a>
        <a href="/seasons">The seasons</a>
      </p>
    </main>
  );
  return c.html(page({ title: trouble.what, nonce: c.get("secureHeadersNonce"), assets, body }), status);
}

/** The page of this server that led here, or null. */
function cameFrom(c: Context): string | null {
  const from = URL.parse(c.req.header("referer") ?? "");
  if (from === null || from.host !== new URL(c.req.url).host) return null;
  return from.pathname === c.req.path && c.req.method === "GET" ? null : from.pathname + from.search;
}
