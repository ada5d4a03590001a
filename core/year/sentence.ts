import { dayNumber, yearOf } from "../calendar.ts";
import type { BrewMark } from "./brews-band.ts";
import type { Lack } from "./malt-band.ts";
import type { MustLeave } from "./stores-band.ts";
import {
  countWords,
  dayWords,
  listWords,
  spokenCount,
  storeWords,
  stretchWords,
  tonneWords,
} from "./words.ts";
import type { Year } from "./year.ts";

/** A piece of the year's sentence. The pieces' texts, one after the other, are the sentence; `strong` is underlined. */
export interface SentencePart {
  readonly text: string;
  readonly strong: boolean;
  readonly about: "coverage" | "break" | "limit" | "leaving" | "plain";
}

/** The year in one sentence, computed from what is drawn and nothing else. */
export function yearSentence(year: Year): SentencePart[] {
  const clauses = [coverage(year), breaking(year), limit(year), leaving(year)]
    .filter((one) => one.length > 0);
  const parts = clauses.flatMap((clause, at) => at === 0 ? clause : [plain("; "), ...clause]);
  return [...parts, plain(".")];
}

/** The sentence as plain text. */
export function sentenceText(parts: readonly SentencePart[]): string {
  return parts.map((part) => part.text).join("");
}

function plain(text: string): SentencePart {
  return { text, strong: false, about: "plain" };
}

/** The days a year is judged over: the calendar year most of what is ahead lies in, if all of it is shown. */
function yearPeriod(year: Year): { from: number; to: number; words: string } {
  const middle = Math.floor((Math.max(year.asOf, year.firstDay) + year.lastDay) / 2);
  const calendarYear = yearOf(middle);
  const from = dayNumber(`${calendarYear}-01-01`), to = dayNumber(`${calendarYear}-12-31`);
  if (year.firstDay <= from && to <= year.lastDay) return { from, to, words: `in ${calendarYear}` };
  const start = Math.max(year.firstDay, Math.floor(year.asOf));
  return {
    from: start,
    to: year.lastDay,
    words: `from ${dayWords(start)}${yearOf(start) === yearOf(year.lastDay) ? "" : ` ${yearOf(start)}`} to ${
      dayWords(year.lastDay)
    } ${yearOf(year.lastDay)}`,
  };
}

/** Home-grown weight out of grist weight over these brews; null when no grist is known. */
export function homeShareOver(brews: readonly BrewMark[]): number | null {
  const gristG = brews.reduce((sum, one) => sum + one.gristG, 0);
  return gristG === 0 ? null : brews.reduce((sum, one) => sum + one.homeShare * one.gristG, 0) / gristG;
}

/** "93", and never 100 or 0 for a share that is not all or nothing. */
export function percentWords(share: number): string {
  if (share >= 1 - 1e-9) return "100";
  if (share <= 1e-9) return "0";
  return String(Math.min(99, Math.max(1, Math.round(share * 100))));
}

function coverage(year: Year): SentencePart[] {
  const { from, to, words } = yearPeriod(year);
  const inYear = year.brews.filter((one) => !one.tail && one.day >= from && one.day <= to);
  const says = (text: string): SentencePart[] => [{ text, strong: false, about: "coverage" }];
  if (inYear.length === 0) return says(`No brews are in the calendar ${words}`);
  if (!year.planned) {
    const open = inYear.filter((one) => one.standing === "awaited" || one.standing === "booked").length;
    return says(
      `There is no plan yet: ${countWords(open, "brew is", "brews are")} still to be planned ${words}${
        inStore(year)
      }`,
    );
  }
  const made = inYear.filter((one) => one.standing !== "unbrewed" && one.standing !== "awaited");
  const left = inYear.length - made.length;
  const share = homeShareOver(made);
  const whole = left === 0 ? countWords(made.length, "brew") : `${made.length} of ${inYear.length} brews`;
  if (made.length === 0) {
    return says(`None of the ${countWords(inYear.length, "brew")} asked for ${words} can be made`);
  }
  if (share === null || share <= 0) return says(`All malt for ${whole} ${words} is bought`);
  return says(`Home-grown grain makes ${percentWords(share)} % of the malt for ${whole} ${words}`);
}

function inStore(year: Year): string {
  const today = Math.floor(year.asOf);
  const lies = year.stores.flatMap((row) => row.stays).filter((one) => one.from <= today && today <= one.to)
    .reduce((sum, one) => sum + one.levelsG[today - one.from]!, 0);
  return lies === 0 ? " and no grain is in store" : `, with ${tonneWords(lies)} in store`;
}

/** The lack that the sentence names first, and the drawing in its largest words: the first of the malt that lacks most that is worth telling. */
export function firstLack(year: Year): Lack | null {
  const worst = worstLack(year);
  return worst && (earlierLacks(year, worst)[0] ?? worst);
}

/** The lack that weighs most among those still to come. */
function worstLack(year: Year): Lack | null {
  return lacksAhead(year).reduce<Lack | null>((a, b) => a === null || b.massG > a.massG ? b : a, null);
}

function lacksAhead(year: Year): Lack[] {
  return year.malt.rows.flatMap((row) => row.lacks)
    .filter((one) => one.lastDay >= Math.floor(year.asOf) && one.firstDay <= year.lastDay);
}

function breaking(year: Year): SentencePart[] {
  if (!year.planned) return [];
  const lack = worstLack(year);
  const told = (text: string, strong = false): SentencePart => ({ text, strong, about: "break" });
  if (lack === null) {
    const brewsHome = year.malt.rows.some((row) => row.made === "from grain");
    const anyMade = year.brews.some((one) => one.homeShare > 0);
    return brewsHome && anyMade ? [told("home malt does not run short")] : [];
  }
  const named = [...earlierLacks(year, lack), lack];
  const [first, ...again] = named;
  const more =
    lacksAhead(year).filter((one) =>
      one.maltId === lack.maltId && !named.includes(one) && one.massG >= lack.massG * WORTH_TELLING
    ).length;
  return [
    told(first!.words, true),
    ...again.map((one) => told(`, again ${one.when}`)),
    ...(more === 0 ? [] : [told(more === 1 ? ", and once more" : `, and ${spokenCount(more, "time")} more`)]),
  ];
}

/** A shortage smaller than this part of the worst one does not belong into the year's sentence: common practice, no source. */
const WORTH_TELLING = 0.1;

/** Shortages of the same malt that come before its worst one, the two largest in order of day. */
function earlierLacks(year: Year, worst: Lack): Lack[] {
  return year.malt.rows.flatMap((row) => row.lacks)
    .filter((one) =>
      one.maltId === worst.maltId && one.firstDay < worst.firstDay &&
      one.firstDay >= Math.floor(year.asOf) && one.massG >= worst.massG * WORTH_TELLING
    )
    .toSorted((a, b) => b.massG - a.massG).slice(0, 2).toSorted((a, b) => a.firstDay - b.firstDay);
}

/** The tightest limit ahead: the vessel that is longest full, or else the tanks. */
function limit(year: Year): SentencePart[] {
  if (!year.planned) return [];
  const today = Math.floor(year.asOf);
  const says = (text: string): SentencePart[] => [{ text, strong: false, about: "limit" }];
  const full = year.malthouse.vessels
    .flatMap((vessel) => vessel.full)
    .filter((one) => one.to > today && one.from <= year.lastDay)
    .sort((a, b) => b.to - Math.max(b.from, today) - (a.to - Math.max(a.from, today)));
  const [longest] = full;
  if (longest !== undefined) return says(longest.words);
  const clash = [...year.tanks.clashes].sort((a, b) => b.to - b.from - (a.to - a.from))[0];
  return clash === undefined ? [] : says(`the tanks are the limit ${stretchWords(clash.from, clash.to)}`);
}

function leaving(year: Year): SentencePart[] {
  const notes = year.stores.flatMap((row) => row.mustLeave);
  if (notes.length === 0) return [];
  // One harvest is spoken of, the next one: what must leave for the harvest after it is a year away.
  const next = Math.min(...notes.map((one) => one.nextDay));
  const soon = notes.filter((one) => one.nextDay <= next + HARVEST_DAYS);
  // The tenths of a tonne in which each is told, so that whoever adds them up finds the same.
  const massG = soon.reduce((sum, one) => sum + Math.round(one.massG / TENTH_G) * TENTH_G, 0);
  const byFirst = soon.toSorted((a, b) => a.byDay - b.byDay);
  const first = byFirst[0]!.words.by, last = byFirst.at(-1)!.words.by;
  const when = first === last ? first : `the first ${first}, the last ${last}`;
  return [{
    text: `${tonneWords(massG)} must leave ${places(year, soon)}${first === last ? " " : ", "}${when}`,
    strong: false,
    about: "leaving",
  }];
}

const TENTH_G = 1e5;
/** From the first winter grain to the last oats a harvest takes up to two months and a half: common practice, no source. */
const HARVEST_DAYS = 75;

/** "bin 2", "four bins and bulk bags": the drawing and the lists name each with its lot and its day. */
function places(year: Year, notes: readonly MustLeave[]): string {
  const names = [...new Map(notes.map((one) => [one.storeId, one.storeName]))].map(([id, name]) => ({
    isBin: year.stores.find((row) => row.id === id)?.kind !== "bags",
    name: storeWords(name),
  }));
  const bins = names.filter(({ isBin }) => isBin);
  const told = bins.length > 1 ? [spokenCount(bins.length, "bin")] : bins.map(({ name }) => name);
  return listWords([...told, ...names.filter(({ isBin }) => !isBin).map(({ name }) => name)]);
}
