import type { LinearModel } from "../../../core/solve/linear.ts";
import type { Batch, Term } from "./batches.ts";
import type { Use } from "./brew-rows.ts";
import type { Ground } from "./ground.ts";

/** Kilograms of a batch at the end of a day, as terms and a constant. */
function stock(batch: Batch, uses: readonly Use[], day: number): { terms: Term[]; fixedKg: number } {
  if (batch.arriveDay > day) return { terms: [], fixedKg: 0 };
  const gone = uses.filter((use) => use.batch === batch && use.day <= day);
  return {
    terms: [...batch.terms, ...gone.map((use) => [use.column, -1] as const)],
    fixedKg: batch.fixedKg,
  };
}

/** No batch gives more than it has. */
export function addBatches(model: LinearModel, batches: readonly Batch[], uses: readonly Use[]): void {
  for (const batch of batches) {
    const { terms } = stock(batch, uses, Infinity);
    model.row(-batch.fixedKg, Infinity, terms);
  }
}

/** Kilogram-days under each malt's floor, counted in stretches of days with the same stock. */
export function addReserve(
  model: LinearModel,
  { season, ctx, floorKg }: Ground,
  batches: readonly Batch[],
  uses: readonly Use[],
): void {
  const price = season.costs.reservePerTonneDayCents / 100 / 1000;
  if (price === 0) return;
  for (const malt of season.maltTypes) {
    const floor = floorKg.get(malt.id)!;
    if (malt.made.from !== "grain" && malt.reserveFloorG === undefined || floor <= 0) continue;
    const mine = batches.filter((batch) => batch.maltId === malt.id);
    const first = ctx.asOfDay + 1, past = ctx.horizonEnd + 1;
    const turns = [
      ...mine.flatMap((batch) => [batch.readyDay, batch.bestDay + 1]),
      ...uses.map((use) => use.day),
    ];
    const days = [...new Set([first, ...turns.filter((day) => day > first && day < past)])].sort((a, b) =>
      a - b
    );
    days.forEach((day, place) => {
      const short = model.column(price * ((days[place + 1] ?? past) - day), 0, floor);
      const ready = mine.filter((batch) => batch.readyDay <= day && day <= batch.bestDay)
        .map((batch) => stock(batch, uses, day));
      const fixedKg = ready.reduce((sum, one) => sum + one.fixedKg, 0);
      model.row(floor - fixedKg, Infinity, [[short, 1], ...ready.flatMap((one) => one.terms)]);
    });
  }
}

/** Bag places on every day on which malt comes in; on other days the store only empties. */
export function addPlaces(
  model: LinearModel,
  { season, ctx }: Ground,
  batches: readonly Batch[],
  uses: readonly Use[],
): void {
  const placeKg = season.maltStore.placeG / 1000;
  const asOf = batches.filter((batch) => batch.arriveDay <= ctx.asOfDay)
    .reduce((sum, batch) => sum + Math.ceil(batch.fixedKg / placeKg), 0);
  const most = Math.max(season.maltStore.places, asOf);
  const groups = [...new Set(batches.map((batch) => batch.group))];
  const days = new Set(batches.map((batch) => Math.max(batch.arriveDay, ctx.firstFreeDay)));
  for (const day of days) {
    const places = groups.map((group) => {
      const there = batches.filter((batch) => batch.group === group && batch.arriveDay <= day)
        .map((batch) => stock(batch, uses, day));
      if (there.length === 0) return null;
      const place = model.column(0, 0, most, true);
      const fixedKg = there.reduce((sum, one) => sum + one.fixedKg, 0);
      model.row(fixedKg, Infinity, [
        [place, placeKg],
        ...there.flatMap((one) => one.terms.map(([column, by]) => [column, -by] as const)),
      ]);
      return [place, 1] as const;
    });
    model.row(-Infinity, most, places.filter((place) => place !== null));
  }
}
