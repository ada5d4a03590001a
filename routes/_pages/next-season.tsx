import type { VNode } from "preact";
import { formatDay } from "../../core/day-names.ts";
import type { NextNote } from "../../core/next/notes.ts";
import type { Season } from "../../core/season/season.ts";

export interface NextSeasonProps {
  readonly season: Season;
  /** Proposed first day and name. */
  readonly date: string;
  readonly name: string;
  /** Last day up to which the plan says what lies where; null when there is no plan. */
  readonly plannedTo: string | null;
}

/** Asks when the next season begins and what it is called. */
export function NextSeasonForm({ season, date, name, plannedTo }: NextSeasonProps): VNode {
  return (
    <article class="shelves">
      <h1>Begin the next season</h1>
      <p>
        {plannedTo === null
          ? "There is no plan yet, so the next season begins with what the records say of today."
          : `It begins with what lies where on its first morning if the plan is carried out until then: grain, malt,
            beer in tanks, runs under way and orders on the way. Every weight can be corrected afterwards. This season
            stays as it is.`}
      </p>
      <form method="post" action={`/seasons/${season.id}/next`} class="who-form">
        <label>
          First day{" "}
          <input
            type="date"
            name="date"
            required
            value={date}
            {...(plannedTo === null ? { readOnly: true } : { max: plannedTo })}
          />
        </label>
        <label>
          Name <input name="name" maxLength={80} required value={name} />
        </label>
        <button type="submit">Begin it</button>
      </form>
      <p>
        <a href="/seasons">Back to the seasons</a>
      </p>
    </article>
  );
}

/** What is to be done comes first. */
const PARTS: readonly { kind: NextNote["kind"]; title: string }[] = [
  { kind: "to enter", title: "To be entered now" },
  { kind: "carried over", title: "Taken over" },
  { kind: "repeated", title: "Standing again a year later" },
  { kind: "dropped", title: "Left behind in the old season" },
];

/** What the new season took over, and what a person has to enter now. */
export function NextSeasonBegun({ season, notes }: { season: Season; notes: readonly NextNote[] }): VNode {
  return (
    <article class="shelves">
      <h1>{`${season.name} begins on ${formatDay(season.positionAt.slice(0, 10), "en-US", "long")}`}</h1>
      {PARTS.map(({ kind, title }) => {
        const of = notes.filter((one) => one.kind === kind);
        return of.length > 0 && (
          <section key={kind}>
            <h2>{title}</h2>
            <ul>
              {of.map(({ text }) => <li key={text}>{text}</li>)}
            </ul>
          </section>
        );
      })}
      <p>
        <a href={`/seasons/${season.id}`}>Go to the new season</a>
      </p>
    </article>
  );
}
