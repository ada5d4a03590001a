import { Hono } from "hono";
import { assets } from "./assets.ts";
import { farm } from "./farm.tsx";
import type { Parts } from "./_parts.ts";
import { copies } from "./copies.tsx";
import { answerError, answerMissing } from "./_shell/errors.tsx";
import { headers, onlyJson, onlyLoopback, sameOriginForms } from "./_shell/guard.ts";
import { edits } from "./edits.ts";
import { nextSeasons } from "./next-season.tsx";
import { offers } from "./offers.tsx";
import { planning } from "./planning.ts";
import { plans } from "./plans.ts";
import { questions } from "./questions.tsx";
import { record } from "./record.tsx";
import { section } from "./section.tsx";
import { remedies } from "./remedies.tsx";
import { seasons } from "./seasons.ts";
import { shelves } from "./shelves.tsx";
import { year } from "./year.tsx";

/** The table of addresses. It is given its parts and opens nothing itself, so tests can give it others. */
export function makeApp(parts: Parts): Hono {
  const app = new Hono();
  app.onError(answerError(parts.assets));
  app.notFound(answerMissing(parts.assets));
  app.use(headers, onlyLoopback);
  app.use("/api/*", onlyJson);
  app.use("/seasons/*", sameOriginForms);
  app.use("/copies/*", sameOriginForms);
  app.route("/", year(parts));
  app.route("/", section(parts));
  app.route("/", planning(parts));
  app.route("/", offers(parts));
  app.route("/", remedies(parts));
  app.route("/", questions(parts));
  app.route("/", seasons(parts));
  app.route("/", edits(parts));
  app.route("/", record(parts));
  app.route("/", shelves(parts));
  app.route("/", nextSeasons(parts));
  app.route("/", plans(parts));
  app.route("/", farm(parts));
  app.route("/", copies(parts));
  app.route("/", assets(parts));
  return app;
}
