import type { VNode } from "preact";

/** What the head of a season's pages says of who writes here and what they can take back. */
export interface RecordBarProps {
  /** Such as /seasons/tern-and-furrow. */
  readonly season: string;
  /** The name of who writes here, or null when nobody has said. */
  readonly who: string | null;
  /** The edit that this person can take back next, or null. */
  readonly undo: StepBack | null;
  readonly redo: StepBack | null;
  /** The latest edit, by whomever, in a sentence. */
  readonly latest: string;
  /** Whether that edit was made just now. */
  readonly fresh: boolean;
  /** Why nothing can be changed here; empty when everything can. */
  readonly closed: string;
}

/** An edit that can be taken back or made again. */
export interface StepBack {
  readonly revision: number;
  readonly words: string;
}

/**
 * Who writes here, what they did last, and the way back. Its forms work without scripts; the island Follow keeps the
 * line true when others change something, and holds edits back while there is no connection.
 */
export function RecordBar({ season, who, undo, redo, latest, fresh, closed }: RecordBarProps): VNode {
  return (
    <section
      class="record-bar"
      aria-label="What was changed, and by whom"
      data-island="Follow"
      data-props={JSON.stringify({ season })}
    >
      <a class="who" href={`${season}/who`}>{who === null ? "Who is writing?" : `Writing: ${who}`}</a>
      {undo !== null && <Back season={season} what="undo" label="Undo" step={undo} />}
      {redo !== null && <Back season={season} what="redo" label="Redo" step={redo} />}
      {closed !== "" && <p class="closed">{closed}</p>}
      <div class="notices" aria-live="polite">
        <p class={fresh ? "latest fresh" : "latest"}>{latest}</p>
        <div class="unsent" />
      </div>
    </section>
  );
}

interface BackProps {
  readonly season: string;
  readonly what: "undo" | "redo";
  readonly label: string;
  readonly step: StepBack;
}

function Back({ season, what, label, step: { revision, words } }: BackProps): VNode {
  return (
    <form method="post" action={`${season}/${what}`} data-edit={`${label}: ${words}`}>
      <input type="hidden" name="id" value={crypto.randomUUID()} />
      <input type="hidden" name="revision" value={revision} />
      <button type="submit" title={words} aria-label={`${label}: ${words}`}>{label}</button>
    </form>
  );
}
