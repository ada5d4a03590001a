import { expect, test } from "vitest";
import { dayNumber, isoDate } from "../../../core/calendar.ts";
import type { ExplainedShortfall } from "../../../core/explain/explanation.ts";
import { limitMonths, monthWords, twelveMonths } from "../../../core/explain/limit-months.ts";
import { limitMonthsWords } from "../../../islands/_charts/LimitMonths.tsx";

const months = twelveMonths(dayNumber("2027-03-18"));
const short = (from: string, to: string, more: Partial<ExplainedShortfall> = {}): ExplainedShortfall => ({
  what: "",
  words: "",
  chain: [],
  limits: ["kiln"],
  isFelt: true,
  fromDay: dayNumber(from),
  toDay: dayNumber(to),
  ...more,
});

test("twelve months follow one another from that of the day on", () => {
  expect(months).toHaveLength(12);
  expect([isoDate(months[0]!.from), isoDate(months[11]!.to)]).toEqual(["2027-03-01", "2028-03-01"]);
  months.slice(1).forEach((month, at) => expect(month.from).toBe(months[at]!.to));
  expect([0, 1, 10].map((at) => monthWords(months[at]!, at))).toEqual(["Mar 2027", "Apr", "Jan 2028"]);
});

test("a limit is felt in every month that its shortfall touches; what the plan gets round is not felt", () => {
  const rows = limitMonths([
    short("2027-04-30", "2027-06-01"),
    short("2027-09-10", "2027-09-11", { limits: ["hands"] }),
    short("2027-10-10", "2027-10-11", { limits: [] }),
    short("2027-12-10", "2027-12-11", { limits: [], isFelt: false }),
  ], months);
  expect(limitMonthsWords(rows, months)).toBe(
    "staffed hours: Sep; kiln: Apr, May and Jun; no one thing: Oct",
  );
  expect(limitMonthsWords(limitMonths([], months), months)).toBe(
    "Nothing falls short in these twelve months.",
  );
});
