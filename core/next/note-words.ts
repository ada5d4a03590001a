import { formatDay } from "../day-names.ts";
import { countWords, listWords } from "../year/words.ts";

/** Names that are told before the rest is only counted. */
const MOST_NAMED = 5;

/** "1 Sep 2027". */
export const day = (date: string) => formatDay(date, "en-US", "withYear");
/** The verb for so many. */
export const are = (count: number) => count === 1 ? "is" : "are";
/** The words, if there is anything to tell. */
export const ifAny = (count: number, words: () => string) => count === 0 ? [] : [words()];

/** "1 run and 2 orders", without what there is none of. */
export function counts(parts: readonly (readonly [count: number, one: string, many?: string])[]): string {
  return listWords(parts.flatMap(([count, one, many]) => count === 0 ? [] : [countWords(count, one, many)]));
}

/** The first few names, and how many more there are. */
export function names(rows: readonly string[]): string {
  const rest = rows.length - MOST_NAMED;
  return rest <= 0 ? listWords(rows) : `${rows.slice(0, MOST_NAMED).join(", ")} and ${rest} more`;
}
