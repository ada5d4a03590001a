import { weekday, yearOf } from "../calendar.ts";
import type { Journal } from "./journal.ts";
import type { FullStretch } from "./malthouse-band.ts";
import type { Slots } from "./slots.ts";
import { dayWords, stretchWords, vesselWords } from "./words.ts";

/** Fewer full weeks in a row are a busy fortnight, not a limit. */
const LEAST_WEEKS = 3;

interface OpenWeek {
  readonly firstDay: number;
  readonly lastDay: number;
  /** The vessel in the way of one more run; null when one could still be started. */
  readonly fullVesselId: string | null;
}

/**
 * The stretches in which a vessel is the limit. A farm week is *open* when a run could be started in it if the malthouse
 * stood empty, and *full* when none can be started beside the runs there are. The vessel in the way is the one whose
 * loads, taken away, would make room; if several would, the busiest. A stretch is open weeks in a row that are all full
 * by one vessel, closed weeks between them not counting: it runs from the first day of the first on which a run could
 * have been started to the last such day of the last.
 */
export function fullStretches(
  journal: Journal,
  slots: Slots,
  useAhead: ReadonlyMap<string, number>,
): Map<string, FullStretch[]> {
  const stretches = new Map<string, FullStretch[]>();
  let row: OpenWeek[] = [];
  const close = () => {
    const [first] = row;
    const vesselId = first?.fullVesselId;
    if (first !== undefined && vesselId != null && row.length >= LEAST_WEEKS) {
      const name = journal.season.vessels.find((one) => one.id === vesselId)!.name;
      const from = first.firstDay, to = row.at(-1)!.lastDay;
      const words = fullWords(vesselWords(name), from, to, journal.asOfDay);
      stretches.set(vesselId, [...stretches.get(vesselId) ?? [], {
        from,
        to,
        openWeeks: row.length,
        words,
        text: `${words}: no further run beside those planned`,
      }]);
    }
    row = [];
  };
  for (const week of openWeeks(journal, slots, useAhead)) {
    if (week.fullVesselId !== row[0]?.fullVesselId) close();
    row.push(week);
  }
  close();
  return stretches;
}

/** "the bed is full until 9 Jul 2027", or from when to when where it is not full yet or no more. */
function fullWords(name: string, from: number, to: number, today: number): string {
  const end = `${dayWords(to)} ${yearOf(to)}`;
  if (from <= today + 6 && to >= today) return `${name} is full until ${end}`;
  return yearOf(from) === yearOf(to)
    ? `${name} is full from ${dayWords(from)} to ${end}`
    : `${name} is full from ${stretchWords(from, to)}`;
}

function openWeeks(journal: Journal, slots: Slots, useAhead: ReadonlyMap<string, number>): OpenWeek[] {
  const { season, firstDay, lastDay } = journal;
  const maltIds = season.maltTypes.filter((one) => one.made.from === "grain").map((one) => one.id);
  const weeks: OpenWeek[] = [];
  const back = (weekday(firstDay) - season.weekStartsOn + 7) % 7;
  for (let start = firstDay - back; start <= lastDay; start += 7) {
    const days = [0, 1, 2, 3, 4, 5, 6].map((one) => start + one)
      .filter((day) => day >= firstDay && day <= lastDay && slots.canStart(day, maltIds, "nothing"));
    if (days.length === 0) continue;
    weeks.push({
      firstDay: days[0]!,
      lastDay: days.at(-1)!,
      fullVesselId: vesselInTheWay(journal, slots, days, maltIds, useAhead),
    });
  }
  return weeks;
}

/** The vessel in the way of one more start on these days; null when a start is free. */
export function vesselInTheWay(
  journal: Journal,
  slots: Slots,
  days: readonly number[],
  maltIds: readonly string[],
  useAhead: ReadonlyMap<string, number>,
): string | null {
  if (days.some((day) => slots.canStart(day, maltIds, "the runs"))) return null;
  const busiestFirst = [...journal.season.vessels]
    .sort((a, b) => (useAhead.get(b.id) ?? 0) - (useAhead.get(a.id) ?? 0));
  const found = busiestFirst.find((vessel) =>
    days.some((day) => slots.canStart(day, maltIds, { without: vessel.id }))
  );
  return (found ?? busiestFirst[0])?.id ?? null;
}
