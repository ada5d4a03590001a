/** What a brew is made of: extract by line, substitutes, raw grain, home share and asked-for origins. */
import { dayNumber } from "../calendar.ts";
import { extractKg } from "../physics/extract.ts";
import type { PlanBrew } from "../plan/plan.ts";
import type { Beer, Ingredient } from "../season/brewing.ts";
import { descends } from "./ancestry.ts";
import { type Breach, breach } from "./breach.ts";
import { wortL } from "./brews.ts";
import type { Context } from "./context.ts";
import { donPpm, holdsTreatedSeed, RAW_DON_PPM_MOST } from "./lot-clock.ts";
import { massWords, spoken } from "./words.ts";

/** A plan may write a share to four decimals. */
const SHARE_TOLERANCE = 5e-5;

type Use = PlanBrew["grist"][number];
type Line = Beer["grist"][number];

/** What a use is: a malt or a grain, with its own extract when it is a batch. */
interface Source {
  readonly kind: "malt" | "grain";
  readonly key: string;
  readonly extractAsIs: number | undefined;
}

function sourceOf(ctx: Context, { from }: Use): Source | undefined {
  if (from.kind === "lot") {
    const lot = ctx.lots.get(from.lotId);
    return lot === undefined ? undefined : { kind: "grain", key: lot.crop, extractAsIs: undefined };
  }
  const batch = ctx.malt.batches.get(from.batchId);
  if (batch === undefined) return undefined;
  const { ingredient, extractAsIs } = batch;
  const key = ingredient.kind === "malt" ? ingredient.maltId : ingredient.crop;
  return { kind: ingredient.kind, key, extractAsIs };
}

function matches(source: Source, ingredient: Ingredient): boolean {
  return ingredient.kind === source.kind &&
    (ingredient.kind === "malt" ? ingredient.maltId : ingredient.crop) === source.key;
}

/** Extract of an ingredient by the book, as is. */
export function bookExtract(ctx: Context, ingredient: Ingredient): number {
  if (ingredient.kind === "grain") return ingredient.extractAsIs;
  const malt = ctx.malts.get(ingredient.maltId);
  return malt === undefined ? 0 : malt.extractCoarseDb * (1 - malt.maltMoistureWb);
}

/** Grams of laboratory extract that each line of a beer has to give for so much cold wort. */
export function askedExtractG(ctx: Context, beer: Beer, volumeL: number): Map<string, number> {
  const totalG = extractKg(volumeL, beer.gravityP) * 1000 / beer.brewhouseEfficiency;
  const weights = beer.grist.map((line) => line.share * bookExtract(ctx, line.ingredient));
  const sum = weights.reduce((all, weight) => all + weight, 0);
  return new Map(beer.grist.map((line, place) => {
    const part = sum > 0 ? weights[place]! / sum : 0;
    return [line.id, part > 0 ? totalG * part : 0];
  }));
}

function line(ctx: Context, brew: PlanBrew, beer: Beer, one: Line, askedG: number): Breach[] {
  const day = dayNumber(brew.on), uses = brew.grist.filter((use) => use.lineId === one.id);
  const found: Breach[] = [];
  let mainG = 0;
  const bySubstitute = new Map<Beer["substitutes"][number], { extractG: number; uses: number }>();
  for (const use of uses) {
    const source = sourceOf(ctx, use);
    if (source === undefined) continue;
    if (matches(source, one.ingredient)) {
      mainG += use.massG * (source.extractAsIs ?? bookExtract(ctx, one.ingredient));
      continue;
    }
    const instead = beer.substitutes.find((item) =>
      item.forLine === one.id && matches(source, item.ingredient)
    );
    if (instead === undefined) {
      const message = `Brew ${brew.id} has ${source.key} in the line ${one.id}, ` +
        `which is neither its ingredient nor a substitute.`;
      found.push(breach("brew-ingredient", brew.id, day, source.key, `what ${one.id} may be`, message));
      continue;
    }
    const sum = bySubstitute.get(instead) ?? { extractG: 0, uses: 0 };
    sum.extractG += use.massG * (source.extractAsIs ?? bookExtract(ctx, instead.ingredient));
    bySubstitute.set(instead, { ...sum, uses: sum.uses + (use.massG > 0 ? 1 : 0) });
  }
  for (const [instead, sum] of bySubstitute) {
    if (sum.extractG <= askedG * instead.mostShare + sum.uses) continue;
    const limit = `${spoken(instead.mostShare * 100)} %`;
    const share = `${spoken(sum.extractG / askedG * 100, 3)} %`;
    const message =
      `Brew ${brew.id} takes ${share} of the line ${one.id} from a substitute; ${limit} is allowed.`;
    found.push(breach("brew-substitute", brew.id, day, share, limit, message));
  }
  const isG = mainG + [...bySubstitute.values()].reduce((sum, item) => sum + item.extractG, 0);
  // A wrong ingredient is a breach of its own; the line is judged on what it should hold.
  if (found.some((item) => item.rule === "brew-ingredient")) return found;
  // Each use was rounded to a whole gram; one of nothing was not.
  const rounded = uses.filter((use) => use.massG > 0).length;
  if (!(Math.abs(isG - askedG) <= Math.max(1, rounded))) {
    const message = `The line ${one.id} of brew ${brew.id} gets ${massWords(isG)} of extract; it needs ${
      massWords(askedG)
    }.`;
    found.push(breach("brew-extract", brew.id, day, massWords(isG), massWords(askedG), message));
  }
  return found;
}

function rawLots(ctx: Context, brew: PlanBrew): Breach[] {
  const lots = new Set(brew.grist.flatMap(({ from }) => from.kind === "lot" ? [from.lotId] : []));
  return [...lots].flatMap((lotId) => {
    const lot = ctx.lots.get(lotId);
    if (lot === undefined) return [];
    const don = donPpm(ctx, lotId), wrong: string[] = [];
    if (lot.use !== "raw") wrong.push(`is kept as "${lot.use}"`);
    if (lot.owner !== "farm") wrong.push(`belongs to ${lot.owner}`);
    if (holdsTreatedSeed(ctx, lotId)) wrong.push("is treated seed");
    if (don !== undefined && don > RAW_DON_PPM_MOST) wrong.push(`has ${don} mg/kg of deoxynivalenol`);
    if (wrong.length === 0) return [];
    const message = `Brew ${brew.id} mashes lot ${lotId}, which ${wrong.join(" and ")}.`;
    const limit = `raw, the farm's own, untreated, at most ${RAW_DON_PPM_MOST} mg/kg`;
    return [breach("brew-raw-lot", brew.id, dayNumber(brew.on), wrong.join(", "), limit, message)];
  });
}

function isHome(ctx: Context, { from }: Use): boolean {
  return from.kind === "lot"
    ? ctx.lots.get(from.lotId)?.origin === "own"
    : ctx.malt.batches.get(from.batchId)?.home === true;
}

function weightG(uses: readonly Use[]): number {
  return uses.reduce((sum, use) => sum + use.massG, 0);
}

/** Home-grown weight out of grist weight; 0 for a brew without a grist. */
function homeShare(ctx: Context, brew: PlanBrew): number {
  const all = weightG(brew.grist);
  return all > 0 ? weightG(brew.grist.filter((use) => isHome(ctx, use))) / all : 0;
}

/** True when a brew keeps its beer's promise of home-grown grain. */
export function promiseHolds(ctx: Context, brew: PlanBrew): boolean {
  return homeShare(ctx, brew) >= (ctx.beers.get(brew.beerId)?.homeSharePromise ?? 0) - 1e-9;
}

function home(ctx: Context, brew: PlanBrew): Breach[] {
  const share = homeShare(ctx, brew), holds = promiseHolds(ctx, brew), day = dayNumber(brew.on);
  const found: Breach[] = [];
  if (weightG(brew.grist) > 0 && Math.abs(share - brew.homeShare) > SHARE_TOLERANCE) {
    const is = spoken(brew.homeShare, 5), should = spoken(share, 5);
    const message = `Brew ${brew.id} is said to be ${is} home-grown; by its grist it is ${should}.`;
    found.push(breach("brew-home-share", brew.id, day, is, should, message));
  }
  if (holds !== brew.promiseHeld) {
    const says = (held: boolean) => held ? "held" : "home-short";
    const message = `Brew ${brew.id} is called ${says(brew.promiseHeld)}, but it is ${says(holds)}.`;
    found.push(breach("brew-promise", brew.id, day, says(brew.promiseHeld), says(holds), message));
  }
  return found;
}

function demands(ctx: Context, brew: PlanBrew, beer: Beer): Breach[] {
  const all = weightG(brew.grist);
  return beer.requires.flatMap((demand) => {
    const { kind, ids, leastShare, unmixed } = demand;
    const counts = (lotId: string) => descends(ctx, lotId, demand);
    const part = brew.grist.reduce((sum, { from, massG }) => {
      if (from.kind === "lot") return counts(from.lotId) ? sum + massG : sum;
      const shares = ctx.malt.batches.get(from.batchId)?.shares ?? [];
      const good = shares.filter(({ lotId }) => counts(lotId));
      // Kept unmixed means that a batch with any other grain in it does not count at all.
      if (unmixed && good.length < shares.length) return sum;
      return sum + massG * good.reduce((whole, { share }) => whole + share, 0);
    }, 0);
    if (part >= leastShare * all - 1) return [];
    const is = `${spoken(all > 0 ? part / all * 100 : 0)} %`, limit = `${spoken(leastShare * 100)} %`;
    const message = `Brew ${brew.id} has ${is} from ${kind} ${ids.join(", ")}; it asks for ${limit}.`;
    return [breach("brew-requires", brew.id, dayNumber(brew.on), is, limit, message)];
  });
}

/** The grist of every brew. */
export function grists(ctx: Context): Breach[] {
  return ctx.plan.brews.flatMap((brew) => {
    const beer = ctx.beers.get(brew.beerId), volumeL = wortL(ctx, brew);
    if (beer === undefined || volumeL === undefined) return [];
    const asked = askedExtractG(ctx, beer, volumeL);
    return [
      ...beer.grist.flatMap((one) => line(ctx, brew, beer, one, asked.get(one.id)!)),
      ...rawLots(ctx, brew),
      ...home(ctx, brew),
      ...demands(ctx, brew, beer),
    ];
  });
}
