import process from "node:process";
import { auditPlan } from "../../../core/audit/audit.ts";
import { chance } from "../../../core/search/chance.ts";
import { makeSeason } from "../../../core/generate/make-season.ts";
import { changedRuns, unrestOf } from "../../../core/plan/changed-runs.ts";
import { compareGoals } from "../../../core/plan/compare.ts";
import { makePlan } from "../../../core/plan/make.ts";
import type { Plan, PlanRun } from "../../../core/plan/plan.ts";
import { replan, ReplanCache } from "../../../core/plan/replan.ts";
import type { Season } from "../../../core/season/season.ts";
import { FARM_EDITS, type FarmEdit, farmEdit } from "../../_support/farm-edits.ts";
import { loadHighs } from "../../_support/highs.ts";

/**
 * Times edit -> audited plan on typical made seasons, in one process as the server's worker would have it, and says how calm the plans
 * are: `deno task replan-bench [--seed N] [--edits N] [--samples N]`. Without a seed four seasons take their turns. Ends with 1 when a plan was not clean.
 */
const args = new Map<string, number>();
for (let at = 0; at < Deno.args.length; at += 2) args.set(Deno.args[at]!, Number(Deno.args[at + 1]));
const seeds = args.has("--seed") ? [args.get("--seed")!] : [2, 3, 4, 5];
const edits = args.get("--edits") ?? 200;

/** Changes tried for the accepted plan, and for a full plan of which promises are asked. */
const ACCEPTED_ITERATIONS = 4000;
const FULL_ITERATIONS = 8000;
/** Edits of one season made on top of each other before the accepted plan is taken up again. */
const CHAIN = 5;
/** For each season: full plans made for edits after which less is made or kept, and edits planned without a price of changes. */
const SAMPLES = args.get("--samples") ?? 2;

interface Made {
  kind: FarmEdit;
  wallMs: number;
  cpuMs: number;
  changed: number;
  runs: number;
  clean: boolean;
  fell: boolean;
}

const highs = await loadHighs();
const all: Made[] = [];
let sampled = 0, regained = 0;
const calm = { forced: 0, priced: 0, free: 0, anew: 0 };
for (const seed of seeds) all.push(...await editsOf(seed, Math.ceil(edits / seeds.length)));
report();
Deno.exit(all.every((one) => one.clean) ? 0 : 1);

async function editsOf(seed: number, count: number): Promise<Made[]> {
  const first = makeSeason("typical", seed);
  const base = await fullPlan(first, ACCEPTED_ITERATIONS);
  const cache = new ReplanCache(), dice = chance(seed);
  const pick = (below: number) => dice.int(0, below - 1);
  const made: Made[] = [];
  let season = first, plan = base, samples = 0, downs = 0;
  // The first few are not counted: the program is still being compiled, as it is not in a server that has planned once.
  for (let n = -5; n < count; n++) {
    if (n % CHAIN === 0) [season, plan] = [first, base];
    const kind = FARM_EDITS[(n + 7) % FARM_EDITS.length]!;
    const edited = farmEdit(kind, season, plan, pick, `edit-${n + 5}`);
    if (edited === null) continue;
    const cpu = process.cpuUsage(), start = performance.now();
    const outcome = await replan(edited, plan, { seed: 1, highs, cache });
    const wallMs = performance.now() - start, used = process.cpuUsage(cpu);
    if (outcome.kind === "cannot") throw new Error(JSON.stringify(outcome.findings));
    const next = outcome.plan;
    if (n >= 0) {
      const fell = less(next, plan);
      made.push({
        ...{ kind, wallMs, cpuMs: (used.user + used.system) / 1000 },
        changed: unrestOf(changedRuns(plan, next)),
        runs: next.runs.length,
        clean: auditPlan(edited, next).length === 0,
        fell,
      });
      if (fell && samples < SAMPLES) {
        samples++;
        sampled++;
        if (less(next, await fullPlan(edited, FULL_ITERATIONS, plan))) regained++;
      }
      if (kind === "vessel down" && downs < SAMPLES) {
        downs++;
        await compareCalm(edited, plan, next);
      }
    }
    [season, plan] = [edited, next];
  }
  return made;
}

async function compareCalm(season: Season, from: Plan, next: Plan): Promise<void> {
  const costs = { ...season.costs, changedRunCents: 0 };
  const free = await replan({ ...season, costs }, from, { seed: 1, highs });
  if (free.kind === "cannot") return;
  calm.forced += from.runs.filter((run) => isShut(season, run)).length;
  calm.priced += unrestOf(changedRuns(from, next));
  calm.free += unrestOf(changedRuns(from, free.plan));
  calm.anew += unrestOf(changedRuns(from, await fullPlan(season, FULL_ITERATIONS, from)));
}

/** Whether a run not begun stands in a vessel while it is closed: no plan can leave it as it was. */
function isShut({ vessels }: Season, run: PlanRun): boolean {
  if (run.standing === "under way") return false;
  const stops = [run.steepInAt, run.castAt, run.kilnAt, run.stripAt] as const;
  const { steep, bed, kiln } = run.vesselIds;
  return [steep, bed, kiln].some((id, stage) =>
    vessels.find((vessel) => vessel.id === id)!.closures.some(({ from, to }) =>
      stops[stage]! < to && from < stops[stage + 1]!
    )
  );
}

async function fullPlan(season: Season, iterations: number, from?: Plan): Promise<Plan> {
  const outcome = await makePlan(season, { seed: 1, iterations, highs, ...(from ? { from } : {}) });
  if (outcome.kind !== "planned") throw new Error(`the full plan is ${outcome.kind}`);
  return outcome.plan;
}

/** Less made or kept, whatever it costs. */
function less(a: Plan, b: Plan): boolean {
  return compareGoals({ ...a.goals, moneyCents: 0 }, { ...b.goals, moneyCents: 0 }) > 0;
}

function report(): void {
  const line = (name: string, some: readonly Made[]) => {
    const changed = some.reduce((sum, one) => sum + one.changed, 0);
    const runs = some.reduce((sum, one) => sum + one.runs, 0);
    console.log([
      ...[name.padEnd(14), `${some.length}`.padStart(4)],
      ...([(one: Made) => one.wallMs, (one: Made) => one.cpuMs].map((of) =>
        `${[0.5, 0.95, 1].map((share) => quantile(some.map(of), share).toFixed(0).padStart(6)).join("")}`
      )),
      `${(100 * changed / Math.max(1, runs)).toFixed(1)} %`.padStart(8),
      `${some.filter((one) => one.fell).length}`.padStart(5),
      `${some.filter((one) => !one.clean).length}`.padStart(5),
    ].join(" "));
  };
  console.log("edit          edits   wall ms p50, 95, most   cpu ms p50, 95, most  changed  fell  not clean");
  for (const kind of FARM_EDITS) line(kind, all.filter((one) => one.kind === kind));
  line("all", all);
  console.log(
    `of ${sampled} edits after which less is made or kept, a full plan makes more after ${regained}`,
  );
  console.log(
    `runs changed with a vessel down: ${calm.priced}, of which ${calm.forced} cannot stay; without the price ` +
      `${calm.free}; planned anew ${calm.anew}`,
  );
}

function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.ceil(share * sorted.length) - 1)] ?? 0;
}
