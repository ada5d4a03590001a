import { parseArgs } from "node:util";
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import { uniformInt } from "pure-rand/distribution/uniformInt";
import { makeSeason } from "../../../core/generate/make-season.ts";
import type { Season } from "../../../core/season/season.ts";
import { startServer } from "../../_support/server.ts";
import { leavesOf } from "../../_support/some-edit.ts";

/** Edits that are timed, and times that each page is opened. */
const TIMED = 500;
const OPENED = 30;

/**
 * Times edits of a typical season that has a long history, while the planner works, and the opening of its pages:
 * `deno task record-bench [--history N] [--seed S]`. Prints milliseconds.
 */
async function bench(history: number, seed: number): Promise<void> {
  const folder = Deno.makeTempDirSync();
  const season = makeSeason("typical", seed);
  const chance = xoroshiro128plus(seed);
  const pick = (below: number) => uniformInt(chance, 0, below - 1);
  let server = await startServer(folder);
  try {
    const headers = { "content-type": "application/json" };
    await fetch(`${server.origin}/api/seasons`, { method: "POST", headers, body: JSON.stringify(season) });
    let made = 0;
    const edit = async () => {
      const address = `${server.origin}/api/seasons/${season.id}/edits`;
      const id = `bench-${String(made++).padStart(8, "0")}`;
      const body = JSON.stringify({ id, author: `person-${made % 4}`, changes: [nextChange(state, pick)] });
      const began = performance.now();
      const answer = await fetch(address, { method: "POST", headers, body });
      const ms = performance.now() - began;
      if (answer.status !== 201) throw new Error(`${answer.status}: ${await answer.text()}`);
      await answer.body?.cancel();
      return ms;
    };
    const state = new State(await (await fetch(`${server.origin}/api/seasons/${season.id}`)).json());
    while (made < history) await edit();
    const edits: number[] = [];
    for (let n = 0; n < TIMED; n++) edits.push(await edit());
    tell(`edit acknowledged, ${made} edits of history`, edits);

    await server.stop();
    server = await startServer(folder);
    console.log(`server up with this store: ${server.startedInMs.toFixed(0)} ms`);
    await planned(`${server.origin}/seasons/${season.id}`, `${server.origin}/api/seasons/${season.id}`);
    for (const path of ["", "/farm", "/farm/list?at=/lots", "/history"]) {
      const opened: number[] = [];
      for (let n = 0; n < OPENED; n++) {
        const began = performance.now();
        await (await fetch(`${server.origin}/seasons/${season.id}${path}`)).text();
        opened.push(performance.now() - began);
      }
      tell(`page ${path || "of the year"} opened (the first time ${opened[0]!.toFixed(0)} ms)`, opened);
    }
  } finally {
    await server.kill();
    Deno.removeSync(folder, { recursive: true });
  }
}

/** Has the season planned, and waits until it is. */
async function planned(page: string, season: string): Promise<void> {
  for (;;) {
    await (await fetch(page)).text();
    const [plan, now] = [await fetch(`${season}/plan`), await fetch(season)];
    await Promise.all([plan.body?.cancel(), now.body?.cancel()]);
    const revision = plan.headers.get("x-season-revision");
    // An answer that was compressed on the way has a weak tag.
    if (plan.ok && now.headers.get("etag")?.replace("W/", "") === `"${revision}"`) return;
    await new Promise((resolve) => setTimeout(resolve, 2000));
  }
}

/** What the client believes to stand where; every edit turns a number of it up and down again by a little. */
class State {
  readonly leaves: { at: string; value: number; by: number }[];
  constructor(season: Season) {
    this.leaves = leavesOf(season as never)
      .filter(({ at, value }) => typeof value === "number" && /(Cents|PerKg|C\/)/.test(at))
      .map(({ at, value }) => ({ at, value: value as number, by: 1 }));
  }
}

function nextChange(state: State, pick: (below: number) => number): { at: string; from: number; to: number } {
  const leaf = state.leaves[pick(state.leaves.length)]!;
  const from = leaf.value;
  leaf.value += leaf.by;
  leaf.by = -leaf.by;
  return { at: leaf.at, from, to: leaf.value };
}

function tell(what: string, ms: number[]): void {
  const sorted = [...ms].sort((a, b) => a - b);
  const at = (share: number) => sorted[Math.floor(share * (sorted.length - 1))]!.toFixed(1);
  console.log(`${what}: ${at(0.5)} ms (median), ${at(0.95)} ms (95 of 100), ${at(1)} ms (longest)`);
}

const { values } = parseArgs({
  args: Deno.args,
  options: { history: { type: "string" }, seed: { type: "string" } },
});
await bench(Number(values.history ?? 5000), Number(values.seed ?? 1));
