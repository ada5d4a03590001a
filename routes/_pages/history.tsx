import type { VNode } from "preact";
import { changeWords, toldChanges } from "../../core/edit/words.ts";
import type { Season } from "../../core/season/season.ts";
import type { Change } from "../../core/edit/change.ts";
import { editedAt, editSentence } from "../_record.ts";
import type { EditRow } from "../_store/edits.ts";
import { nameOfWho } from "../_who.ts";

/** Changes of one edit that are listed before the rest is counted. */
const MOST_LISTED = 8;

export interface HistoryProps {
  readonly season: Season;
  readonly edits: readonly EditRow[];
  /** Revisions that somebody has taken back. */
  readonly undone: ReadonlySet<number>;
  /** What the list is about, in words, when it is not the whole season. */
  readonly about: string | null;
  /** The address of older edits, or null. */
  readonly older: string | null;
}

/** Everything that was changed, the newest first, each with its way back. */
export function History({ season, edits, undone, about, older }: HistoryProps): VNode {
  const at = `/seasons/${season.id}/history`;
  return (
    <article class="history">
      <h1>{about === null ? "What was changed" : `What was changed: ${about}`}</h1>
      <p class="quiet">
        {about === null
          ? "Every change is kept, with who made it and when. Taking one back is a new entry; nothing is rubbed out."
          : <a href={at}>The whole history</a>}{" "}
        <a href={`/seasons/${season.id}/expected`}>Forecasts beside what came</a>
      </p>
      {edits.length === 0 && <p>Nothing was changed here yet.</p>}
      <ol class="edits" reversed>
        {edits.map((edit) => (
          <li
            key={edit.revision}
            value={edit.revision}
            class={undone.has(edit.revision) ? "undone" : undefined}
          >
            <p>
              <time datetime={edit.at}>{editedAt(season, edit)}</time> {editSentence(season, edit)}{" "}
              {undone.has(edit.revision) && <em class="taken-back">(taken back)</em>}
            </p>
            <Rest season={season} changes={edit.changes} />
            {edit.reason !== "" && <p class="reason">{edit.reason}</p>}
            <div class="ways">
              <a href={`${at}/${edit.revision}`}>The season as it was then</a>
              {edit.verb !== "begin" && (
                <form method="post" action={`/seasons/${season.id}/undo`} data-edit="Taking back an edit">
                  <input type="hidden" name="id" value={crypto.randomUUID()} />
                  <input type="hidden" name="revision" value={edit.revision} />
                  <button type="submit" aria-label={`Take back edit ${edit.revision}`}>Take back</button>
                </form>
              )}
            </div>
          </li>
        ))}
      </ol>
      {older !== null && (
        <p>
          <a href={older}>Earlier changes</a>
        </p>
      )}
    </article>
  );
}

/** What the sentence leaves to be counted. */
function Rest({ season, changes }: { season: Season; changes: readonly Change[] }): VNode | null {
  const told = toldChanges(changes);
  if (told.length <= 2) return null;
  return (
    <details>
      <summary>{`All ${told.length} changes`}</summary>
      <Changes season={season} changes={changes} most={200} />
    </details>
  );
}

function Changes(
  { season, changes, most }: { season: Season; changes: readonly Change[]; most: number },
): VNode {
  const told = toldChanges(changes);
  return (
    <ul class="changes">
      {told.slice(0, most).map((one) => <li key={one.at}>{changeWords(season, one).line}</li>)}
      {told.length > most && <li>{`and ${told.length - most} more`}</li>}
    </ul>
  );
}

export interface PastProps {
  readonly season: Season;
  readonly edit: EditRow;
  /** What has changed from then to now. */
  readonly since: readonly Change[];
}

/** A season as it was after one edit: what has changed since, and the way back to it. */
export function Past({ season, edit, since }: PastProps): VNode {
  const address = `/seasons/${season.id}`;
  return (
    <article class="history">
      <h1>{`The season on ${editedAt(season, edit)}`}</h1>
      <p>{`After ${editSentence(season, edit)}.`}</p>
      <p>
        <a href={`/api${address}?revision=${edit.revision}`} download={`${season.id}-${edit.revision}.json`}>
          Take this season as a file
        </a>
      </p>
      {since.length === 0 ? <p>The season is now as it was then.</p> : (
        <>
          <h2>
            {since.length === 1 ? "1 value has changed since" : `${since.length} values have changed since`}
          </h2>
          <Changes season={season} changes={since} most={MOST_LISTED * 25} />
          <form method="post" action={`${address}/restore`} data-edit="Going back to an earlier season">
            <input type="hidden" name="id" value={crypto.randomUUID()} />
            <input type="hidden" name="revision" value={edit.revision} />
            <label>
              Why <input name="reason" maxLength={200} required />
            </label>
            <button type="submit">Go back to this season</button>
          </form>
          <p class="quiet">Going back is a new entry that can itself be taken back.</p>
        </>
      )}
      <p>
        <a href={`${address}/history`}>The whole history</a>
      </p>
    </article>
  );
}

export interface StandsInTheWayProps {
  readonly season: Season;
  readonly what: "undo" | "redo";
  /** The edit that was to be taken back or made again, by revision. */
  readonly revision: number;
  readonly conflicts: readonly {
    readonly line: string;
    /** What it would be set to, in words. */
    readonly wanted: string;
    readonly place: string;
    readonly now: unknown;
    readonly author: string;
    readonly when: string;
  }[];
}

/** Somebody has changed the same value since: their words, and a choice. */
export function StandsInTheWay({ season, what, revision, conflicts }: StandsInTheWayProps): VNode {
  const verb = what === "undo" ? "taken back" : "made again";
  return (
    <article class="history">
      <h1>A later change stands in the way</h1>
      <p>{`Nothing was ${verb}. Since then:`}</p>
      <ul>
        {conflicts.map((one) => (
          <li key={one.place}>
            {`${nameOfWho(season, one.author)}, ${one.when}: ${one.line}. ${
              what === "undo" ? "Taking yours back" : "Making yours again"
            } would set it to ${one.wanted}.`}
          </li>
        ))}
      </ul>
      <form method="post" action={`/seasons/${season.id}/${what}`} data-edit="Taking back an edit">
        <input type="hidden" name="id" value={crypto.randomUUID()} />
        <input type="hidden" name="revision" value={revision} />
        <input
          type="hidden"
          name="seen"
          value={JSON.stringify(conflicts.map(({ place, now }) => ({ at: place, value: now })))}
        />
        <button type="submit">
          {what === "undo" ? "Take mine back all the same" : "Make mine again all the same"}
        </button>
      </form>
      <p>
        <a href={`/seasons/${season.id}`}>Leave it as it is</a>
      </p>
    </article>
  );
}
