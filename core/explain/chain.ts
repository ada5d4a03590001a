import { dayNumber } from "../calendar.ts";
import { lotClock, suitsMalt } from "../season/clocks.ts";
import { HAND_OVERS, type HandOver, type MaltType, type Stage } from "../season/malthouse.ts";
import type { YearParts } from "../year/draw.ts";
import type { Shortfall } from "../year/shortfalls.ts";
import { dayWords, listWords, maltWords, storeWords, stretchWords, tonneWords } from "../year/words.ts";
import type { Year } from "../year/year.ts";
import { takenStretches } from "./taken.ts";
import type { Limit } from "./limits.ts";

/** One link between a limit and what falls short for it, in words that stand by themselves. */
export interface Link {
  readonly kind: "need" | "vessel" | "lot" | "bin" | "hands" | "store" | "tanks";
  readonly words: string;
}

/** A limit is told from so many days before the last start that would still have helped. */
const BACK_DAYS = 56;
/** Links of one kind that are told; more would not be read. */
const MOST_LINKS = 3;

/** What leads from the limits to a shortfall: the need, then what stood in the way of it, with the days of the plan. */
export function chainOf(
  parts: YearParts,
  year: Year,
  shortfall: Shortfall,
  limits: readonly Limit[],
): Link[] {
  const to = lastStart(parts, shortfall);
  const free = Math.floor(year.asOf) + parts.journal.season.roster.heldDays;
  const from = Math.min(Math.max(free, to - BACK_DAYS), to);
  // What stood in the way long before may be felt only now: malt that was not made then is not in store.
  const links = limits.flatMap((limit) => {
    const near = linksOf(parts, year, limit, from, to, shortfall);
    return near.length > 0 ? near : linksOf(parts, year, limit, Math.min(free, to), to, shortfall);
  });
  return [...needOf(parts, shortfall, to), ...links];
}

/** The last day on which a run could still be started for it; its own last day where no malt lacks. */
function lastStart({ journal, slots }: YearParts, { maltId, toDay }: Shortfall): number {
  const malt = maltOf(journal.season.maltTypes, maltId);
  return malt === undefined ? toDay : Math.floor(toDay - malt.restDays - slots.lengthDays([malt.id]).least);
}

function maltOf(malts: readonly MaltType[], maltId: string | undefined): MaltType | undefined {
  return malts.find((one) => one.id === maltId && one.made.from === "grain");
}

function needOf({ journal: { season } }: YearParts, shortfall: Shortfall, to: number): Link[] {
  const malt = maltOf(season.maltTypes, shortfall.maltId);
  if (malt === undefined) return [];
  return [{ kind: "need", words: `a run of ${maltWords(malt.name)} had to start by ${dayWords(to)}` }];
}

function linksOf(
  parts: YearParts,
  year: Year,
  limit: Limit,
  from: number,
  to: number,
  shortfall: Shortfall,
): Link[] {
  switch (limit) {
    case "steep":
    case "bed":
    case "kiln":
      return vesselLinks(year, limit, from, Math.max(to, shortfall.toDay));
    case "hands":
      return handLinks(parts, from, to);
    case "grain":
    case "land":
      return lotLinks(parts, shortfall, from, to);
    case "bins":
      return binLinks(year);
    case "store":
      return storeLinks(year, from, Math.max(to, shortfall.toDay));
    case "tanks":
      return tankLinks(year, shortfall);
  }
}

function vesselLinks(year: Year, stage: Stage, from: number, to: number): Link[] {
  const rows = year.malthouse.vessels.filter((vessel) => vessel.stages.includes(stage));
  const shut = rows.flatMap((row) =>
    row.closures.filter((one) => one.start < to && from < one.end).map((one) =>
      `${stage} shut ${stretchWords(Math.floor(one.start), Math.ceil(one.end) - 1)} (${one.reason})`
    )
  );
  const taken = takenStretches(year, stage).filter((one) => one.from <= to && from <= one.to)
    .toSorted((a, b) => b.to - b.from - (a.to - a.from)).slice(0, MOST_LINKS).sort((a, b) => a.from - b.from)
    .map((one) => `${stage} full ${stretchWords(one.from, one.to)}`);
  return [...taken, ...shut.slice(0, MOST_LINKS)].map((words) => ({ kind: "vessel", words }));
}

const WEEKDAYS = ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"] as const;
const DOING: Readonly<Record<HandOver, string>> = {
  steepIn: "to steep",
  castToBed: "to cast to the bed",
  kilnLoading: "to load the kiln",
  strip: "to strip the kiln",
};

function handLinks({ journal: { season } }: YearParts, from: number, to: number): Link[] {
  const { weekly, closed } = season.roster;
  const there = (handOver: HandOver) =>
    WEEKDAYS.filter((_, at) =>
      weekly.some((one) => one.weekdays.includes(at + 1) && one.handOvers.includes(handOver))
    );
  const alike = Map.groupBy(HAND_OVERS, (handOver) => there(handOver).join());
  const weeks = [...alike.values()].flatMap((handOvers) => {
    const days = there(handOvers[0]!);
    const away = WEEKDAYS.filter((day) => !days.includes(day));
    if (away.length === 0) return [];
    const doing = handOvers.length >= 3 ? "" : ` ${listWords(handOvers.map((one) => DOING[one]))}`;
    return away.length > 3 && days.length > 0
      ? [`somebody there${doing} on ${listWords(days)} only`]
      : [`nobody there${doing} on ${listWords(away)}`];
  });
  const pauses = closed.filter((one) => dayNumber(one.from) <= to && from <= dayNumber(one.to))
    .slice(0, MOST_LINKS).map((one) => {
      const doing = one.handOvers.length < 4 ? ` ${DOING[one.handOvers[0]!]}` : " there";
      return `nobody${doing} ${stretchWords(dayNumber(one.from), dayNumber(one.to))} (${one.reason})`;
    });
  return [...weeks, ...pauses].map((words) => ({ kind: "hands", words }));
}

function lotLinks(
  { journal, grain, slots }: YearParts,
  shortfall: Shortfall,
  from: number,
  to: number,
): Link[] {
  const { season } = journal;
  const malts = season.maltTypes.filter((malt) =>
    malt.made.from === "grain" && (shortfall.maltId === undefined || malt.id === shortfall.maltId)
  );
  const lots = season.lots.flatMap((lot) => {
    const malt = malts.find((one) => suitsMalt(season, lot, one));
    return malt === undefined ? [] : [{ lot, clock: lotClock(season, lot, malt, season.asOf) }];
  });
  return lots.flatMap(({ lot, clock }): Link[] => {
    const says = (words: string): Link[] => [{ kind: "lot", words }];
    const leastG = slots.leastLoadG(lot.crop);
    if (
      clock.firstDay !== null && clock.firstDay > from && clock.firstDay <= to + 90 &&
      grain.at(lot.id, to) > 0
    ) {
      return says(`lot ${lot.letter} not awake before ${dayWords(clock.firstDay)}`);
    }
    if (clock.lastDay < to && clock.lastDay >= from) {
      return says(`lot ${lot.letter} past its last malting day after ${dayWords(clock.lastDay)}`);
    }
    for (let day = from; day <= to; day++) {
      if (grain.at(lot.id, day) < leastG && grain.at(lot.id, day - 1) >= leastG) {
        return says(`no full load of lot ${lot.letter} left from ${dayWords(day)}`);
      }
    }
    return [];
  }).slice(0, MOST_LINKS + 1);
}

function binLinks(year: Year): Link[] {
  const short = year.fields.plantings.filter((one) => one.leftOutG > 0);
  const harvests = short.map((one) =>
    `a bin needed about ${dayWords(one.harvest.likely)} for ${tonneWords(one.leftOutG)} of lot ${one.letter}`
  );
  const holding = year.stores.filter((row) =>
    row.stays.some((stay) =>
      short.some((one) => stay.from <= one.harvest.likely && one.harvest.likely <= stay.to)
    )
  ).map((row) => storeWords(row.name));
  const held = holding.length > 0 && holding.length === year.stores.length
    ? ["then every bin and bag row holds grain"]
    : holding.length > 0
    ? [`then ${listWords(holding)} ${holding.length > 1 ? "hold" : "holds"} grain`]
    : [];
  return [...harvests, ...held].map((words) => ({ kind: "bin", words }));
}

function storeLinks({ malt, firstDay }: Year, from: number, to: number): Link[] {
  const days = malt.placesUsed.map((used, at) => ({ used, day: firstDay + at }))
    .filter((one) => one.day >= from && one.day <= to && one.used >= malt.places).map((one) => one.day);
  return stretches(days).slice(0, MOST_LINKS).map(([first, last]) => ({
    kind: "store",
    words: `malt store full ${stretchWords(first, last)}`,
  }));
}

function tankLinks({ tanks }: Year, { fromDay, toDay }: Shortfall): Link[] {
  return tanks.clashes.filter((one) => one.from <= toDay + 30 && fromDay - 30 <= one.to).slice(0, MOST_LINKS)
    .map(
      (one) => ({
        kind: "tanks",
        words: `${one.asked} tanks of ${one.open} asked for ${stretchWords(one.from, one.to)}`,
      }),
    );
}

/** Days in a row as first and last. */
function stretches(days: readonly number[]): [number, number][] {
  const rows: [number, number][] = [];
  for (const day of days) {
    const last = rows.at(-1);
    if (last !== undefined && day === last[1] + 1) last[1] = day;
    else rows.push([day, day]);
  }
  return rows;
}
