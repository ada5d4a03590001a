import type { Plan } from "../plan/plan.ts";
import type { Crop } from "../season/quantity.ts";
import type { Season } from "../season/season.ts";

/** From the least to the most. */
export interface Span {
  readonly least: number;
  readonly most: number;
}

/** One malt of the farm's own making beside the prices it is offered at. Cents a kilogram of malt, as is. */
export interface GrowOrBuy {
  readonly maltId: string;
  readonly name: string;
  /** Malt of all planned runs of it, grams. */
  readonly massG: number;
  /** Over its planned runs: the cheapest to the dearest. */
  readonly homeCentsPerKg: Span;
  /** What of that is grain, over all its runs. */
  readonly grainCentsPerKg: number;
  /** Over its offers, put on the extract of the farm's own malt: without freight, to with that of the least order. Null where nobody offers it. */
  readonly boughtCentsPerKg: Span | null;
}

const G_PER_KG = 1000;
const G_PER_TONNE = 1e6;

/**
 * What malt of the farm's own grain costs, run by run as planned: the run, each tonne steeped, and the grain, at `grainCentsPerTonne`, or where that is
 * null at what feed pays. Of each malt of which a run is planned, that of which most is made first.
 */
export function growOrBuy(season: Season, plan: Plan, grainCentsPerTonne: number | null): GrowOrBuy[] {
  const own = new Set(
    season.lots.filter((lot) => lot.owner === "farm" && lot.origin === "own").map((lot) => lot.id),
  );
  return season.maltTypes.flatMap((malt): GrowOrBuy[] => {
    const { made } = malt;
    if (made.from !== "grain") return [];
    const runs = plan.runs.filter((run) =>
      run.maltId === malt.id && run.standing !== "under way" &&
      run.draws.every((draw) => own.has(draw.lotId))
    ).map(
      (run) => {
        const grainCents = run.draws.reduce((sum, draw) => {
          const crop = season.lots.find((lot) => lot.id === draw.lotId)?.crop;
          const price = grainCentsPerTonne ?? (crop === undefined ? 0 : feedCentsPerTonne(season, crop));
          return sum + price * draw.massG / G_PER_TONNE;
        }, 0);
        const massG = run.outputs.reduce((sum, one) => sum + one.massG, 0);
        const cents = made.runCents + made.perTonneCents * run.cleanG / G_PER_TONNE + grainCents;
        return { massG, grainCents, centsPerKg: cents / massG * G_PER_KG };
      },
    ).filter(({ massG }) => massG > 0);
    if (runs.length === 0) return [];
    const massG = runs.reduce((sum, one) => sum + one.massG, 0);
    return [{
      maltId: malt.id,
      name: malt.name,
      massG,
      homeCentsPerKg: spanOf(runs.map((one) => one.centsPerKg)),
      grainCentsPerKg: runs.reduce((sum, one) => sum + one.grainCents, 0) / massG * G_PER_KG,
      boughtCentsPerKg: boughtCentsPerKg(season, malt.id, malt.extractCoarseDb * (1 - malt.maltMoistureWb)),
    }];
  }).sort((a, b) => b.massG - a.massG);
}

/** What the best pick-up pays for a tonne of a crop in a full load, after haulage, cents; 0 where none takes it. */
export function feedCentsPerTonne({ feedPickups }: Season, crop: Crop): number {
  return Math.max(
    0,
    ...feedPickups.filter((one) => one.crops.includes(crop)).map((one) =>
      one.perTonneCents - one.haulageCents / (one.greatestG / G_PER_TONNE)
    ),
  );
}

function boughtCentsPerKg({ supplyOffers }: Season, maltId: string, homeExtractAsIs: number): Span | null {
  const prices = supplyOffers.flatMap((offer) => {
    if (offer.ingredient.kind !== "malt" || offer.ingredient.maltId !== maltId) return [];
    const same = homeExtractAsIs / offer.extractAsIs * G_PER_KG / offer.packG;
    return [same * offer.packCents, same * (offer.packCents + offer.freightCents / offer.leastPacks)];
  });
  return prices.length === 0 ? null : spanOf(prices);
}

function spanOf(numbers: readonly number[]): Span {
  return { least: Math.min(...numbers), most: Math.max(...numbers) };
}
