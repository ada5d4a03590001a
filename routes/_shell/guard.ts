import type { MiddlewareHandler } from "hono";
import { bodyLimit } from "hono/body-limit";
import { csrf } from "hono/csrf";
import { NONCE, secureHeaders } from "hono/secure-headers";
import { Refusal } from "./errors.tsx";

/** The names under which this machine calls itself. */
const LOOPBACK = new Set(["127.0.0.1", "localhost", "[::1]"]);

/** Methods that change nothing. */
const SAFE = new Set(["GET", "HEAD", "OPTIONS"]);

/** The content security policy and its companions: only our own scripts with this answer's nonce, no frames. */
export const headers: MiddlewareHandler = secureHeaders({
  contentSecurityPolicy: {
    defaultSrc: ["'none'"],
    scriptSrc: [NONCE, "'strict-dynamic'"],
    // The nonce is for the style sheet inside a drawing that is fetched as a file of its own.
    styleSrc: ["'self'", NONCE],
    imgSrc: ["'self'", "data:"],
    fontSrc: ["'self'"],
    connectSrc: ["'self'"],
    workerSrc: ["'self'"],
    baseUri: ["'none'"],
    formAction: ["'self'"],
    frameAncestors: ["'none'"],
  },
  referrerPolicy: "same-origin",
  // The server speaks plain HTTP on the loopback address, where a promise of TLS would only lock people out.
  strictTransportSecurity: false,
});

/**
 * Refuses requests that name this server otherwise than as this machine. A hostile page can point a name of its
 * own at the loopback address; its requests would then count as same-origin, but they carry that name.
 */
export const onlyLoopback: MiddlewareHandler = async (c, next) => {
  const { hostname } = new URL(c.req.url);
  if (!LOOPBACK.has(hostname)) {
    throw new Refusal(403, {
      what: "This server answers only to the machine it runs on.",
      where: hostname,
      whatToDo: "Open it as http://127.0.0.1 with its port.",
    });
  }
  await next();
};

/** Refuses forms that were sent from another site's page. */
export const sameOriginForms: MiddlewareHandler = csrf();

/** Asks for JSON where the API is changed: a form of another site cannot send it without the browser asking first. */
export const onlyJson: MiddlewareHandler = async (c, next) => {
  const type = c.req.header("content-type")?.split(";")[0]?.trim().toLowerCase();
  if (!SAFE.has(c.req.method) && type !== "application/json") {
    throw new Refusal(415, {
      what: "The API takes JSON only.",
      where: `content-type ${type ?? "(none)"}`,
      whatToDo: 'Send the season file with the header "content-type: application/json".',
    });
  }
  await next();
};

/** The largest season file that is taken, in bytes. A farm of many years is under a tenth of it. */
export const LARGEST_FILE = 8 * 1024 * 1024;

/** Refuses what is larger than so many bytes. */
export function limitBody(maxSize: number, what: string, whatToDo: string): MiddlewareHandler {
  return bodyLimit({
    maxSize,
    onError: (c) => {
      throw new Refusal(413, { what, where: c.req.path, whatToDo });
    },
  });
}
