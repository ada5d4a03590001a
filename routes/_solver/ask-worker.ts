/// <reference lib="deno.worker" />
import { accountWords, answerAccount } from "../../core/explain/new-account.ts";
import type { Answered, AskOrder } from "./ask-messages.ts";
import { resolverOf } from "./resolver.ts";

self.onmessage = async (event: MessageEvent<AskOrder>) => {
  self.postMessage(await answered(event.data));
};

async function answered({ season, plan, ask }: AskOrder): Promise<Answered> {
  try {
    const answer = await answerAccount(season, plan, await resolverOf(plan, () => false), ask);
    return {
      kind: "answer",
      words: answer === null
        ? "It cannot be planned: none of these brews falls inside the days shown."
        : accountWords(season, answer),
    };
  } catch (error) {
    return { kind: "broke", message: error instanceof Error ? error.message : String(error) };
  }
}
