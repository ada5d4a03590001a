import type { Plan } from "../plan/plan.ts";
import { gristNeed } from "../season/need.ts";
import type { Journal } from "./journal.ts";
import type { Lack } from "./malt-band.ts";
import { maltWords, onDayWords, partOfWeightWords } from "./words.ts";

/**
 * Lacking days at most this far apart are one episode: brews of one malt may well skip a week. Common practice, no
 * source.
 */
const JOIN_DAYS = 10;
/**
 * Home malt is back when as much as this part of a usual brew of it lies ready: less is a bag's rest. Common practice, no
 * source.
 */
const BACK_SHARE = 0.5;

/** What home malt failed to give one brew. */
interface Want {
  readonly day: number;
  readonly brewId: string;
  readonly lackG: number;
  readonly boughtG: number;
  readonly wholeG: number;
}

/** Ready malt at each day's end, index 0 = `firstDay`. */
export interface ReadyMalt {
  readonly homeG: readonly number[];
  readonly boughtG: readonly number[];
}

/** The episodes in which home malt of one malt did not cover what the brews asked of it, in order of day. */
export function lacksOf(journal: Journal, maltId: string, maltName: string, ready: ReadyMalt): Lack[] {
  const wants = wantsOf(journal, maltId, ready);
  const episodes: Want[][] = [];
  let wholesome = false;
  for (const want of wants) {
    if (want.lackG <= 0) {
      wholesome = true;
      continue;
    }
    const last = episodes.at(-1);
    const near = last !== undefined && want.day - last.at(-1)!.day <= JOIN_DAYS;
    if (last !== undefined && (near || !wholesome)) last.push(want);
    else episodes.push([want]);
    wholesome = false;
  }
  return episodes.map((wantsOfOne) => lackOf(journal, maltId, maltName, ready, wantsOfOne, wants));
}

/** Causes that have nothing to do with malt: a brew that is not made for one of these lacks none. */
const NOT_MALT: readonly Plan["unbrewed"][number]["cause"][] = ["tanks full", "brewhouse full"];

function wantsOf(journal: Journal, maltId: string, ready: ReadyMalt): Want[] {
  const wants: Want[] = [];
  for (const fact of journal.brews) {
    if (fact.day < journal.firstDay) continue;
    const lines = fact.beer.grist.filter((line) =>
      line.ingredient.kind === "malt" && line.ingredient.maltId === maltId
    );
    if (lines.length === 0) continue;
    const lineIds = lines.map((line) => line.id);
    if (fact.made) {
      const uses = fact.grist.filter((use) => lineIds.includes(use.lineId));
      const bought = uses.filter((use) =>
        use.from.kind === "batch" && journal.batches.get(use.from.batchId)?.home !== true
      );
      const boughtG = sum(bought);
      wants.push({ day: fact.day, brewId: fact.brew.id, lackG: boughtG, boughtG, wholeG: sum(uses) });
    } else if (fact.unbrewed !== null && !NOT_MALT.includes(fact.unbrewed.cause)) {
      const needG = gristNeed(journal.season, fact.brew)
        .filter((line) => lineIds.includes(line.lineId))
        .reduce((total, line) => total + line.bookMassG, 0);
      const at = fact.day - journal.firstDay;
      const there = (ready.homeG[at] ?? 0) + (ready.boughtG[at] ?? 0) >= needG;
      if (!there) {
        wants.push({ day: fact.day, brewId: fact.brew.id, lackG: needG, boughtG: 0, wholeG: needG });
      }
    }
  }
  return wants;
}

function sum(uses: readonly { massG: number }[]): number {
  return uses.reduce((total, one) => total + one.massG, 0);
}

function lackOf(
  journal: Journal,
  maltId: string,
  maltName: string,
  ready: ReadyMalt,
  wants: readonly Want[],
  all: readonly Want[],
): Lack {
  const usualG = all.reduce((sum, one) => sum + one.wholeG, 0) / all.length;
  const firstDay = wants[0]!.day, lastDay = wants.at(-1)!.day;
  let backDay: number | null = null;
  for (let day = lastDay + 1; day <= journal.planEnd && backDay === null; day++) {
    if (ready.homeG[day - journal.firstDay]! >= BACK_SHARE * usualG) backDay = day;
  }
  const days: { day: number; massG: number }[] = [];
  for (const want of wants) {
    const last = days.at(-1);
    if (last?.day === want.day) last.massG += want.lackG;
    else days.push({ day: want.day, massG: want.lackG });
  }
  const massG = wants.reduce((total, one) => total + one.lackG, 0);
  const askedG = all.filter((one) => firstDay <= one.day && one.day <= lastDay).reduce(
    (total, one) => total + one.wholeG,
    0,
  );
  const forecast = [...journal.batches.values()].some((one) =>
    one.key === `malt:${maltId}` && one.forecast && one.readyDay <= firstDay
  );
  const back = backDay === null ? "not back in this plan" : `back ${onDayWords(backDay, forecast)}`;
  const when = `${onDayWords(firstDay, forecast)}, ${back}`;
  const words = `home ${maltWords(maltName)} runs short ${when}`;
  const weight = `${partOfWeightWords(massG, askedG, journal.season.readerUnits)} lacking`;
  return {
    maltId,
    maltName,
    firstDay,
    lastDay,
    backDay,
    massG,
    askedG,
    boughtG: wants.reduce((total, one) => total + one.boughtG, 0),
    days,
    brewIds: wants.map((one) => one.brewId),
    forecast,
    when,
    words,
    weight,
    text: `${words}: ${weight}`,
  };
}
