/// <reference lib="deno.worker" />
import { answerFields } from "../../core/explain/field-crops.ts";
import { fieldsWords } from "../../core/explain/field-words.ts";
import { accountWords, answerAccount } from "../../core/explain/new-account.ts";
import type { Answered, AskOrder } from "./ask-messages.ts";
import { resolverOf } from "./resolver.ts";

self.onmessage = async (event: MessageEvent<AskOrder>) => {
  self.postMessage(await answered(event.data));
};

async function answered({ season, plan, ask }: AskOrder): Promise<Answered> {
  try {
    const resolve = await resolverOf(plan, () => false);
    if ("yields" in ask) {
      const found = await answerFields(season, plan, resolve, ask.yields);
      if (found === null) return { kind: "answer", words: "It cannot be planned with these yields." };
      const { words, rows } = fieldsWords(season, found);
      return { kind: "answer", words, fields: rows };
    }
    const answer = await answerAccount(season, plan, resolve, ask);
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
