import { compareGoals } from "../plan/compare.ts";
import type { Plan } from "../plan/plan.ts";
import type { Field, Planting } from "../season/land.ts";
import type { Season } from "../season/season.ts";
import { plantingsAhead } from "./acre.ts";
import { type Resolve, Trials } from "./resolve.ts";
import { isNoise, lessOf, usualBrewG, type Worth, worthOf } from "./worth.ts";

/** A field whose crop can still be changed, and the planting it is meant for. */
export interface OpenField {
  readonly field: Field;
  readonly planting: Planting;
  /** What is drilled of it, square metres: as much of it as of all fields of its planting. */
  readonly drilledM2: number;
}

/** Likely yields that somebody expects, kg/ha as cut, by `yieldKey`; a planting's own stands for the fields that are left out. */
export type FieldYields = Readonly<Record<string, number>>;

/** Which planting each open field is given to, by id. */
export type Giving = ReadonlyMap<string, string>;

/** What a field is best given to, and what its next best use would lose at most: a short search plans it. */
export interface FieldUse {
  readonly open: OpenField;
  /** The planting it has in the best giving. */
  readonly best: Planting;
  /** The best of what was tried with the field given to another planting, another in its place where need be; null where nothing was. */
  readonly other: { readonly planting: Planting; readonly loss: Worth; readonly isNoise: boolean } | null;
}

/** The best giving that was found, beside the fields as they are planned. */
export interface FieldsAnswer {
  readonly uses: readonly FieldUse[];
  /** What the best giving brings more than the planned one. */
  readonly gain: Worth;
  readonly isAsPlanned: boolean;
  /** Ways that were planned, and whether these are all that move one field, or change two for each other, from the best. */
  readonly tried: number;
  readonly isAll: boolean;
}

/** Most ways that are planned anew: each takes a second or more. */
const MOST_TRIED = 24;

/** By what a yield of a field is known. */
export function yieldKey(fieldId: string, plantingId: string): string {
  return `${fieldId} ${plantingId}`;
}

/** Fields of the plantings that are still to be drilled, in the season's order; none of a planting that shares a field with another one ahead. */
export function openFields(season: Season): OpenField[] {
  const ahead = plantingsAhead(season);
  const plantings = ahead.filter((one) =>
    ahead.every((other) => other === one || other.fieldIds.every((id) => !one.fieldIds.includes(id)))
  );
  return season.fields.flatMap((field) => {
    const planting = plantings.find((one) => one.fieldIds.includes(field.id));
    if (planting === undefined) return [];
    const whole = season.fields.filter((one) => planting.fieldIds.includes(one.id))
      .reduce((sum, one) => sum + one.areaM2, 0);
    return [{ field, planting, drilledM2: field.areaM2 * planting.areaM2 / whole }];
  });
}

/** The fields as they are planned. */
export function plannedGiving(open: readonly OpenField[]): Giving {
  return new Map(open.map(({ field, planting }) => [field.id, planting.id]));
}

/** The season with its open fields given so, each planting with the mean yield of its fields. */
export function withGiving(season: Season, giving: Giving, yields: FieldYields): Season {
  const open = openFields(season);
  const ahead = new Set(open.map(({ planting }) => planting.id));
  return {
    ...season,
    plantings: season.plantings.map((planting) => {
      if (!ahead.has(planting.id)) return planting;
      const given = open.filter(({ field }) => giving.get(field.id) === planting.id);
      const asBefore = given.every((one) =>
        one.planting === planting && yields[yieldKey(one.field.id, planting.id)] === undefined
      );
      if (asBefore && given.length === planting.fieldIds.length) return planting;
      const areaM2 = given.reduce((sum, one) => sum + one.drilledM2, 0);
      const { likely } = planting.yieldKgPerHa;
      const mean = given.reduce(
        (sum, { field, drilledM2 }) =>
          sum + drilledM2 / areaM2 * (yields[yieldKey(field.id, planting.id)] ?? likely),
        0,
      );
      const part = likely > 0 ? mean / likely : 0;
      const { bad, good } = planting.yieldKgPerHa;
      return {
        ...planting,
        fieldIds: given.map(({ field }) => field.id),
        areaM2,
        yieldKgPerHa: { bad: Math.min(mean, bad * part), likely: mean, good: Math.max(mean, good * part) },
      };
    }),
  };
}

/** All givings that differ from one by one field moved, or by two that change places; each planting keeps a field, and fields go only to plantings of the same harvest. Those that move most land first. */
export function waysFrom(open: readonly OpenField[], giving: Giving): Giving[] {
  const plantings = [...new Set(open.map(({ planting }) => planting))];
  const may = (fieldId: string, id: string) => {
    const yearOf = (of: string) => plantings.find((one) => one.id === of)!.harvestYear;
    return at(fieldId) !== id && yearOf(at(fieldId)) === yearOf(id);
  };
  const count = (id: string) => [...giving.values()].filter((one) => one === id).length;
  const at = (fieldId: string) => giving.get(fieldId)!;
  const moves = open.flatMap((one) =>
    count(at(one.field.id)) < 2 ? [] : plantings.filter(({ id }) => may(one.field.id, id)).map(({ id }) => ({
      landM2: one.drilledM2,
      giving: new Map(giving).set(one.field.id, id),
    }))
  );
  const swaps = open.flatMap((one, i) =>
    open.slice(i + 1).filter((other) => may(one.field.id, at(other.field.id))).map((other) => ({
      landM2: Math.abs(one.drilledM2 - other.drilledM2),
      giving: new Map(giving).set(one.field.id, at(other.field.id)).set(other.field.id, at(one.field.id)),
    }))
  );
  return [...moves, ...swaps].toSorted((a, b) => b.landM2 - a.landM2).map((one) => one.giving);
}

/** A giving with the season and the plan that it makes. */
interface Planned {
  readonly giving: Giving;
  readonly season: Season;
  readonly plan: Plan;
}

/**
 * Plans the year anew with fields given otherwise, from the planned giving and again from each that is better, and finds the best. Null where
 * there is nothing to choose between, or the planned giving has no plan with these yields.
 */
export async function answerFields(
  season: Season,
  plan: Plan,
  resolve: Resolve,
  yields: FieldYields,
): Promise<FieldsAnswer | null> {
  const open = openFields(season), giving = plannedGiving(open);
  if (waysFrom(open, giving).length === 0) return null;
  const isGiven = Object.keys(yields).length > 0;
  const base = isGiven ? withGiving(season, giving, yields) : season;
  const own = isGiven ? await resolve(base, plan) : plan;
  if (own === null) return null;
  const trials = await Trials.open(base, own, resolve);
  const { reference } = trials;
  const planned = { giving, season: base, plan: reference };
  const found = await searchWays(season, trials, open, planned, yields);
  const usualG = usualBrewG(season, reference);
  const isSmall = (gain: Worth) => isNoise(gain, reference, usualG);
  const gain = gainOf(found.best, planned);
  const { made } = found.best.plan.goals;
  const isSame = made.every((count, of) => count === reference.goals.made[of]);
  const isAsPlanned = found.best === planned || (isSame && isSmall(gain));
  const chosen = isAsPlanned ? planned : found.best;
  const near = waysFrom(open, chosen.giving).flatMap((way) => found.known.get(nameOf(open, way)) ?? []);
  const plantingOf = (id: string) => season.plantings.find((one) => one.id === id)!;
  return {
    uses: open.map((one): FieldUse => {
      const { id } = one.field;
      const other = near.filter((way) => way.giving.get(id) !== chosen.giving.get(id)).toSorted(better)[0];
      const loss = other && gainOf(chosen, other);
      return {
        open: one,
        best: plantingOf(chosen.giving.get(id)!),
        other: other === undefined || loss === undefined
          ? null
          : { planting: plantingOf(other.giving.get(id)!), loss, isNoise: isSmall(loss) },
      };
    }),
    gain: isAsPlanned ? NOTHING : gain,
    isAsPlanned,
    tried: found.tried,
    isAll: found.isAll,
  };
}

/** Plans each way from the best giving so far, until none of them is better or enough were tried. */
async function searchWays(
  asItIs: Season,
  trials: Trials,
  open: readonly OpenField[],
  planned: Planned,
  yields: FieldYields,
) {
  const known = new Map<string, Planned | null>([[nameOf(open, planned.giving), planned]]);
  let best = planned, from: Planned | null = null, tried = 0, isAll = true;
  while (from !== best) {
    from = best;
    for (const giving of waysFrom(open, from.giving)) {
      const name = nameOf(open, giving);
      if (known.has(name)) continue;
      if (tried >= MOST_TRIED) {
        isAll = false;
        break;
      }
      const season = withGiving(asItIs, giving, yields);
      const plan = await trials.resolveOnly(season, from.plan);
      tried++;
      const one = plan && { giving, season, plan };
      known.set(name, one);
      if (one && better(one, best) < 0) best = one;
    }
  }
  return { known, best, tried, isAll };
}

function better(a: Planned, b: Planned): number {
  return compareGoals(a.plan.goals, b.plan.goals);
}

function gainOf(one: Planned, other: Planned): Worth {
  return lessOf(worthOf(one.season, one.plan), worthOf(other.season, other.plan));
}

const NOTHING: Worth = { brews: 0, promises: 0, homeMaltG: 0, roomG: 0, moneyCents: 0 };

function nameOf(open: readonly OpenField[], giving: Giving): string {
  return open.map(({ field }) => giving.get(field.id)).join(" ");
}
