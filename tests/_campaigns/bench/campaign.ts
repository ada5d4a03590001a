/**
 * Measures plans against proven bounds and general solvers: `deno task bench [--quick] [--json] [--size SIZE --count N]
 * [--from SEED] [--seconds S] [--alone]`. One run, ratios. Money is what a plan can change: all above the fixed part, so a gap is
 * (plan - bound) / plan of that. Where a count is open the gap is that beside plans which count as ours does, and stands apart. `--alone` leaves the general solvers out.
 */
import { parseArgs } from "node:util";
import { SEASON_SIZES, type SeasonSize } from "../../../core/generate/sizes.ts";
import { loadHighs } from "../../_support/highs.ts";
import { measure, type Measured, type Rival } from "./measure.ts";
import { solversHere } from "./solvers.ts";

/** Seeds that nothing was tuned on begin here. */
const FIRST_SEED = 101;
const FULL: Readonly<Record<SeasonSize, number>> = { micro: 0, small: 10, typical: 10, large: 2, coop: 1 };
const QUICK: Readonly<Record<SeasonSize, number>> = { micro: 0, small: 2, typical: 1, large: 0, coop: 0 };
const SECONDS = 60;
const QUICK_SECONDS = 10;

const { values } = parseArgs({
  args: Deno.args,
  options: {
    quick: { type: "boolean", default: false },
    json: { type: "boolean", default: false },
    alone: { type: "boolean", default: false },
    size: { type: "string" },
    count: { type: "string" },
    from: { type: "string", default: String(FIRST_SEED) },
    seconds: { type: "string" },
  },
});
const counts = values.quick ? QUICK : FULL;
const seconds = Number(values.seconds ?? (values.quick ? QUICK_SECONDS : SECONDS));
const solvers = values.alone ? [] : ["HiGHS", ...await solversHere()];
const highs = await loadHighs();
const all: Measured[] = [];
for (const size of SEASON_SIZES.filter((one) => values.size === undefined || one === values.size)) {
  const ofSize: Measured[] = [];
  for (let i = 0; i < Number(values.count ?? counts[size]); i++) {
    const seed = Number(values.from) + i;
    const one = await measure(highs, size, seed, { solvers, seconds });
    if (one === null) console.log(`${size} ${seed}: no plan, or no bound`);
    else {
      ofSize.push(one);
      if (!values.json) console.log(lineOf(one));
    }
  }
  if (!values.json && ofSize.length > 0) console.log(summaryOf(size, ofSize));
  all.push(...ofSize);
}
if (values.json) {
  console.log(JSON.stringify(all.map(({ bound, ...rest }) => ({ ...rest, bound: bare(bound) }))));
}

/** Without the proofs, which are long. */
function bare({ levels, money }: Measured["bound"]) {
  const counts = [...levels.made, levels.promises, levels.tail].map(({ plan, bound }) => ({ plan, bound }));
  return { counts, money: money && { ...money, proof: undefined } };
}

function lineOf(one: Measured): string {
  const { levels, money } = one.bound;
  const counts = [...levels.made, levels.promises, levels.tail].map(({ plan, bound }) =>
    plan === bound ? String(plan) : `${plan} of at most ${bound}`
  );
  const ours = money === null
    ? `not closed, gap with these counts held ${percent(one.heldGap)}`
    : `money ${whole(money.planCents - money.fixedCents)}, gap ${percent(money.gap)} (fixed ${
      whole(money.fixedCents)
    })`;
  const times = `plan ${one.planSeconds.toFixed(1)} s, bound ${one.boundSeconds.toFixed(1)} s`;
  const others = money === null
    ? []
    : one.rivals.map((rival) => rivalWords(rival, money.planCents - money.fixedCents));
  return [
    `${one.size} ${one.seed}: ${counts.join(", ")}; ${ours}; ${times}; ${one.columns} x ${one.rows}`,
    ...others.map((words) => `    ${words}`),
  ].join("\n");
}

/** Below 1 a rival's point is cheaper than our plan, in a model that asks for less. */
function rivalWords({ solver, cents, boundCents, seconds }: Rival, planCents: number): string {
  const took = `${seconds.toFixed(0)} s`;
  const proved = boundCents === null
    ? "nothing proved"
    : `bound ${(boundCents / planCents).toFixed(4)} of ours`;
  if (cents === null) return `${solver}: no point in ${took}, ${proved}`;
  const gap = boundCents === null || cents <= 0 ? "" : `, gap ${percent((cents - boundCents) / cents)}`;
  return `${solver}: ${(cents / planCents).toFixed(4)} of our plan's money, ${proved}${gap}, ${took}`;
}

function summaryOf(size: SeasonSize, ofSize: readonly Measured[]): string {
  const gaps = ofSize.flatMap(({ bound }) => bound.money === null ? [] : [bound.money.gap]).sort((a, b) =>
    a - b
  );
  const held = ofSize.map((one) => one.heldGap).sort((a, b) => a - b);
  const times = ofSize.map((one) => one.planSeconds).sort((a, b) => a - b);
  const middle = (sorted: readonly number[]) => sorted[sorted.length >> 1] ?? NaN;
  const beaten = ofSize.filter(({ bound: { money }, rivals }) =>
    money !== null &&
    rivals.every(({ cents, boundCents }) =>
      cents === null || boundCents === null || cents > money.planCents - money.fixedCents ||
      (cents - boundCents) / cents > money.gap
    )
  );
  return `${size}: ${gaps.length} of ${ofSize.length} closed; money gap median ${
    percent(middle(gaps))
  }, worst ${percent(gaps.at(-1) ?? NaN)}; with counts held, of all, median ${percent(middle(held))}, worst ${
    percent(held.at(-1) ?? NaN)
  }; plan median ${middle(times).toFixed(1)} s, longest ${(times.at(-1) ?? NaN).toFixed(1)} s; ` +
    `every general solver worse or wider on ${beaten.length}`;
}

function percent(share: number): string {
  return `${(100 * share).toFixed(2)} %`;
}

function whole(cents: number): string {
  return Math.round(cents / 100).toString();
}
