import { Hono } from "hono";
import { streamSSE } from "hono/streaming";
import type { SeasonNews } from "../islands/news.ts";
import { standingOffer } from "./_offers.ts";
import type { Parts } from "./_parts.ts";
import { bestSoFar, lookingWords } from "./_plan-words.ts";
import { latestWords } from "./_record.ts";
import { readStored, readYear, type Standing, standingOf, startPlanning } from "./_standing.ts";
import { lastEdit } from "./_store/edits.ts";

/** News is sent at most this often, in milliseconds: the planner speaks far more often than people can read. */
const NEWS_EVERY_MS = 250;

/** A line is sent at least this often, in milliseconds, so that a dead connection is noticed. */
const SIGN_OF_LIFE_MS = 15_000;

/** Planning a season again, stopping it, and following it. */
export function planning(parts: Parts): Hono {
  return new Hono()
    .post("/seasons/:id/plan", (c) => {
      const standing = standingOf(parts, c.req.param("id"));
      parts.looker.renew(standing.row.id);
      startPlanning(parts, standing, readYear(parts, standing));
      return c.redirect(`/seasons/${standing.row.id}`, 303);
    })
    .post("/seasons/:id/plan/stop", (c) => {
      const { id } = standingOf(parts, c.req.param("id")).row;
      parts.solver.stop(id);
      return c.redirect(`/seasons/${id}`, 303);
    })
    .get("/seasons/:id/events", (c) => {
      const { id } = standingOf(parts, c.req.param("id")).row;
      return streamSSE(c, async (stream) => {
        let wake = () => {};
        let rung = true;
        const leave = parts.bell.follow(id, () => {
          rung = true;
          wake();
        });
        stream.onAbort(() => {
          leave();
          wake();
        });
        while (!stream.aborted) {
          rung = false;
          await stream.writeSSE({ event: "plan", data: JSON.stringify(news(parts, standingOf(parts, id))) });
          parts.looker.seen(id);
          await stream.sleep(NEWS_EVERY_MS);
          if (!rung) await rest((resolve) => wake = resolve);
        }
      });
    });
}

/** Waits until it is woken, or until the next sign of life is due. */
function rest(onWake: (wake: () => void) => void): Promise<void> {
  return new Promise((resolve) => {
    const timer = setTimeout(resolve, SIGN_OF_LIFE_MS);
    onWake(() => {
      clearTimeout(timer);
      resolve();
    });
  });
}

function news(parts: Parts, standing: Standing): SeasonNews {
  const { store, looker } = parts;
  const { row, version, making, says } = standing;
  const { stored } = readStored(row);
  const edit = lastEdit(store, row.id);
  const latest = edit === null ? "" : latestWords(stored, edit);
  const { revision } = row;
  return {
    version,
    planning: making !== null,
    says,
    done: making?.done ?? 0,
    of: making?.of ?? 0,
    best: bestSoFar(making),
    looking: lookingWords(looker.looking(row.id)),
    offer: standingOffer(parts, standing)?.id ?? 0,
    revision,
    latest,
  };
}
