import { type Knobs, type MadeFrame, rawGrains } from "./made-frame.ts";
import { recipesOf } from "./made-malts.ts";
import type { LotPlan } from "./lot-plans.ts";
import { fieldOf } from "./made-land.ts";
import type { Row } from "./micro-frame.ts";

/** Words that name the beers of a made season; they are nobody's labels. */
const KINDS = ["pale", "table", "wheat", "dark", "strong", "harvest", "light", "amber", "winter", "plain"];
const LETTERS = "abcdefghijklmnopqrstuvwxyz";

/** Sum of the tenths of a percent that a grist's shares are written in. */
const WHOLE = 1000;

/**
 * Beers of which most are brewed from a base malt with something beside it. Where a limit is planted nearly all of
 * the grist is promised to be home-grown, so that a lack of malt shows.
 */
export function madeBeers(frame: MadeFrame, knobs: Knobs): Row<"beers">[] {
  const { size, spec, luck } = frame;
  const recipes = recipesOf(frame);
  const made = recipes.filter((recipe) => typeof recipe.from === "string" && recipe.from !== "bought");
  const others = recipes.filter((recipe) => !made.includes(recipe));
  const bases = made.filter((recipe) => ["pale", "lager-malt"].includes(recipe.id));
  const tankDays = tankDaysOf(frame);
  return Array.from({ length: spec.beers }, (_, at): Row<"beers"> => {
    const chances = luck(`beer ${at}`);
    const id = `beer-${at + 1}`;
    const base = bases[at % bases.length]!;
    const second = at === 0 ? undefined : made[1 + (at - 1) % (made.length - 1)];
    const bought = others.length > 0 && at % 3 === 2 ? others[Math.floor(at / 3) % others.length] : undefined;
    const raw = size !== "micro" && at === 3;
    const lines = [
      ...(second === undefined || second === base ? [] : [{
        word: "second",
        ingredient: { kind: "malt" as const, maltId: second.id },
        share: 10 * chances.int(10, second.from === "wheat" ? 45 : 25),
      }]),
      ...(bought === undefined ? [] : [{
        word: "bought",
        ingredient: { kind: "malt" as const, maltId: bought.id },
        share: 10 * chances.int(4, 8),
      }]),
      ...(raw
        ? [{
          word: "raw",
          ingredient: { kind: "grain" as const, ...rawGrains(frame).raw },
          share: 10 * chances.int(4, 8),
        }]
        : []),
    ];
    const rest = WHOLE - lines.reduce((sum, line) => sum + line.share, 0);
    const boughtShare = lines.filter((line) => line.word !== "second").reduce(
      (sum, line) => sum + line.share,
      0,
    );
    const gravityP = chances.int(105, at % 5 === 4 ? 160 : 135) / 10;
    return {
      id,
      name: `The ${KINDS[at % KINDS.length]}${at < KINDS.length ? "" : " second"} beer`,
      letter: LETTERS[at % LETTERS.length]!,
      gravityP,
      finalGravityP: Math.round(gravityP * 2) / 10,
      volumeL: volumeOf(frame) + (size === "micro" ? 0 : 50 * chances.int(-2, 2)),
      brewhouseEfficiency: 0.85,
      losses: [{ name: "tank", share: 0.05 }, { name: "package", share: 0.04 }],
      tankDays: tankDays + knobs.slowDays + (at % 4 === 1 ? chances.int(4, 9) : chances.int(0, 3)),
      grist: [
        { id: `${id}-base`, ingredient: { kind: "malt", maltId: base.id }, share: rest / WHOLE },
        ...lines.map(({ word, ingredient, share }) => ({
          id: `${id}-${word}`,
          ingredient,
          share: share / WHOLE,
        })),
      ],
      homeSharePromise: promise(frame, chances.int(0, 9), 1 - boughtShare / WHOLE),
      substitutes: raw
        ? [{
          forLine: `${id}-raw`,
          ingredient: { kind: "grain", ...rawGrains(frame).instead },
          mostShare: 0.5,
        }]
        : lines.some((line) => line.word === "second") && chances.oneIn(3)
        ? [{
          forLine: `${id}-second`,
          ingredient: { kind: "malt", maltId: base.id },
          mostShare: chances.pick([0.3, 0.5, 1]),
        }]
        : [],
    };
  });
}

/** In half of the seasons the beer brewed least asks for some grain of the heaviest lot, or its field, of each harvest. */
export function requiring(
  { size, luck }: MadeFrame,
  beers: readonly Row<"beers">[],
  plans: readonly LotPlan[],
): Row<"beers">[] {
  const chances = luck("requires");
  const ofField = chances.oneIn(2);
  const unmixed = chances.oneIn(3);
  if (size === "micro" || chances.oneIn(2)) return [...beers];
  const barley = plans.filter((plan) => plan.kind === "malting" && plan.crop === "barley");
  const heaviest = [...new Set(barley.map((plan) => plan.year))].map((year) =>
    barley.filter((plan) => plan.year === year).reduce((most, one) => one.massG > most.massG ? one : most)
  );
  const ids = heaviest.map((plan) => ofField ? fieldOf(plan, plans) : plan.id);
  const rule = { kind: ofField ? "field" as const : "lot" as const, ids, leastShare: 0.3, unmixed };
  return beers.map((beer, at) => at === beers.length - 1 ? { ...beer, requires: [rule] } : beer);
}

/** Usual litres of a brew. Bags are small beside large brews, so a lack of them can be planted finely. */
function volumeOf({ size, spec, limit, luck }: MadeFrame): number {
  return 100 * luck("volume").int(...spec.brewHl) + (size === "micro" && limit === "bins" ? 1000 : 0);
}

/** Tank days of the quickest beer; a cellar that is to be the limit in six weeks needs slow beers. */
function tankDaysOf({ size, limit, luck }: MadeFrame): number {
  if (size === "micro") return limit === "tanks" ? 15 : 9;
  return luck("tank days").int(12, 17);
}

function promise({ limit }: MadeFrame, draw: number, most: number): number {
  const shares = limit === "none" || limit === "tanks"
    ? [0, 0.5, 0.7, 0.8, 0.9, 0.9, 0.95, 0.95, 0.95, 0.95]
    : [
      0.95,
    ];
  // A little slack, because shares are by weight and grists are met by extract.
  return Math.round(100 * shares[draw % shares.length]! * most) / 100;
}
