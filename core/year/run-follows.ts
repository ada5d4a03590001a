import type { RunMark } from "./malthouse-band.ts";
import { dayWords, listWords } from "./words.ts";
import type { Year } from "./year.ts";

/** A run that starts within so many days of what it needs follows it closely: common practice, no source. */
const CLOSELY_DAYS = 3;

/**
 * What a run that is still to start follows closely: the run before it in the bed, and the waking of its lot. "follows run 12, in
 * the bed until 10 Feb"; empty where it follows neither closely, or has begun.
 */
export function followsWords(year: Year, run: RunMark): string {
  if (run.standing !== "booked" && run.standing !== "not booked") return "";
  const before = [bedBefore(year, run), ...wakings(year, run)].filter((one) => one !== "");
  return before.length === 0 ? "" : `follows ${listWords(before)}`;
}

function bedBefore({ malthouse }: Year, run: RunMark): string {
  const bed = run.stages.find(({ stage }) => stage === "bed");
  if (bed === undefined) return "";
  const before =
    malthouse.runs.flatMap((other) =>
      other.id === run.id
        ? []
        : other.stages.filter(({ vesselId, end }) => vesselId === bed.vesselId && end <= bed.start).map((
          { end },
        ) => ({
          number: other.number,
          end,
        }))
    ).toSorted((a, b) => b.end - a.end)[0];
  return before === undefined || bed.start - before.end > CLOSELY_DAYS
    ? ""
    : `run ${before.number}, in the bed until ${dayWords(before.end)}`;
}

/** Lots that wake right before the run, where the waking is drawn. */
function wakings({ stores }: Year, run: RunMark): string[] {
  const start = run.stages[0]?.start ?? 0;
  const wakes = new Map<string, number>();
  for (const stay of stores.flatMap((row) => row.stays)) {
    if (!run.lotIds.includes(stay.lotId)) continue;
    stay.stretches.forEach(({ state, from }, at) => {
      if (state === "ready" && stay.stretches[at - 1]?.state === "asleep") wakes.set(stay.letter, from);
    });
  }
  return [...wakes].filter(([, day]) => start >= day && start - day <= CLOSELY_DAYS)
    .map(([letter, day]) => `the waking of lot ${letter} on ${dayWords(day)}`);
}
