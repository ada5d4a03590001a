import type { Plan } from "../core/plan/plan.ts";
import { checkSeason, type Finding } from "../core/season/check.ts";
import { type Season, seasonSchema } from "../core/season/season.ts";
import { elapsedHours } from "../core/zone.ts";
import { asOfNow } from "./_as-of.ts";
import type { Parts } from "./_parts.ts";
import { Refusal } from "./_shell/errors.tsx";
import type { Making, Request } from "./_solver/solver.ts";
import { explanationGrown } from "./_store/explanations.ts";
import { INTERRUPTED, latestPlan, latestSolved, type PlanRow, readPlan } from "./_store/plans.ts";
import { readSeason, type SeasonRow } from "./_store/seasons.ts";

/** How a season's plan stands. "older": there is a plan, but the season or the day has moved on since. */
export type PlanState = "planning" | "planned" | "older" | "failed";

/** What the store and the solver know of a season's plan, without reading the documents. */
export interface Standing {
  readonly row: SeasonRow;
  readonly making: Making | null;
  readonly latest: PlanRow | null;
  readonly state: PlanState;
  /** True when nobody has yet tried to plan the season as it now is. */
  readonly unplanned: boolean;
  /** Changes whenever the year page would look different. */
  readonly version: string;
  /** The state in a sentence. */
  readonly says: string;
}

/** A season with its plan, read and ready to be drawn. */
export interface Year {
  /** The season as it is stored; plans are made of it. */
  readonly stored: Season;
  /** The season with the farm's now as its `asOf`; pages are drawn of it. */
  readonly season: Season;
  readonly findings: readonly Finding[];
  readonly plan: Plan | null;
}

/** How the season stands. Refuses with 404 when there is no such season. */
export function standingOf({ store, solver }: Pick<Parts, "store" | "solver">, id: string): Standing {
  const row = readSeason(store, id);
  if (row === null) {
    throw new Refusal(404, {
      what: "There is no season of this name here.",
      where: id,
      whatToDo: "Go to the first page, which leads to the seasons that are stored.",
    });
  }
  const making = solver.look(id);
  const latest = latestPlan(store, id);
  const current = latest?.season_hash === row.hash;
  const state = making !== null
    ? "planning"
    : current && latest.state === "solved"
    ? "planned"
    : current && latest.state === "failed"
    ? "failed"
    : "older";
  const failure = making === null ? solver.failure(id, row.hash) : null;
  const unplanned = failure === null &&
    (making === null ? !current || latest.reason === INTERRUPTED : making.request.hash !== row.hash);
  const says = failure ?? sentence(state, making, latest);
  // A plan can be completed with what is proven of it: its document is longer then.
  const plan = `${latest?.id ?? 0}-${latest?.document?.length ?? 0}`;
  const grown = latest === null ? 0 : explanationGrown(store, latest.id);
  const version = [row.revision, plan, state, grown, making?.found ?? 0].join(".");
  return { row, making, latest, state, unplanned, version, says };
}

function sentence(state: PlanState, making: Making | null, latest: PlanRow | null): string {
  // How far it is stands in the bar beside it: a sentence that changed all the time would be read out all the time.
  if (making !== null) return `Planning: ${making.stage}.`;
  if (state === "planned") return latest?.reason ? `Planned. ${latest.reason}` : "Planned.";
  if (state === "failed") return latest?.reason ?? "";
  return latest === null ? "Not planned yet." : "The season has changed since this plan was made.";
}

/** The season as it is stored. Refuses when it no longer passes the schema, with what has to be mended. */
export function readStored(row: SeasonRow): { document: unknown; stored: Season } {
  const document: unknown = JSON.parse(row.document);
  const parsed = seasonSchema.safeParse(document);
  if (!parsed.success) {
    const { findings } = checkSeason(document);
    throw new Refusal(409, {
      what: "This season cannot be read by this version of the program.",
      where: findings.map((finding) => `${finding.thing} ${finding.field}`).join(", "),
      whatToDo: findings.map((finding) => finding.wayOut).join(" "),
    });
  }
  return { document, stored: parsed.data };
}

/** Reads the season and the best plan there is for it: one in the making, or else the last that was stored. */
export function readYear({ store, now }: Parts, standing: Standing): Year {
  const { document, stored } = readStored(standing.row);
  const season = asOfNow(stored, now());
  const { findings } = checkSeason(document, { asOf: season.asOf });
  const solved = standing.making?.best == null ? latestSolved(store, standing.row.id) : null;
  const plan = standing.making?.best ?? (solved === null ? null : readPlan(solved));
  return { stored, season, findings, plan };
}

/** True when the plan was made for a moment more than a day before the season's now. */
export function isOutOfDate(season: Season, plan: Plan): boolean {
  return elapsedHours(season.zone, plan.asOf, season.asOf) > 24;
}

/** Starts planning when nobody has yet tried to plan the season as it now is: near its last plan, where there is one. */
export function ensurePlanned(parts: Parts, standing: Standing, year: Year): boolean {
  const { row, unplanned } = standing;
  const wanted = unplanned && row.shelf === "open";
  if (!wanted) return false;
  // What was broken off although there is a plan of the season as it is had been asked for.
  if (latestSolved(parts.store, row.id)?.season_hash === row.hash) startPlanning(parts, standing, year);
  else parts.solver.replan(requestOf(standing, year));
  return true;
}

/** Starts planning the season as it now is anew, whatever was tried before. */
export function startPlanning({ solver }: Parts, standing: Standing, year: Year): void {
  solver.plan(requestOf(standing, year));
}

function requestOf({ row }: Standing, { stored, season }: Year): Request {
  return { season: stored, asOf: season.asOf, revision: row.revision, hash: row.hash };
}
