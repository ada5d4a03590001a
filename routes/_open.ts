import { dirname } from "node:path";
import { checkSeason } from "../core/season/check.ts";
import type { Parts } from "./_parts.ts";
import { seasonEntry } from "./_season-file.ts";
import { Refusal } from "./_shell/errors.tsx";
import type { Assets } from "./_shell/assets.ts";
import { type Ask, askInWorker, openAsker } from "./_solver/asker.ts";
import { makeBell } from "./_solver/bell.ts";
import { type Explain, explainInWorker, openExplainer } from "./_solver/explainer.ts";
import { EFFORTS, type SearchEffort } from "./_solver/order.ts";
import { lookPorts } from "./_looking.ts";
import { openLooker, REST_MS } from "./_solver/looking.ts";
import { ports } from "./_solver/ports.ts";
import { shareThread } from "./_solver/shared-thread.ts";
import { openSolver } from "./_solver/solver.ts";
import { openThread, type Thread } from "./_solver/thread.ts";
import { ensurePlanned, readYear, standingOf } from "./_standing.ts";
import { openCopyKeeper } from "./_store/copy-keeper.ts";
import { openStore } from "./_store/open.ts";
import { saveExplanation } from "./_store/explanations.ts";
import { failUnfinishedPlans } from "./_store/plans.ts";
import { firstSeasonId, insertSeason } from "./_store/seasons.ts";

/** What works beside the server; tests put their own in its place. */
export interface Workers {
  readonly thread?: Thread;
  readonly explain?: Explain;
  readonly ask?: Ask;
  /** How long the planner rests after a plan before it looks on, in milliseconds. */
  readonly restMs?: number;
  readonly effort?: SearchEffort;
}

/** Opens what the addresses work with. `path` is the store's file or ":memory:". Throws a StoreError in trouble. */
export function openParts(
  path: string,
  assets: Assets,
  now: () => Date,
  {
    thread = openThread(),
    explain = explainInWorker,
    ask = askInWorker,
    restMs = REST_MS,
    effort = EFFORTS.full,
  }: Workers = {},
): Parts & { close(): void } {
  const store = openStore(path);
  const unfinished = failUnfinishedPlans(store, now().toISOString());
  const bell = makeBell();
  const shared = shareThread(thread, () => looker.idle());
  const solver = openSolver(shared.plans, ports(store, bell, now), effort.order);
  const explainer = openExplainer(explain, {
    save: (planId, explanation) => saveExplanation(store, planId, explanation, now().toISOString()),
    changed: (seasonId) => bell.ring(seasonId),
  });
  const asker = openAsker(ask, (seasonId) => bell.ring(seasonId));
  const copies = openCopyKeeper({ store, folder: dirname(path), path, now, log: console.error });
  const desk = { store, copies, solver, explainer, asker, bell, assets, now };
  const looker = openLooker(shared.looks, lookPorts(desk), restMs, effort.rounds);
  const parts: Parts = { ...desk, looker };
  for (const id of unfinished) planAgain(parts, id);
  return {
    ...parts,
    close() {
      looker.close();
      explainer.close();
      asker.close();
      solver.close();
      store.close();
    },
  };
}

/** Takes up the plan of a season again that a stopped server left unfinished. One that cannot be read waits for a person. */
function planAgain(parts: Parts, id: string): void {
  try {
    const standing = standingOf(parts, id);
    if (standing.row.shelf === "open") ensurePlanned(parts, standing, readYear(parts, standing));
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
  }
}

/** Puts the demo farm into a store that has no season, so that a newcomer sees a year at once. */
export function putDemo({ store, now }: Parts, demo: unknown): void {
  if (firstSeasonId(store) !== null) return;
  const { season, findings } = checkSeason(demo);
  if (season === null) throw new Error(`The demo season is broken: ${findings[0]?.message}`);
  insertSeason(store, seasonEntry(season, now()), {
    author: "Rickyard",
    reason: "The demo farm, as it comes.",
  });
}
