import type { Ground } from "./ground.ts";
import type { Best } from "./oracle.ts";
import type { RunOption } from "./run-options.ts";

/** Splits after which a season's mixtures are given up. */
const MOST_SPLITS = 40;
/** A mixture this near its option's better end is as good as exact: a thousandth of some 300 kg of malt is worth less than a coin. */
const NEAR = 2e-4;

/**
 * The best plan when runs may mix two lots whose malt differs. Extract and origin of such malt hang on the mixture, which a linear model
 * cannot say; so an option counts as its best mixture, and is cut in two where the plan's own mixture lies until that hardly flatters it.
 * `closed` is false when the cuts ran out: the plan is then a bound and no plan.
 */
export function bestOfMixtures(
  ground: Ground,
  options: readonly RunOption[],
  solve: (options: readonly RunOption[]) => Best,
): { best: Best; closed: boolean } {
  let cut = [...options];
  for (let splits = 0; splits < MOST_SPLITS; splits++) {
    const best = solve(cut);
    const flattered = best.chosen.runs.filter((run) => !run.option.exact)
      .map(({ option, draws }) => ({ option, share: firstShare(option, draws) }))
      .filter(({ option, share }) => flattery(ground, option, share) > NEAR);
    if (flattered.length === 0) return { best, closed: true };
    cut = cut.flatMap((option) => {
      const here = flattered.find((one) => one.option === option);
      return here === undefined ? [option] : halves(option, here.share);
    });
  }
  return { best: solve(cut), closed: false };
}

function firstShare(option: RunOption, draws: readonly { lotId: string; massKg: number }[]): number {
  const sum = (all: typeof draws) => all.reduce((kg, draw) => kg + draw.massKg, 0);
  return sum(draws.filter((draw) => draw.lotId === option.lotIds[0])) / sum(draws);
}

/** Extract as is of a run's malt when so much of the grain is of the first lot. */
function extractAt({ extractsAsIs: [first, second] }: RunOption, share: number): number {
  return share * first! + (1 - share) * (second ?? first!);
}

/** The most extract that the malt of an option may have. */
export function bestExtract(option: RunOption): number {
  return Math.max(...option.firstShare.map((share) => extractAt(option, share)));
}

/** The most that each lot may have in the malt of an option. */
export function bestShares({ lotIds, firstShare: [least, most] }: RunOption): ReadonlyMap<string, number> {
  return new Map(lotIds.map((lotId, place) => [lotId, place === 0 ? most : 1 - least]));
}

/** By how much an option's best mixture is better than what is really mixed, as a share. */
function flattery({ season }: Ground, option: RunOption, share: number): number {
  const [least, most] = option.firstShare;
  const origin = season.beers.some((beer) => beer.requires.length > 0)
    ? Math.max(most - share, share - least)
    : 0;
  return Math.max(bestExtract(option) / extractAt(option, share) - 1, origin);
}

/** An option cut where its mixture lies, or in the middle when that is one of its ends. */
function halves(option: RunOption, share: number): RunOption[] {
  const [least, most] = option.firstShare, rim = (most - least) / 10;
  const at = share > least + rim && share < most - rim ? share : (least + most) / 2;
  return [{ ...option, firstShare: [least, at] }, { ...option, firstShare: [at, most] }];
}
