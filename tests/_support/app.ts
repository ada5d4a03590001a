import { makeApp } from "../../routes/_app.ts";
import { openParts } from "../../routes/_open.ts";
import type { Parts } from "../../routes/_parts.ts";
import type { Assets } from "../../routes/_shell/assets.ts";
import type { Ask } from "../../routes/_solver/asker.ts";
import type { Explain } from "../../routes/_solver/explainer.ts";
import { type ScriptedThread, scriptThread } from "./scripted-thread.ts";

/** The minute at which the test server's clock stands. */
export const NOW = new Date("2027-01-18T07:00:00Z");

/** A server without a network: its store is in memory, its planner does what the test says. */
export interface TestApp {
  readonly parts: Parts & { close(): void };
  readonly thread: ScriptedThread;
  get(path: string, headers?: Record<string, string>): Promise<Response>;
  /** Sends JSON, as a program does. */
  send(method: string, path: string, body: unknown, headers?: Record<string, string>): Promise<Response>;
  /** Sends a form, as the server's own page does. */
  press(
    path: string,
    fields?: Record<string, string | File>,
    headers?: Record<string, string>,
  ): Promise<Response>;
  /** Sends a form that was filled in. */
  post(path: string, fields: URLSearchParams): Promise<Response>;
}

const assets: Assets = {
  address: (source) => `/assets/${source}`,
  styles: [{ address: "/assets/print.css", print: true }],
  read: (name) =>
    Promise.resolve(name === "client.js" ? { body: new Uint8Array([59]), type: "text/javascript" } : null),
};

/** Ends at once and knows nothing. */
const explainNothing: Explain = () => ({ ended: Promise.resolve(null), stop: () => {} });

/** Never answers. */
const askNothing: Ask = () => ({ answered: new Promise(() => {}), stop: () => {} });

/** Opens a test server with an empty store, or with the one in the file `path`. */
export function openTestApp(
  path = ":memory:",
  now: () => Date = () => NOW,
  explain: Explain = explainNothing,
  ask: Ask = askNothing,
): TestApp {
  const thread = scriptThread();
  const parts = openParts(path, assets, now, { thread, explain, ask, restMs: 0 });
  const app = makeApp(parts);
  const request = async (path: string, init: RequestInit) => await app.request(path, init);
  return {
    parts,
    thread,
    get: (path, headers = {}) => request(path, { headers }),
    send: (method, path, body, headers = {}) =>
      request(path, {
        method,
        headers: { "content-type": "application/json", ...headers },
        body: typeof body === "string" ? body : JSON.stringify(body),
      }),
    press(path, fields = {}, headers = {}) {
      const body = new FormData();
      for (const [name, value] of Object.entries(fields)) body.append(name, value);
      return request(path, { method: "POST", headers: { origin: "http://localhost", ...headers }, body });
    },
    post: (path, fields) =>
      request(path, { method: "POST", headers: { origin: "http://localhost" }, body: fields }),
  };
}
