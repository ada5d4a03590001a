import type { VNode } from "preact";
import { textWidth } from "../../islands/_charts/text-width.ts";
import type { YearView } from "./view.ts";

/** Width of a line of the sentence on a laptop, in pixels: one that fills more than one is set smaller. */
const SENTENCE_LINE = 1270;

/** The year in one sentence; the point at which it breaks is underlined. */
export function Sentence({ view }: { view: YearView }): VNode {
  const wide = textWidth(view.sentence.map(({ text }) => text).join(""), 24) > SENTENCE_LINE;
  return (
    <h1 class={wide ? "sentence long" : "sentence"}>
      {view.sentence.map(({ text, strong }, index) =>
        strong ? <strong key={index}>{unbroken(text)}</strong> : unbroken(text)
      )}
    </h1>
  );
}

/** Keeps a number and its unit, and a day and its month, on one line. */
export function unbroken(text: string): string {
  return text.replace(/(\d) (?=(?:t|%|kg|lb|[A-Z][a-z]{2})\b)/g, "$1\u00a0");
}

/** Width of the line at the foot of the section that words may fill, in pixels at its natural size. */
const LINE = 930;

/** The jobs that fit into one line, and those left over, which stand below the section. */
export function splitNext({ next }: YearView): { readonly line: string; readonly rest: readonly string[] } {
  const texts = next.jobs.map(({ text }) => text);
  if (texts.length === 0) return { line: next.text, rest: [] };
  let fits = 1;
  while (fits < texts.length && textWidth(texts.slice(0, fits + 1).join("; "), 16) <= LINE) fits++;
  return { line: texts.slice(0, fits).join("; "), rest: texts.slice(fits) };
}

/** One line of what to do next, with the signs of the four states at its end. */
export function Next({ view }: { view: YearView }): VNode {
  return (
    <div class="next">
      <p>
        <b>Next</b> {splitNext(view).line}
      </p>
      <States />
    </div>
  );
}

const STATES = [
  ["done", "M1 1h12v9H1Z", "done"],
  ["under way", "M7 1H1v9h6", "under-way"],
  ["booked", "M1 1h12v9H1Z", "booked"],
  ["not booked", "M1 1h12v9H1Z", "not-booked"],
] as const;

/** The grammar of states, as small as it can be said. */
export function States(): VNode {
  return (
    <ul class="states">
      {STATES.map(([name, path, kind]) => (
        <li key={kind}>
          <svg viewBox="0 0 14 11" width="14" height="11" aria-hidden="true">
            <path class={kind} d={path} />
            {kind === "under-way" && <path class="begun" d="M1 1h5v9H1Z" />}
          </svg>
          {name}
        </li>
      ))}
    </ul>
  );
}
