import { DatabaseSync } from "node:sqlite";
import { parseArgs } from "node:util";
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import { uniformInt } from "pure-rand/distribution/uniformInt";
import { demoFile } from "../../_support/demo.ts";
import { startServer } from "../../_support/server.ts";
import { Editor } from "./editor.ts";
import { readLog } from "./log.ts";
import { markedByPlace, Witness } from "./witness.ts";

/** Longest time from the first edit of a round to the end of the server, in milliseconds. */
const LONGEST_MS = 800;
/** The whole file is checked at every so many rounds. */
const WHOLE_EVERY = 50;

/**
 * Kills the server while people edit and the planner works, as a power cut would: `deno task kills [--rounds N]
 * [--seed S]`. After each kill every edit that was acknowledged has to be in the log once, none may be there in part, and
 * what was sent without an answer is sent again and may not be made twice. Ends with 1 when something is wrong.
 */
async function kills(rounds: number, seed: number): Promise<number> {
  const folder = Deno.makeTempDirSync();
  const id = (demoFile() as { id: string }).id;
  const chance = xoroshiro128plus(seed);
  const pick = (below: number) => uniformInt(chance, 0, below - 1);
  const editors = ["owner", "maltster"].map((name) => new Editor(name, id, pick));
  const faults: string[] = [];
  let witness: Witness | null = null;
  let planning = 0, unanswered = 0, round = 0;
  const checked = editors.map(() => 0);
  const began = performance.now();
  try {
    for (; round < rounds && faults.length === 0; round++) {
      const server = await startServer(folder);
      const address = `${server.origin}/api/seasons/${id}`;
      const season = await (await fetch(address)).json();
      witness ??= new Witness(markedByPlace(season), 1);
      faults.push(...witness.read(await readLog(address, witness.revision)));
      editors.forEach((editor, index) => {
        const news = editor.acknowledged.slice(checked[index]);
        faults.push(...news.flatMap((one) => witness!.holds(one)));
        checked[index] = editor.acknowledged.length;
      });
      if (!witness.is(season)) faults.push(`round ${round}: the season is not what its log says`);
      if (round % WHOLE_EVERY === 0) {
        console.log(`${round} kills, ${witness.revision} edits, ${faults.length} faults`);
      }

      let over = false;
      const work = editors.map(async (editor) => {
        while (!over) {
          await editor.step(server.origin).catch((error) => {
            if (!over) faults.push(String(error));
          });
        }
      });
      await new Promise((resolve) => setTimeout(resolve, pick(LONGEST_MS)));
      over = true;
      await server.kill();
      await Promise.all(work);
      unanswered += editors.filter((one) => one.unanswered !== null).length;
      const { solving, broken } = lookInside(`${folder}/rickyard.sqlite`, round % WHOLE_EVERY === 0);
      planning += solving;
      if (broken !== "") faults.push(`round ${round}: ${broken}`);
    }
    for (const one of faults.slice(0, 20)) console.log(one);
    const acknowledged = editors.reduce((sum, one) => sum + one.acknowledged.length, 0);
    console.log(
      `${round} kills: ${acknowledged} acknowledged edits, ${unanswered} sent and not answered, ${planning} plans cut ` +
        `off, ${faults.length} faults, ${Math.round((performance.now() - began) / 1000)} s`,
    );
    return faults.length === 0 ? 0 : 1;
  } finally {
    Deno.removeSync(folder, { recursive: true });
  }
}

/** Opens the file that the dead server left: whether a plan was in the making, and what is wrong with the file. */
function lookInside(path: string, whole: boolean): { solving: number; broken: string } {
  const store = new DatabaseSync(path);
  try {
    const solving = Number(store.prepare("SELECT count(*) AS n FROM plan WHERE state = 'solving'").get()?.n);
    const said = String(
      Object.values(store.prepare(`PRAGMA ${whole ? "integrity" : "quick"}_check`).get() ?? {})[0],
    );
    return { solving, broken: said === "ok" ? "" : said };
  } finally {
    store.close();
  }
}

const { values } = parseArgs({
  args: Deno.args,
  options: { rounds: { type: "string" }, seed: { type: "string" } },
});
Deno.exit(await kills(Number(values.rounds ?? 1000), Number(values.seed ?? 1)));
