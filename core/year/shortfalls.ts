import { dayNumber } from "../calendar.ts";
import type { BrewMark } from "./brews-band.ts";
import type { YearParts } from "./draw.ts";
import { type FirstCause, firstCauseOf } from "./first-cause.ts";
import type { Lack } from "./malt-band.ts";
import {
  countWords,
  dayWords,
  doubtfulDay,
  listWords,
  maltWeightWords,
  storeWords,
  tonneWords,
  upperFirst,
} from "./words.ts";
import type { Year } from "./year.ts";

/** Something the year falls short of, from as-of to the last day shown, with its first cause. */
export interface Shortfall {
  /**
   * Unbrewed: brews not made. Home malt: brews short of the farm's own malt. Unsold: a contract not met. Tanks: more of
   * them are asked for than there are. No room: part of a harvest that no store can take.
   */
  readonly kind: "unbrewed" | "home malt" | "unsold" | "tanks" | "no room";
  readonly fromDay: number;
  readonly toDay: number;
  /** Grams of home malt or of contract malt that are missing, or of grain left without a store; grist left unbrewed is not counted. */
  readonly massG: number;
  readonly beers: readonly { readonly beerId: string; readonly name: string; readonly brews: number }[];
  readonly brewIds: readonly string[];
  /** The malt that lacks. */
  readonly maltId?: string;
  /** The contract that is not met. */
  readonly contractId?: string;
  /** Brews touched whose home-share promise does not hold. */
  readonly promisesBroken: number;
  readonly cause: FirstCause;
  /** The first cause in words, to follow "First cause:". */
  readonly why: string;
  /** What falls short, without the beers it touches and without its cause. */
  readonly what: string;
  readonly sentence: string;
}

/** Unmade brews of one beer this many days apart or less, with one cause, are one shortfall: common practice, no source. */
const JOIN_DAYS = 21;

/** Every shortfall, by day; the plan's own first causes for unmade brews, replayed ones for home malt. */
export function shortfallsIn(parts: YearParts, year: Year): Shortfall[] {
  const today = Math.floor(year.asOf);
  const useAhead = new Map(year.malthouse.vessels.map((one) => [one.id, one.useAhead ?? 0]));
  const lacks = year.malt.rows.flatMap((row) => row.lacks)
    .filter((lack) => lack.lastDay >= today && lack.firstDay <= year.lastDay)
    .map((lack) => lackShort(parts, year, lack, useAhead));
  return [...unbrewedShort(year), ...lacks, ...unsoldShort(parts), ...tanksShort(year), ...roomShort(year)]
    .sort((a, b) => a.fromDay - b.fromDay);
}

function beersOf(brews: readonly BrewMark[]): Shortfall["beers"] {
  const beers = new Map<string, { beerId: string; name: string; brews: number }>();
  for (const brew of brews) {
    const beer = beers.get(brew.beerId) ?? { beerId: brew.beerId, name: brew.beerName, brews: 0 };
    beer.brews += 1;
    beers.set(brew.beerId, beer);
  }
  return [...beers.values()].sort((a, b) => b.brews - a.brews);
}

function told(what: string, why: string): Pick<Shortfall, "what" | "sentence"> {
  return { what, sentence: `${what}. First cause: ${why}.` };
}

function beerWords(beers: Shortfall["beers"]): string {
  return listWords(beers.map((one) => `${one.brews} ${one.name}`));
}

function lackShort(
  parts: YearParts,
  year: Year,
  lack: Lack,
  useAhead: ReadonlyMap<string, number>,
): Shortfall {
  const brews = year.brews.filter((one) => lack.brewIds.includes(one.id));
  const beers = beersOf(brews);
  const promisesBroken = brews.filter((one) => one.standing !== "unbrewed" && !one.promiseHeld).length;
  const { cause, why } = firstCauseOf(parts, lack, useAhead);
  const covered = lack.boughtG >= lack.massG
    ? "bought malt covers it"
    : `bought malt covers ${maltWeightWords(lack.boughtG, year.units)}`;
  const broken = promisesBroken === 0
    ? ""
    : `, ${countWords(promisesBroken, "home-share promise does", "home-share promises do")} not hold`;
  return {
    kind: "home malt",
    fromDay: lack.firstDay,
    toDay: lack.lastDay,
    massG: lack.massG,
    beers,
    brewIds: lack.brewIds,
    maltId: lack.maltId,
    promisesBroken,
    cause,
    why,
    what: `${upperFirst(lack.text)} for ${countWords(brews.length, "brew")}; ${covered}${broken}`,
    sentence: `${upperFirst(lack.text)} for ${countWords(brews.length, "brew")} (${
      beerWords(beers)
    }); ${covered}${broken}. First cause: ${why}.`,
  };
}

function unbrewedShort(year: Year): Shortfall[] {
  const groups: BrewMark[][] = [];
  for (const brew of year.brews) {
    if (brew.unbrewed === null || brew.tail) continue;
    const group = groups.find((one) =>
      one[0]!.beerId === brew.beerId && one[0]!.unbrewed!.cause === brew.unbrewed!.cause &&
      brew.day - one.at(-1)!.day <= JOIN_DAYS
    );
    if (group === undefined) groups.push([brew]);
    else group.push(brew);
  }
  return groups.map((brews) => {
    const [first] = brews;
    const { cause, why } = first!.unbrewed!;
    const days = listWords(brews.map((one) => dayWords(one.day)));
    const said = why.replace(/\.$/, "");
    return {
      kind: "unbrewed",
      fromDay: first!.day,
      toDay: brews.at(-1)!.day,
      massG: 0,
      beers: beersOf(brews),
      brewIds: brews.map((one) => one.id),
      promisesBroken: 0,
      cause,
      why: said,
      ...told(`${first!.beerName} of ${days} is not brewed`, said === "" ? cause : said),
    };
  });
}

/** Tanks: what is asked for beyond them, and what the plan does about it. */
function tanksShort(year: Year): Shortfall[] {
  return year.tanks.clashes.map((clash) => {
    const brews = year.brews.filter(({ id }) => clash.brewIds.includes(id));
    const why = "the brews, each on the day it is wanted, hold more tanks than there are";
    return {
      kind: "tanks",
      fromDay: clash.from,
      toDay: clash.to,
      massG: 0,
      beers: beersOf(brews),
      brewIds: clash.brewIds,
      promisesBroken: 0,
      cause: "tanks full",
      why,
      ...told(clash.text, why),
    };
  });
}

/** Grain of a harvest to come that the plan finds no store for. */
function roomShort(year: Year): Shortfall[] {
  return year.fields.plantings.filter(({ leftOutG }) => leftOutG > 0).map((one) => {
    const locked = year.stores.filter((row) =>
      row.stays.some((stay) =>
        stay.stretches.some(({ state, from, to }) =>
          state === "locked" && from <= one.harvest.likely && one.harvest.likely <= to
        )
      )
    ).map((row) => storeWords(row.name));
    const why = "every bin and bag that could take it is taken or being cleaned" +
      (locked.length > 0
        ? `; ${listWords(locked)} ${locked.length > 1 ? "hold" : "holds"} locked grain`
        : "");
    return {
      kind: "no room",
      fromDay: one.harvest.early,
      toDay: one.harvest.late,
      massG: one.leftOutG,
      beers: [],
      brewIds: [],
      promisesBroken: 0,
      cause: "stores full",
      why,
      ...told(
        `${one.letter} ${one.crop} of ${listWords(one.fieldNames)}: no room for ${
          tonneWords(one.leftOutG)
        } of ${tonneWords(one.binG.likely)}, harvest ${doubtfulDay(one.harvest.likely, !one.weighed)}`,
        why,
      ),
    };
  });
}

function unsoldShort({ journal }: YearParts): Shortfall[] {
  const { season, plan } = journal;
  return (plan?.unsold ?? []).flatMap((one) => {
    const contract = season.contracts.find((other) => other.id === one.contractId);
    if (contract === undefined || contract.kind === "buy-grain") return [];
    const toDay = dayNumber(contract.to);
    const said = one.why.replace(/\.$/, "");
    return [{
      kind: "unsold" as const,
      fromDay: toDay,
      toDay,
      massG: contract.massG,
      beers: [],
      brewIds: [],
      contractId: one.contractId,
      promisesBroken: 0,
      cause: one.cause,
      why: said,
      ...told(
        `${upperFirst(contract.party)} does not get ${
          contract.kind === "sell-grain"
            ? `${tonneWords(contract.massG)} of grain`
            : maltWeightWords(contract.massG, season.readerUnits)
        } by ${dayWords(toDay)}`,
        said === "" ? one.cause : said,
      ),
    }];
  });
}
