import { parseArgs } from "node:util";
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import { uniformInt } from "pure-rand/distribution/uniformInt";
import { makeSeason } from "../../../core/generate/make-season.ts";
import { startServer } from "../../_support/server.ts";
import { Editor } from "./editor.ts";
import { readLog } from "./log.ts";
import { markedByPlace, Witness } from "./witness.ts";

/**
 * Several people edit one season at once: `deno task together [--edits N] [--people N] [--seed S]`. Every acknowledged
 * edit has to be in the log once, the season has to be what the log says, and nobody may have overwritten a value that
 * they had not seen. Prints how long an answer took. Ends with 1 when something is wrong.
 */
async function together(edits: number, people: number, seed: number): Promise<number> {
  const folder = Deno.makeTempDirSync();
  const server = await startServer(folder);
  const season = makeSeason("typical", seed);
  const address = `${server.origin}/api/seasons/${season.id}`;
  try {
    const headers = { "content-type": "application/json" };
    await fetch(`${server.origin}/api/seasons`, { method: "POST", headers, body: JSON.stringify(season) });
    const first = await (await fetch(address)).json();
    const chance = xoroshiro128plus(seed);
    const pick = (below: number) => uniformInt(chance, 0, below - 1);
    const editors = Array.from(
      { length: people },
      (_, index) => new Editor(`person-${index + 1}`, season.id, pick),
    );
    const saved = () => editors.reduce((sum, one) => sum + one.tally.saved, 0);
    const witness = new Witness(markedByPlace(first), 1);
    const faults: string[] = [];
    let told = 0;
    await Promise.all(editors.map(async (editor) => {
      while (saved() < edits && faults.length === 0) {
        await editor.step(server.origin);
        if (saved() - told >= 1000) console.log(`${told = saved()} saved`);
      }
    }));
    faults.push(...witness.read(await readLog(address, 1)));
    for (const editor of editors) faults.push(...editor.acknowledged.flatMap((one) => witness.holds(one)));
    if (!witness.is(await (await fetch(address)).json())) faults.push("the season is not what its log says");
    const took = editors.flatMap((one) => one.took).sort((a, b) => a - b);
    const at = (share: number) => (took[Math.floor(share * (took.length - 1))] ?? NaN).toFixed(1);
    for (const one of faults.slice(0, 20)) console.log(one);
    console.log(
      `${saved()} edits of ${people} people: ${JSON.stringify(sum(editors))}, ${faults.length} faults; ` +
        `answered in ${at(0.5)} ms (median), ${at(0.95)} ms (95 of 100), ${at(1)} ms (longest)`,
    );
    return faults.length === 0 ? 0 : 1;
  } finally {
    await server.kill();
    Deno.removeSync(folder, { recursive: true });
  }
}

function sum(editors: readonly Editor[]): Record<string, number> {
  const all: Record<string, number> = {};
  for (const { tally } of editors) {
    for (const [kind, count] of Object.entries(tally)) all[kind] = (all[kind] ?? 0) + count;
  }
  return all;
}

const options = { edits: { type: "string" }, people: { type: "string" }, seed: { type: "string" } } as const;
const { values } = parseArgs({ args: Deno.args, options });
Deno.exit(
  await together(Number(values.edits ?? 10_000), Number(values.people ?? 4), Number(values.seed ?? 1)),
);
