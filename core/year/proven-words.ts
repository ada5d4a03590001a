import type { Plan } from "../plan/plan.ts";
import { moneyGapOf } from "../plan/plan-bound.ts";
import type { Season } from "../season/season.ts";
import { moneyAmount } from "./money-words.ts";
import { listWords } from "./words.ts";

/** Below this share a gap is no more than rounding: common practice, no source. */
const CLOSED = 0.0005;
/** So few cents are no amount where whole currency units are told: on a farm that spends nothing they are all there is to save. */
const NOTHING_CENTS = 50;

/** How much better any plan could be, as far as that is proven, in a sentence; empty where nothing is. */
export function provenWords({ currency }: Pick<Season, "currency">, plan: Plan): string {
  const { bound, goals } = plan;
  if (!bound) return "";
  const open = [
    ...bound.made.map(({ most }, i) => ({
      most,
      has: goals.made[i] as number,
      what: `brews and malt sales of class ${i + 1}`,
    })),
    { most: bound.promises.most, has: goals.promisesHeld, what: "home-share promises" },
    { most: bound.tail.most, has: goals.tailMade, what: "brews after the last day shown" },
  ].filter(({ most, has }) => most > has);
  if (open.length > 0) {
    const most = listWords(open.map((one) => `${one.most} ${one.what} (this one has ${one.has})`));
    return `Proven so far: no plan has more than ${most}.`;
  }
  const gap = moneyGapOf(plan);
  if (gap === null || !bound.money) return "Proven: no plan makes more brews or keeps more promises.";
  const savedCents = Math.max(0, goals.moneyCents - bound.money.leastCents);
  return gap < CLOSED || savedCents < NOTHING_CENTS
    ? "Proven: no plan makes more brews, keeps more promises or costs less."
    : `Proven: no plan makes more brews or keeps more promises, and none that makes as many saves more than ${
      (100 * gap).toFixed(1)
    } % (${moneyAmount(savedCents, currency)}).`;
}
