import type { VNode } from "preact";

/** What the head of a season's pages says of who writes here and what they can take back. */
export interface RecordBarProps {
  /** Such as /seasons/tern-and-furrow. */
  readonly season: string;
  /** The name of who writes here, or null when nobody has said. */
  readonly who: string | null;
  /** The edit that this person can take back next, in words, or null. */
  readonly undo: string | null;
  readonly redo: string | null;
  /** The latest edit, by whomever, in a sentence. */
  readonly latest: string;
}

/**
 * Who writes here, what they did last, and the way back. Its forms work without scripts; the island Follow keeps the
 * line true when others change something, and holds edits back while there is no connection.
 */
export function RecordBar({ season, who, undo, redo, latest }: RecordBarProps): VNode {
  return (
    <section
      class="record-bar"
      aria-label="What was changed, and by whom"
      data-island="Follow"
      data-props={JSON.stringify({ season })}
    >
      <a class="who" href={`${season}/who`}>{who === null ? "Who is writing?" : `Writing: ${who}`}</a>
      {undo !== null && <Back season={season} what="undo" label="Undo" words={undo} />}
      {redo !== null && <Back season={season} what="redo" label="Redo" words={redo} />}
      <p class="latest" aria-live="polite">{latest}</p>
      <div class="unsent" aria-live="polite" />
    </section>
  );
}

interface BackProps {
  readonly season: string;
  readonly what: "undo" | "redo";
  readonly label: string;
  readonly words: string;
}

function Back({ season, what, label, words }: BackProps): VNode {
  return (
    <form method="post" action={`${season}/${what}`} data-edit={`${label}: ${words}`}>
      <input type="hidden" name="id" value={crypto.randomUUID()} />
      <button type="submit" title={words}>{label}</button>
    </form>
  );
}
