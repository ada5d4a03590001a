import { formatDay } from "../day-names.ts";
import type { Season } from "../season/season.ts";
import { drawParts, partsOf } from "../year/draw.ts";
import { provenWords } from "../year/proven-words.ts";
import { nextLine } from "../year/next.ts";
import { percentWords, sentenceText, yearSentence } from "../year/sentence.ts";
import { shortfallsIn } from "../year/shortfalls.ts";
import { beerCoverage, type Departure, departuresAhead } from "../year/summary.ts";
import { dayWords, listWords, maltWeightWords, shortMaltWords, weightWords } from "../year/words.ts";
import type { Year } from "../year/year.ts";
import type { Plan } from "./plan.ts";

/** Characters of a line of prose. */
const LINE_WIDTH = 100;

/** A plan in words and aligned columns for a terminal, in the reader's units. Ends without a line break. */
export function summarise(season: Season, plan: Plan): string {
  const parts = partsOf(season, plan);
  const year = drawParts(parts);
  const blocks = [
    [
      `${season.name}, plan as of ${formatDay(plan.asOf.slice(0, 10), "en-US", "long")}${
        plan.stoppedEarly ? ", stopped early: best so far" : ""
      }`,
    ],
    wrapped(sentenceText(yearSentence(year))),
    wrapped(`Next: ${nextLine(year).text}.`),
    beers(year),
    listed("Shortfalls", shortfallsIn(parts, year).map((one) => one.sentence)),
    listed("Tanks", year.tanks.clashes.map((one) => `${one.text}.`)),
    orders(year),
    departures(year, "Feed loads", departuresAhead(year, "feed")),
    departures(year, "Moves", departuresAhead(year, "moved out")),
    vessels(year),
    listed("Bookings that cannot be kept", plan.cannotKeep.map((one) => `${one.kind} ${one.id}: ${one.why}`)),
    money(season, plan),
    wrapped(provenWords(season, plan)),
  ];
  return blocks.filter((one) => one.length > 0).map((one) => one.join("\n")).join("\n\n");
}

/** Breaks prose at spaces. */
function wrapped(text: string, indent = ""): string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(" ")) {
    if (line !== "" && line.length + 1 + word.length > LINE_WIDTH) {
      lines.push(line);
      line = indent + word;
    } else line = line === "" ? indent + word : `${line} ${word}`;
  }
  return line === "" ? lines : [...lines, line];
}

function listed(title: string, items: readonly string[]): string[] {
  return items.length === 0 ? [] : [title, ...items.flatMap((one) => wrapped(one, "  "))];
}

/** Aligned columns under a title; the first column to the left, the others to the right unless `left` names them. */
function table(rows: readonly (readonly string[])[], left: readonly number[] = [0]): string[] {
  const widths = rows[0]!.map((_, at) => Math.max(...rows.map((row) => row[at]!.length)));
  return rows.map((row) =>
    row.map((cell, at) => left.includes(at) ? cell.padEnd(widths[at]!) : cell.padStart(widths[at]!))
      .join("  ").trimEnd()
  );
}

function beers(year: Year): string[] {
  const rows = beerCoverage(year);
  if (rows.length === 0) return [];
  const all = {
    asked: rows.reduce((sum, one) => sum + one.asked, 0),
    made: rows.reduce((sum, one) => sum + one.made, 0),
  };
  return table([
    ["Beers", "asked", "made", "home %", "promise held", "home malt until"],
    ...rows.map((one) => [
      one.name,
      String(one.asked),
      String(one.made),
      one.homeShare === null ? "" : percentWords(one.homeShare),
      `${one.promisesHeld} of ${one.made}`,
      one.coveredUntil === null ? "the end" : dayWords(one.coveredUntil),
    ]),
    ["all", String(all.asked), String(all.made), "", "", ""],
  ]);
}

function orders(year: Year): string[] {
  const rows = year.malt.rows.flatMap((row) =>
    row.orders.filter((one) => one.arriveDay >= Math.floor(year.asOf)).map((one) => ({ ...one, row }))
  ).sort((a, b) => a.orderDay - b.orderDay);
  if (rows.length === 0) return [];
  return table([
    ["Orders", "order by", "arrives", "packs", "weight", "cost"],
    ...rows.map((one) => [
      shortMaltWords(one.row.name),
      one.standing === "under way" ? "placed" : dayWords(one.orderDay),
      dayWords(one.arriveDay),
      String(one.packs),
      maltWeightWords(one.massG, year.units),
      amount(one.costCents),
    ]),
  ]);
}

function departures(year: Year, title: string, rows: readonly Departure[]): string[] {
  return listed(
    title,
    rows.map((one) => {
      const items = one.items.map((item) => {
        const crop = year.stores.flatMap((row) => row.stays).find((stay) => stay.lotId === item.lotId)?.crop;
        const reader = weightWords(item.massG, year.units, crop);
        const metric = year.units === "us" ? ` (${weightWords(item.massG, "metric")})` : "";
        return `${item.letter} ${reader}${metric}`;
      });
      const to = one.toName === null ? "" : ` to ${one.toName}`;
      const must = one.mustLeave ? ", room that the harvest needs" : "";
      return `${dayWords(one.day)}: ${listWords(items)} from ${listWords(one.fromNames)}${to}${must}`;
    }),
  );
}

function vessels(year: Year): string[] {
  if (year.malthouse.vessels.length === 0) return [];
  return table([
    ["Vessels", "so far %", "ahead %", "full"],
    ...year.malthouse.vessels.map((one) => [
      one.name,
      one.useSoFar === null ? "" : String(Math.round(one.useSoFar * 100)),
      one.useAhead === null ? "" : String(Math.round(one.useAhead * 100)),
      listWords(one.full.map((full) => `${dayWords(full.from)} to ${dayWords(full.to)}`)),
    ]),
  ], [0, 3]);
}

function money(season: Season, { goals }: Plan): string[] {
  const { money: lines } = goals;
  const rows: [string, number][] = [
    ["runs", lines.runsCents],
    ["bought malt and freight", lines.ordersCents],
    ["moves", lines.movesCents],
    ["night turns", lines.nightTurnsCents],
    ["extra hours", lines.extraHoursCents],
    ["feed sold", lines.feedCents],
    ["grain and malt sold", lines.salesCents],
    ["grain left at the end", lines.endGrainCents],
    ["reserve not kept", lines.reserveCents],
    ["changed runs", lines.changedRunsCents],
  ];
  return table([
    [`Money, ${season.currency}`, "cost"],
    ...rows.filter(([, centsOf]) => centsOf !== 0).map(([name, centsOf]) => [name, amount(centsOf)]),
    ["all", amount(goals.moneyCents)],
  ]);
}

/** Whole units of the currency: a plan's cents are spurious. */
function amount(centsOf: number): string {
  return Math.round(centsOf / 100).toLocaleString("en-US");
}
