import type { VNode } from "preact";
import { formatDay } from "../../core/day-names.ts";
import type { SeasonRow, Shelf } from "../_store/seasons.ts";

/** A stored season in the list. */
export interface Shelved {
  readonly row: SeasonRow;
  readonly name: string;
  /** First and last day of the season. */
  readonly from: string;
  readonly to: string;
  readonly plan: string;
}

export interface ShelvesProps {
  readonly seasons: readonly Shelved[];
  /** What was just done, in a sentence; empty when nothing was. */
  readonly said: string;
}

/** Every season that is stored: at hand, put away, thrown away; and the ways to a new one. */
export function Shelves({ seasons, said }: ShelvesProps): VNode {
  const on = (shelf: Shelf) => seasons.filter((one) => one.row.shelf === shelf);
  return (
    <article class="shelves">
      <h1>Seasons</h1>
      {said !== "" && <p role="status" class="said">{said}</p>}
      {on("open").length === 0 && <p>No season is open.</p>}
      {on("open").map((one) => <One key={one.row.id} season={one} />)}
      <section>
        <h2>A new season</h2>
        <p>
          The next year of a farm begins from its last one: follow "Begin the next season" above. Otherwise:
        </p>
        <form method="post" action="/seasons" encType="multipart/form-data">
          <label>
            A season file <input type="file" name="file" accept=".json,application/json" required />
          </label>
          <button type="submit">Bring it in</button>
        </form>
        <form method="post" action="/seasons/begin">
          <label>
            Name of the farm <input name="name" maxLength={80} required />
          </label>
          <button type="submit">Begin with nothing</button>
        </form>
      </section>
      <p>
        All of them lie in one store; <a href="/copies">copies of it</a> are made every day.
      </p>
      <Shelf title="Put away" seasons={on("archived")} />
      <Shelf title="Thrown away" seasons={on("thrown away")} />
    </article>
  );
}

function Shelf({ title, seasons }: { title: string; seasons: readonly Shelved[] }): VNode | null {
  if (seasons.length === 0) return null;
  return (
    <section>
      <h2>{title}</h2>
      {seasons.map((one) => <One key={one.row.id} season={one} />)}
    </section>
  );
}

function One({ season: { row, name, from, to, plan } }: { season: Shelved }): VNode {
  const address = `/seasons/${row.id}`;
  return (
    <div class="shelved">
      <h3>
        <a href={address}>{name}</a>
      </h3>
      <p class="quiet">
        {`${formatDay(from, "en-US", "withYear")} to ${formatDay(to, "en-US", "withYear")}. ${
          row.revision - 1 === 1 ? "1 change" : `${row.revision - 1} changes`
        }, the last on ${formatDay(row.updated.slice(0, 10), "en-US", "withYear")}. ${plan}`}
      </p>
      <div class="ways">
        <a href={`/api${address}`} download={`${row.id}.json`}>Take it as a file</a>
        {row.shelf === "open" && <a href={`${address}/next`}>Begin the next season</a>}
        {row.shelf === "open"
          ? (
            <>
              <Move address={address} to="archived" words="Put away" name={name} />
              <Move address={address} to="thrown away" words="Throw away" name={name} />
            </>
          )
          : <Move address={address} to="open" words="Bring back" name={name} />}
      </div>
    </div>
  );
}

interface MoveProps {
  readonly address: string;
  readonly to: Shelf;
  readonly words: string;
  readonly name: string;
}

function Move({ address, to, words, name }: MoveProps): VNode {
  return (
    <form method="post" action={`${address}/shelf`}>
      <input type="hidden" name="to" value={to} />
      <button type="submit" aria-label={`${words}: ${name}`}>{words}</button>
    </form>
  );
}
