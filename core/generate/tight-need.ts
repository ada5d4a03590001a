import { dayNumber } from "../calendar.ts";
import { bookAt } from "../book/book.ts";
import type { MadeFromGrain, MaltType } from "../season/malthouse.ts";
import { gristNeed } from "../season/need.ts";
import type { Season } from "../season/season.ts";
import { allBrewsToPlan } from "../season/tail.ts";

/** A weight wanted on a day number. */
export interface Wanted {
  readonly day: number;
  readonly massG: number;
}

/** What the calendar asks of one malt that is made here, less the home-made malt there is already. */
export interface HomeNeed {
  readonly malt: MaltType;
  readonly made: MadeFromGrain;
  /** Grams of malt still to be made, by brew day in order. */
  readonly net: readonly Wanted[];
  /** Grams of malt from one gram of clean grain at the book moisture of stored grain. */
  readonly maltPerClean: number;
}

/** Moisture of stored grain at which yields are reckoned: NDSU/UMN Field Guide A-290, 12.5 % for long storage. */
const BOOK_MOISTURE_WB = 0.125;

/** Grams of malt, by-malts left out, from one gram of clean grain as is. */
export function maltPerClean(malt: MaltType, made: MadeFromGrain): number {
  const kept = 1 - made.steepLossDm - made.respirationLossDm - made.rootletLossDm;
  const own = 1 - made.alsoGives.reduce((sum, other) => sum + other.share, 0);
  return (1 - BOOK_MOISTURE_WB) * kept / (1 - malt.maltMoistureWb) * own;
}

/** Least hours of the three stages over a malt's profiles. */
export function leastHours(made: MadeFromGrain): readonly [steep: number, bed: number, kiln: number] {
  const least = (stage: "steep" | "bed" | "kiln") =>
    Math.min(...made.profiles.map((profile) => profile[stage].least));
  return [least("steep"), least("bed"), least("kiln")];
}

/** Days from steep-in to the first brew, at the quickest. */
export function leastLeadDays({ malt, made }: Pick<HomeNeed, "malt" | "made">): number {
  return malt.restDays + Math.floor(leastHours(made).reduce((sum, hours) => sum + hours, 0) / 24);
}

/** The need of every malt that is made from grain, for the brews and malt sales inside the horizon. */
export function homeNeeds(season: Season): HomeNeed[] {
  const book = bookAt(season, season.asOf);
  const horizon = dayNumber(season.horizonEnd);
  const brews = allBrewsToPlan(season, season.asOf).filter((brew) => dayNumber(brew.on) <= horizon);
  const lines = brews.flatMap((brew) =>
    gristNeed(season, brew).map((line) => ({ day: dayNumber(brew.on), ...line }))
  );
  return season.maltTypes.flatMap((malt) => {
    const { made } = malt;
    if (made.from !== "grain") return [];
    const perClean = maltPerClean(malt, made);
    const wanted = [
      ...lines.filter((line) => line.ingredient.kind === "malt" && line.ingredient.maltId === malt.id)
        .map((line) => ({ day: line.day, massG: line.bookMassG })),
      ...season.contracts.flatMap((one) =>
        one.kind === "sell-malt" && one.maltId === malt.id
          ? [{ day: dayNumber(one.to), massG: one.massG }]
          : []
      ),
    ].sort((a, b) => a.day - b.day);
    const ready = book.batches.filter((batch) =>
      batch.maltId === malt.id && batch.home && batch.readyDay <= horizon
    )
      .reduce((sum, batch) => sum + batch.massG, 0);
    const underWay = book.runsUnderWay.filter((run) => run.maltId === malt.id)
      .flatMap((run) => run.draws)
      .reduce((sum, draw) => sum + draw.massG * (1 - made.screeningLoss) * perClean, 0);
    return [{ malt, made, maltPerClean: perClean, net: lessOpening(wanted, ready + underWay) }];
  });
}

/** The first grams wanted are met from what is there. */
function lessOpening(wanted: readonly Wanted[], openingG: number): Wanted[] {
  let left = openingG;
  return wanted.flatMap(({ day, massG }) => {
    const met = Math.min(left, massG);
    left -= met;
    return massG > met ? [{ day, massG: massG - met }] : [];
  });
}
