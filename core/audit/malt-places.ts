/** Room in the malt store: judged where the plan itself has a part in the crowd. */
import { type Breach, breach } from "./breach.ts";
import type { Context } from "./context.ts";
import { batchG } from "./malt-book.ts";
import { dayWords } from "./words.ts";

/** Places taken, by whose doing the malt comes in: the plan's own choice, or what is recorded, under way or booked. */
interface Places {
  readonly chosen: number;
  readonly settled: number;
}

function plus(a: Places, b: Places): Places {
  return { chosen: a.chosen + b.chosen, settled: a.settled + b.settled };
}

/** Batches that are neither recorded nor under way nor booked: of the plan's own runs, drum loads and orders. */
function chosenBatches({ plan }: Context): ReadonlySet<string> {
  return new Set([
    ...plan.runs.filter((run) => run.standing === "not booked").flatMap((run) =>
      run.outputs.map((out) => out.batchId)
    ),
    ...plan.drums.map((drum) => drum.batchId),
    ...plan.orders.filter((order) => order.standing === "not booked").map((order) => order.batchId),
  ]);
}

/** How many more or fewer places the store needs from each day on, over all batches, in order of days. */
function placeSteps(ctx: Context): [day: number, step: Places][] {
  const { placeG } = ctx.season.maltStore, ours = chosenBatches(ctx);
  const steps = new Map<number, Places>();
  for (const batch of ctx.malt.batches.values()) {
    const days = new Set([batch.arriveDay, ...batch.takings.map((taking) => taking.day)]);
    let before = 0;
    for (const day of [...days].sort((a, b) => a - b)) {
      const massG = batchG(batch, day), places = massG > 0 ? Math.ceil(massG / Math.max(placeG, 1)) : 0;
      const more = places - before;
      const step = ours.has(batch.id) ? { chosen: more, settled: 0 } : { chosen: 0, settled: more };
      steps.set(day, plus(steps.get(day) ?? { chosen: 0, settled: 0 }, step));
      before = places;
    }
  }
  return [...steps].sort(([a], [b]) => a - b);
}

/**
 * Days from as-of on, the first of each stretch, on which the store needs more than its places (or than what lay there
 * when the plan was made) while malt lies there that the plan chose to bring in. Where all malt is recorded, under way or
 * booked, the crowd is not the plan's doing: a run under way is stripped when it is ready, room or no room.
 */
export function maltPlaces(ctx: Context): Breach[] {
  const steps = placeSteps(ctx);
  let now = steps.filter(([day]) => day <= ctx.asOfDay).reduce((sum, [, step]) => plus(sum, step), {
    chosen: 0,
    settled: 0,
  });
  const most = Math.max(ctx.season.maltStore.places, now.settled);
  const found: Breach[] = [];
  let over = false;
  const later = steps.filter(([day]) => day > ctx.asOfDay);
  for (const [day, step] of [[ctx.asOfDay, { chosen: 0, settled: 0 }] as const, ...later]) {
    now = plus(now, step);
    const count = now.chosen + now.settled, wasOver = over;
    over = count > most && now.chosen > 0;
    if (!over || wasOver) continue;
    const message = `The malt store needs ${count} places on ${dayWords(day)}, ` +
      `${now.chosen} of them for malt that the plan brings in; it has ${most}.`;
    found.push(breach("malt-places", "malt-store", day, `${count} places`, `${most} places`, message));
  }
  return found;
}
