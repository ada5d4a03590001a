import type { HandOver } from "../season/malthouse.ts";
import { formatMass } from "../units.ts";
import type { RunMark } from "./malthouse-band.ts";
import { departuresAhead } from "./summary.ts";
import { countWords, dayWords, listWords, shortMaltWords, storeWords, tonneWords } from "./words.ts";
import type { Year } from "./year.ts";

/** One thing to do next. */
export interface NextJob {
  readonly kind: HandOver | "order" | "feed load" | "move";
  /** Day with the clock time of a hand-over; whole otherwise. */
  readonly at: number;
  readonly refId: string;
  readonly text: string;
}

/** What is next: hand-overs of today and tomorrow, then the next order, feed load and move of the plan. */
export interface NextLine {
  readonly jobs: readonly NextJob[];
  /** The jobs in one line, without the word "Next". */
  readonly text: string;
}

/** Moves further ahead than these four weeks are not yet something to do: common practice, no source. */
const MOVE_AHEAD_DAYS = 28;

/** The line under the section. */
export function nextLine(year: Year): NextLine {
  const jobs = [...handOvers(year), ...order(year), ...feedLoad(year), ...move(year)];
  const text = jobs.length === 0 ? "nothing has to be done yet" : jobs.map((one) => one.text).join("; ");
  return { jobs, text };
}

function handOvers(year: Year): NextJob[] {
  const today = Math.floor(year.asOf);
  return year.malthouse.runs.flatMap(handOversOf)
    .filter((one) => one.at >= year.asOf && one.at < today + 2)
    .sort((a, b) => a.at - b.at)
    .map((one) => ({
      ...one,
      text: `${one.text} ${Math.floor(one.at) === today ? "today" : "tomorrow"} at ${
        clock(one.at)
      } (run ${one.number})`,
    }));
}

const DOING: Readonly<Record<HandOver, string>> = {
  steepIn: "steep in",
  castToBed: "cast to the bed",
  kilnLoading: "load the kiln",
  strip: "strip the kiln",
};

function handOversOf(run: RunMark): (NextJob & { number: number })[] {
  if (run.standing === "done" || run.standing === "dumped") return [];
  const at = (kind: HandOver, day: number | undefined) =>
    day === undefined ? [] : [{ kind, at: day, refId: run.id, text: DOING[kind], number: run.number }];
  const stage = (name: string) => run.stages.find((one) => one.stage === name);
  return [
    ...at("steepIn", stage("steep")?.start),
    ...at("castToBed", stage("bed")?.start),
    ...at("kilnLoading", stage("kiln")?.start),
    ...at("strip", stage("kiln")?.end),
  ];
}

/** "8:00" of a day with a fraction. */
function clock(day: number): string {
  const minute = Math.round((day - Math.floor(day)) * 1440);
  return `${Math.floor(minute / 60)}:${String(minute % 60).padStart(2, "0")}`;
}

function order(year: Year): NextJob[] {
  const open = year.malt.rows.flatMap((row) =>
    row.orders.filter((one) => one.standing === "not booked" || one.standing === "booked")
      .map((one) => ({ ...one, name: shortMaltWords(row.name) }))
  ).filter((one) => one.orderDay >= Math.floor(year.asOf)).sort((a, b) => a.orderDay - b.orderDay);
  const [first] = open;
  if (first === undefined) return [];
  return [{
    kind: "order",
    at: first.orderDay,
    refId: first.id,
    text: `order ${countWords(first.packs, "pack")} of ${first.name} (${
      formatMass(first.massG, year.units)
    }) by ${dayWords(first.orderDay)}`,
  }];
}

function feedLoad(year: Year): NextJob[] {
  const [load] = departuresAhead(year, "feed");
  if (load === undefined) return [];
  const { day, refId, items } = load;
  const { standing } = items[0]!;
  const parts = items.map((one) => `${tonneWords(one.massG)} of ${one.letter}`);
  const asks = standing === "booked" ? "the feed lorry comes" : "ask for a feed lorry";
  return [{ kind: "feed load", at: day, refId, text: `${asks} on ${dayWords(day)}: ${listWords(parts)}` }];
}

function move(year: Year): NextJob[] {
  const first = departuresAhead(year, "moved out")[0]?.items[0];
  if (first === undefined || first.day > year.asOf + MOVE_AHEAD_DAYS) return [];
  const store = year.stores.find((one) => one.id === first.otherStoreId);
  return [{
    kind: "move",
    at: first.day,
    refId: first.refId,
    text: `move ${tonneWords(first.massG)} of ${first.letter} to ${
      storeWords(store?.name ?? "the other store")
    } on ${dayWords(first.day)}`,
  }];
}
