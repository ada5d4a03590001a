import type { VNode } from "preact";
import type { Season } from "../../core/season/season.ts";
import { LONGEST_NAME } from "../_who.ts";

/** Asks who writes at this browser. `back` is the page to go on with. */
export function Who({ season, who, back }: { season: Season; who: string | null; back: string }): VNode {
  const known = season.people.some((one) => one.id === who);
  return (
    <article class="history">
      <h1>Who is writing?</h1>
      <p class="quiet">
        The name stands beside everything that is changed from this browser. It is no lock: anyone at this
        machine can give any name.
      </p>
      <form method="post" action={`/seasons/${season.id}/who`} class="who-form">
        <input type="hidden" name="back" value={back} />
        <fieldset>
          <legend>People of the farm</legend>
          {season.people.map((one) => (
            <label key={one.id}>
              <input type="radio" name="person" value={one.id} checked={one.id === who} /> {one.name}
            </label>
          ))}
          <label>
            <input type="radio" name="person" value="" checked={!known} /> somebody else:{" "}
            <input
              name="other"
              maxLength={LONGEST_NAME}
              value={known ? "" : who ?? ""}
              aria-label="Another name"
            />
          </label>
        </fieldset>
        <button type="submit">That is me</button>
      </form>
    </article>
  );
}
