import { dateOf, dayNumber, isoDate } from "../calendar.ts";
import { freeId, usedIds } from "../form/free-id.ts";
import type { Plan } from "../plan/plan.ts";
import type { Brew } from "../season/brewing.ts";
import type { Season } from "../season/season.ts";
import { countWords, dayWords, listWords } from "../year/words.ts";
import { twelveMonths } from "./limit-months.ts";
import { beersWon, type Priced } from "./remedies.ts";
import type { Resolve } from "./resolve.ts";
import { amountWords, beerWords, gainWords } from "./words.ts";
import { lessOf, type Worth, worthOf } from "./worth.ts";

/** Brews that somebody would like to promise. */
export interface AccountAsk {
  readonly beerId: string;
  readonly perMonth: number;
  /** Day number of the first day of the first month. */
  readonly fromDay: number;
}

/** Whether so many brews more can be promised, by a plan that was made anew with them. */
export interface AccountAnswer {
  readonly asked: number;
  readonly made: number;
  /** Day from which the first brew that cannot be made as promised was wanted; null when all can. */
  readonly noFrom: number | null;
  /** Last day up to which all of them can be made; null where not even the first can. */
  readonly yesUntil: number | null;
  /** Day of the first brew of the calendar that is lost for them, or breaks its promise; null when none is. */
  readonly firstLoss: number | null;
  /** What gives, against the plan as it stands: brews and promises of the calendar; malt and money with the new brews' own. */
  readonly gives: Worth;
  readonly beers: Priced["beers"];
}

/** Most brews a month that may be asked for. */
export const MOST_PER_MONTH = 12;

/** The season with the brews asked for, spread evenly over each month, each free to move inside its own part of it. */
export function withAccount(season: Season, ask: AccountAsk): { season: Season; added: Brew[] } {
  const used = usedIds(season);
  const first = dayNumber(dateOf(season.fixedAsOf ?? season.asOf)) + season.roster.heldDays;
  const added = twelveMonths(ask.fromDay).flatMap(({ from, to }): Brew[] =>
    Array.from({ length: ask.perMonth }, (_, at) => {
      const start = from + Math.floor((to - from) * at / ask.perMonth);
      const end = from + Math.floor((to - from) * (at + 1) / ask.perMonth) - 1;
      return { start, end };
    }).filter(({ start, end }) => start >= first && end <= dayNumber(season.horizonEnd)).map(
      ({ start, end }) => {
        const id = freeId("new-account", used);
        used.add(id);
        return {
          id,
          beerId: ask.beerId,
          on: isoDate(Math.floor((start + end) / 2)),
          earliest: isoDate(start),
          latest: isoDate(end),
          class: 1,
          pilot: false,
        };
      },
    )
  );
  return { season: { ...season, brews: [...season.brews, ...added] }, added };
}

/** Plans the year anew with the brews asked for; null where it has no plan, or where none of them falls inside the days shown. */
export async function answerAccount(
  season: Season,
  plan: Plan,
  resolve: Resolve,
  ask: AccountAsk,
): Promise<AccountAnswer | null> {
  const { season: eased, added } = withAccount(season, ask);
  if (added.length === 0) return null;
  const after = await resolve(eased);
  return after === null ? null : compared(season, plan, eased, after, added);
}

function compared(
  season: Season,
  plan: Plan,
  eased: Season,
  after: Plan,
  added: readonly Brew[],
): AccountAnswer {
  const fresh = new Set(added.map((one) => one.id));
  const made = new Map(after.brews.map((one) => [one.id, one]));
  const lost = plan.brews.filter((one) => one.on <= season.horizonEnd && !one.id.startsWith("tail-"))
    .filter((one) => {
      const now = made.get(one.id);
      return now === undefined || (one.promiseHeld && !now.promiseHeld);
    });
  const failing = added.filter((one) => !isKept(made.get(one.id))).map((one) => one.earliest).sort()[0];
  const firstLoss = lost.map((one) => one.on).sort()[0];
  const noFrom = failing === undefined ? null : dayNumber(failing);
  const kept = added.filter((one) => isKept(made.get(one.id)));
  const held = kept.filter((one) => noFrom === null || dayNumber(one.latest) < noFrom);
  const last = held.at(-1);
  const others = { ...after, brews: after.brews.filter((one) => !fresh.has(one.id)) };
  const gives = lessOf(worthOf(eased, after), worthOf(season, plan));
  const shown = (brews: Plan["brews"]) => brews.filter((one) => one.on <= season.horizonEnd).length;
  return {
    asked: added.length,
    made: kept.length,
    noFrom,
    yesUntil: last === undefined ? null : noFrom === null ? dayNumber(last.latest) : noFrom - 1,
    firstLoss: firstLoss === undefined ? null : dayNumber(firstLoss),
    gives: {
      ...gives,
      brews: shown(others.brews) - shown(plan.brews),
      promises: -lost.filter((one) => made.has(one.id)).length,
    },
    beers: beersWon(season, plan, others),
  };
}

/** Made, and with the home-grown share that its beer promises. */
function isKept(brew: Plan["brews"][number] | undefined): boolean {
  return brew !== undefined && brew.promiseHeld;
}

/** The answer in a sentence or two. */
export function accountWords(season: Season, answer: AccountAnswer): string {
  const given = givenWords(season, answer);
  return `${headWords(answer)}.${
    given.length === 0 ? " Nothing gives." : ` What gives: ${listWords(given)}.`
  }`;
}

function headWords({ asked, made, noFrom, yesUntil, firstLoss }: AccountAnswer): string {
  const all = `all ${countWords(asked, "brew")}`;
  if (noFrom === null) {
    return firstLoss === null
      ? `Yes, ${all}, to ${dayWords(yesUntil!)}`
      : `Only if other brews give way, the first on ${
        dayWords(firstLoss)
      }: then ${all} can be made as promised`;
  }
  const head = yesUntil === null
    ? `No, not from ${dayWords(noFrom)} on`
    : `Yes until ${dayWords(yesUntil)}, no from ${dayWords(noFrom)} on`;
  return `${head}: ${made} of ${countWords(asked, "brew")} can be made as promised`;
}

function givenWords(season: Season, { gives, beers }: AccountAnswer): string[] {
  const malt = gainWords(season, { ...gives, brews: 0, promises: 0, roomG: 0 });
  return [
    beerWords(season, beers),
    gives.promises < 0 ? `${countWords(-gives.promises, "home-share promise")} of other brews` : "",
    Math.abs(gives.homeMaltG) < 1000 ? "" : `${malt}, the new brews' own included`,
    gives.moneyCents > -100
      ? ""
      : `${amountWords(season, gives.moneyCents)}, before what the new beer brings`,
  ].filter((one) => one !== "");
}
