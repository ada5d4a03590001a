import { dayNumber } from "../calendar.ts";
import type { Vessel } from "../season/malthouse.ts";
import type { Season } from "../season/season.ts";
import { instantOf } from "../zone.ts";
import { clockDay, type Journal } from "./journal.ts";
import type { GapCause, VesselGap } from "./malthouse-band.ts";
import type { Span } from "./marks.ts";
import { stageTimes } from "./journal-runs.ts";
import { type Beside, Slots } from "./slots.ts";
import { listWords, lowerFirst } from "./words.ts";

/**
 * A steep before the load and a kiln after it last no longer, so what bears on a gap lies no further away. Common practice,
 * no source.
 */
const REACH_DAYS = 4;

/** A vessel's empty time, and at how many of its ends a load is cleaned away. */
interface Gap extends Span {
  readonly loadsBeside: number;
}

/**
 * Why a vessel stands empty between its loads. Each gap is asked whether one more run could have its load in it: beside
 * the runs there are; then as if no vessel were closed, as if nobody were away and no day closed (the weekly hours stay),
 * as if the other vessels stood empty. What has to be thought away first is what blocks it. A gap in which a run could be
 * started is left out.
 */
export class VesselGaps {
  readonly #journal: Journal;
  readonly #asIs: Slots;
  readonly #maltIds: readonly string[];
  readonly #eased = new Map<string, Slots>();

  constructor(journal: Journal, slots: Slots) {
    this.#journal = journal;
    this.#asIs = slots;
    this.#maltIds = journal.season.maltTypes.filter((one) => one.made.from === "grain").map((one) => one.id);
  }

  /** The gaps of a vessel from the first day shown to the last. */
  of(vessel: Vessel): VesselGap[] {
    if (this.#maltIds.length === 0) return [];
    return emptyTime(this.#journal, vessel.id).flatMap((gap) => {
      const found = this.#blockedBy(vessel, gap);
      return found === null ? [] : [{ start: gap.start, end: gap.end, ...found }];
    });
  }

  #blockedBy(vessel: Vessel, gap: Gap): { cause: GapCause; reason: string } | null {
    const { season } = this.#journal;
    const hours = vessel.stages.map((stage) => this.#asIs.stageHours(this.#maltIds, stage));
    const least = Math.min(...hours.map((one) => one.least));
    // Most gaps are two days between a weekly run and the next: nothing but more time would help them.
    const cleaning = Math.min(vessel.cleaningHours, ...vessel.changeOver.map((one) => one.hours));
    if ((gap.end - gap.start) * 24 < least + gap.loadsBeside * cleaning) return TOO_SHORT;
    const inside = { vesselId: vessel.id, from: minuteIn(season, gap.start), to: minuteIn(season, gap.end) };
    const first = Math.floor(gap.start - Math.max(...hours.map((one) => one.mostBefore)) / 24);
    const last = gap.end - Math.min(...hours.map((one) => one.leastBefore + one.least)) / 24;
    const fits = (slots: Slots, beside: Beside) => {
      for (let day = first; day <= last; day++) {
        if (slots.canStart(day, this.#maltIds, beside, inside)) return true;
      }
      return false;
    };
    if (fits(this.#asIs, "the runs")) return null;
    const eased = this.#under("both", (one) => withoutClosures(withoutAbsence(one)));
    if (!fits(eased, { only: vessel.id })) return TOO_SHORT;
    if (!fits(eased, "the runs")) return { cause: "taken", reason: "" };
    if (fits(this.#under("open", withoutClosures), "the runs")) {
      return { cause: "closed", reason: closedWords(season, gap) };
    }
    const absence = absenceWords(season, gap);
    return fits(this.#under("staffed", withoutAbsence), "the runs")
      ? { cause: "nobody there", reason: absence }
      : {
        cause: "closed",
        reason: listWords([closedWords(season, gap), absence].filter((one) => one !== "")),
      };
  }

  /** The starts of a farm on which something is thought away; read when the first gap asks for it. */
  #under(name: string, ease: (season: Season) => Season): Slots {
    const known = this.#eased.get(name);
    if (known !== undefined) return known;
    const slots = new Slots({ ...this.#journal, season: ease(this.#journal.season) });
    this.#eased.set(name, slots);
    return slots;
  }
}

const TOO_SHORT = { cause: "too short", reason: "" } as const;

/** Time between the loads of a vessel, and before the first and after the last of them. */
function emptyTime(journal: Journal, vesselId: string): Gap[] {
  const loads = journal.runs.flatMap((run) =>
    stageTimes(run).filter((stage) => stage.vesselId === vesselId)
      .map(({ from, to }) => ({ start: clockDay(from), end: clockDay(to) }))
  ).sort((a, b) => a.start - b.start);
  const gaps: Gap[] = [];
  let free = journal.firstDay, before = 0;
  for (const { start, end } of loads) {
    if (start > free && free <= journal.lastDay) {
      gaps.push({ start: free, end: start, loadsBeside: before + 1 });
    }
    if (end <= free) continue;
    free = end;
    before = 1;
  }
  if (free <= journal.lastDay) gaps.push({ start: free, end: journal.lastDay + 1, loadsBeside: before });
  return gaps;
}

function minuteIn({ zone }: Season, day: number): number {
  const whole = Math.floor(day);
  return instantOf(zone, whole, Math.round((day - whole) * 1440));
}

function withoutClosures(season: Season): Season {
  return { ...season, vessels: season.vessels.map((vessel) => ({ ...vessel, closures: [] })) };
}

function withoutAbsence(season: Season): Season {
  const people = season.people.map((person) => ({ ...person, away: [] }));
  return { ...season, people, roster: { ...season.roster, closed: [] } };
}

/** "kiln: burner service" of every closure that bears on a gap. */
function closedWords({ vessels }: Season, gap: Span): string {
  const near = vessels.flatMap(({ name, closures }) =>
    closures.filter((one) =>
      clockDay(one.from) <= gap.end + REACH_DAYS && clockDay(one.to) >= gap.start - REACH_DAYS
    )
      .map(({ reason }) => `${lowerFirst(name)}: ${reason}`)
  );
  return [...new Set(near)].join(", ");
}

/** The farm's own words for why nobody starts a run. */
function absenceWords({ roster, people }: Season, gap: Span): string {
  const stays = [...roster.closed, ...people.flatMap(({ away }) => away)];
  const near = stays.filter(({ from, to }) =>
    dayNumber(from) <= gap.end && dayNumber(to) + 1 >= gap.start - REACH_DAYS
  );
  return [...new Set(near.map(({ reason }) => reason))].join(", ");
}
