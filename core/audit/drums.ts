/** Drum loads: malt made from malt. */
import { dayNumber } from "../calendar.ts";
import type { PlanDrum } from "../plan/plan.ts";
import { type Breach, breach } from "./breach.ts";
import type { Context } from "./context.ts";
import { massWords } from "./words.ts";

/** Whole grams, as for a run. The millionth is for fractions such as 0.9 that binary numbers only come near. */
const TOLERANCE_G = 2 + 1e-6;

function oneLoad(ctx: Context, drum: PlanDrum): Breach[] {
  const malt = ctx.malts.get(drum.maltId), day = dayNumber(drum.on);
  if (malt === undefined) return [];
  const { made } = malt;
  if (made.from !== "malt") {
    const message = `Drum load ${drum.id} makes ${malt.name}, which is not made in a drum.`;
    return [breach("drum-input", drum.id, day, malt.id, "a malt made from malt", message)];
  }
  const found: Breach[] = [];
  for (const { batchId } of drum.from) {
    const ingredient = ctx.malt.batches.get(batchId)?.ingredient;
    if (ingredient === undefined || (ingredient.kind === "malt" && ingredient.maltId === made.maltId)) {
      continue;
    }
    const what = ingredient.kind === "malt" ? ingredient.maltId : ingredient.crop;
    const message = `Drum load ${drum.id} takes batch ${batchId} of ${what}, but needs ${made.maltId}.`;
    found.push(breach("drum-input", drum.id, day, what, made.maltId, message));
  }
  const inG = drum.from.reduce((sum, item) => sum + item.massG, 0);
  if (inG < made.leastG || inG > made.greatestG) {
    const limit = `${massWords(made.leastG)} to ${massWords(made.greatestG)}`;
    const message = `Drum load ${drum.id} takes ${massWords(inG)}; a load is ${limit}.`;
    found.push(breach("drum-load", drum.id, day, massWords(inG), limit, message));
  }
  const outG = inG * (1 - made.weightLoss);
  if (Math.abs(drum.massG - outG) > TOLERANCE_G) {
    const message = `Drum load ${drum.id} gives ${massWords(drum.massG)} in the plan; its loss leaves ${
      massWords(outG)
    }.`;
    found.push(breach("drum-weight", drum.id, day, massWords(drum.massG), massWords(outG), message));
  }
  return found;
}

/** Every drum load. */
export function drumLoads(ctx: Context): Breach[] {
  return ctx.plan.drums.flatMap((drum) => oneLoad(ctx, drum));
}
