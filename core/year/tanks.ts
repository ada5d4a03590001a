import { dayNumber } from "../calendar.ts";
import { nodeId } from "./graph.ts";
import { clockDay, type Journal } from "./journal.ts";
import { type BrewFact, brewVolumeL } from "./journal-brews.ts";
import { dayWords, listWords, stretchWords } from "./words.ts";
import type { MarkStanding } from "./marks.ts";
import type { TankBand, TankClash, TankRow, TankUse } from "./tanks-band.ts";

/** The tanks under the brews band: who is in which tank, and where more is asked than there are. */
export function tankBand(journal: Journal): TankBand {
  const tanks = journal.season.tanks.map((tank): TankRow => ({
    id: tank.id,
    name: tank.name,
    volumeL: tank.volumeL,
    uses: usesOf(journal, tank.id, tank.turnaroundDays),
    closures: tank.closures.map((one) => ({
      start: clockDay(one.from),
      end: clockDay(one.to),
      reason: one.reason,
    })),
  }));
  const taken = new Array<number>(journal.planEnd - journal.firstDay + 1).fill(0);
  for (const tank of tanks) {
    for (const use of tank.uses) {
      for (let day = Math.max(use.from, journal.firstDay); day < use.freeDay; day++) {
        if (day <= journal.planEnd) taken[day - journal.firstDay]! += 1;
      }
    }
  }
  return { tanks, taken, clashes: clashesOf(journal) };
}

function usesOf(journal: Journal, tankId: string, turnaroundDays: number): TankUse[] {
  const old = journal.season.opening.tanks.filter((one) => one.tankId === tankId).map((one): TankUse => {
    const freeDay = dayNumber(one.freeOn);
    return {
      from: one.since === undefined ? journal.firstDay : dayNumber(one.since),
      to: freeDay - turnaroundDays - 1,
      freeDay,
      brewId: null,
      node: null,
      what: one.what,
      standing: freeDay - turnaroundDays <= journal.asOfDay ? "done" : "under way",
    };
  });
  const brewed = journal.brews.filter((fact) => fact.tanks.some((one) => one.tankId === tankId))
    .map((fact): TankUse => ({
      from: fact.day,
      to: fact.day + fact.beer.tankDays - 1,
      freeDay: fact.day + fact.beer.tankDays + turnaroundDays,
      brewId: fact.brew.id,
      node: nodeId("brew", fact.brew.id),
      what: fact.beer.name,
      standing: fact.standing as MarkStanding,
    }));
  return [...old, ...brewed].sort((a, b) => a.from - b.from);
}

/** Tanks a brew takes up: two when none holds it whole, as the planner would split it. */
function tanksAsked(journal: Journal, fact: BrewFact): number {
  if (fact.made && fact.tanks.length > 0) return fact.tanks.length;
  return journal.season.tanks.some((tank) => tank.volumeL >= brewVolumeL(fact)) ? 1 : 2;
}

/**
 * Stretches of days, from as-of to the last day shown, on which recorded brews and asked-for brews on the days they are
 * wanted need more tanks than are open. A tank counts from brew day until it is clean again.
 */
function clashesOf(journal: Journal): TankClash[] {
  const { season } = journal;
  if (season.tanks.length === 0) return [];
  const turnaround = Math.min(...season.tanks.map((tank) => tank.turnaroundDays));
  const days = journal.lastDay - journal.asOfDay + 1;
  if (days <= 0) return [];
  const asked = new Array<number>(days).fill(0);
  const open = new Array<number>(days).fill(0);
  const span = (fact: BrewFact) => {
    const from = fact.standing === "done" || fact.standing === "under way" ? fact.day : fact.wantedDay;
    return { from, to: from + fact.beer.tankDays + turnaround };
  };
  const over = (from: number, to: number, put: (at: number) => void) => {
    for (let day = Math.max(from, journal.asOfDay); day < to && day <= journal.lastDay; day++) {
      put(day - journal.asOfDay);
    }
  };
  for (const fact of journal.brews) {
    const { from, to } = span(fact);
    over(from, to, (at) => asked[at]! += tanksAsked(journal, fact));
  }
  for (const beer of season.opening.tanks) {
    over(journal.firstDay, dayNumber(beer.freeOn), (at) => asked[at]! += 1);
  }
  for (const tank of season.tanks) {
    for (let at = 0; at < days; at++) open[at]! += 1;
    for (const one of tank.closures) {
      over(Math.floor(clockDay(one.from)), Math.ceil(clockDay(one.to)), (at) => open[at]! -= 1);
    }
  }
  const clashes: { day: number; asked: number; open: number }[][] = [];
  for (let at = 0; at < days; at++) {
    if (asked[at]! <= open[at]!) continue;
    const day = journal.asOfDay + at;
    const last = clashes.at(-1);
    const one = { day, asked: asked[at]!, open: open[at]! };
    if (last?.at(-1)?.day === day - 1) last.push(one);
    else clashes.push([one]);
  }
  return clashes.map((one) => clashOf(journal, one, span));
}

function clashOf(
  journal: Journal,
  days: readonly { day: number; asked: number; open: number }[],
  span: (fact: BrewFact) => { from: number; to: number },
): TankClash {
  const from = days[0]!.day, to = days.at(-1)!.day;
  const worst = days.reduce((a, b) => b.asked - b.open > a.asked - a.open ? b : a);
  const inIt = journal.brews.filter((fact) => span(fact).from <= worst.day && worst.day < span(fact).to);
  // Moving a brew eases the clash only if the brew would have been in a tank on one of its days.
  const touching = journal.brews.filter((fact) => span(fact).from <= to && from < span(fact).to);
  const moved = touching.filter((fact) => fact.made && fact.day !== fact.wantedDay && fact.grist.length > 0);
  const unbrewed = touching.filter((fact) => fact.unbrewed?.cause === "tanks full");
  return {
    from,
    to,
    asked: worst.asked,
    open: worst.open,
    days,
    brewIds: inIt.map((fact) => fact.brew.id),
    moved: moved.map((fact) => ({ brewId: fact.brew.id, fromDay: fact.wantedDay, toDay: fact.day })),
    unbrewed: unbrewed.map((fact) => fact.brew.id),
    text: clashWords(from, to, worst, inIt, moved, unbrewed),
  };
}

/** Most brews that a clash names one by one. */
const MOST_NAMED = 3;

function clashWords(
  from: number,
  to: number,
  worst: { asked: number; open: number },
  inIt: readonly BrewFact[],
  moved: readonly BrewFact[],
  unbrewed: readonly BrewFact[],
): string {
  const fixed = new Set(
    inIt.filter((fact) => fact.brew.earliest === fact.brew.latest).map((fact) => fact.beer.name),
  );
  const among = fixed.size > 0 ? `, ${listWords([...fixed])} among them` : "";
  const asks = `${worst.asked} tanks of ${worst.open} are asked for${among}, ${stretchWords(from, to)}`;
  // The long moves are what the clash is about; a shift by a day may have any reason.
  const far = [...moved].sort((a, b) => Math.abs(b.day - b.wantedDay) - Math.abs(a.day - a.wantedDay));
  const answers = [
    ...far.slice(0, MOST_NAMED).map((fact) =>
      `${fact.beer.name} of ${dayWords(fact.wantedDay)} goes to ${dayWords(fact.day)}`
    ),
    ...unbrewed.slice(0, MOST_NAMED).map((fact) =>
      `${fact.beer.name} of ${dayWords(fact.wantedDay)} is given up`
    ),
  ];
  return answers.length === 0 ? asks : `${asks}: ${listWords(answers)}`;
}
