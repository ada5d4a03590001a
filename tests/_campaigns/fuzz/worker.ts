/// <reference lib="deno.worker" />
import { loadHighs } from "../../_support/highs.ts";
import { bases } from "./bases.ts";
import { caseOf, shrink, textOf } from "./cases.ts";
import { judgeEntries } from "./entries.ts";
import { judge } from "./judge.ts";
import type { Answer, Task } from "./messages.ts";

// Runs beside the campaign, which ends it when a case takes too long.
const highs = await loadHighs();
const from = await bases(highs);
const atFault = new Map<string, string>();
for (const base of [from.demo, from.empty, ...from.micro]) {
  const { fault } = await judge(JSON.stringify(base.file), { highs, small: base.small });
  if (fault !== null) atFault.set(base.name, fault);
}

const tell = (answer: Answer) => self.postMessage(answer);

self.onmessage = async ({ data: { kind, seed } }: MessageEvent<Task>) => {
  if (kind === "lots") return tell({ kind: "done", ...await judgeEntries(seed, highs) });
  const one = caseOf(seed, from);
  const planning = atFault.has(one.base.name) ? null : { highs, small: one.base.small };
  const { word, fault } = await judge(textOf(one), planning);
  if (fault === null) return tell({ kind: "done", word, fault, about: "" });
  const edits = await shrink(one, fault, async (some) => (await judge(textOf(one, some), planning)).fault);
  tell({ kind: "done", word, fault, about: `${one.base.name}: ${JSON.stringify(edits).slice(0, 600)}` });
};

tell({ kind: "ready", faults: [...atFault].map(([name, fault]) => `${name}: ${fault}`) });
