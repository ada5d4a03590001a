import type { VNode } from "preact";
import { oldDayLines } from "../../core/year/old-day-words.ts";
import { countWords } from "../../core/year/words.ts";
import { OldSign } from "../../islands/_charts/Key.tsx";
import { unbroken } from "./lead.tsx";
import type { YearView } from "./view.ts";

/** Of more things of a kind, the section would say what was louder than what is: they are drawn when asked for. */
const MOST_SHOWN = 12;

/** What the last edits moved: in words, on the section, and one by one. */
export function News({ view: { news, year } }: { view: YearView }): VNode | null {
  if (news == null) return null;
  return (
    <div class="news">
      <p>
        {news.because.length > 0 && <span class="quiet">{`${news.because.join(" ")} `}</span>}
        <b>{news.moved.join(" ")}</b>
      </p>
      <WhereThingsWere year={year} />
    </div>
  );
}

/** The switches for old days on the section work without scripts: the style sheet looks at them. */
function WhereThingsWere({ year }: { year: YearView["year"] }): VNode | null {
  const { runs, brews } = year.oldDays;
  const count = runs.length + brews.length;
  if (count === 0) return null;
  // A run of which only the load is another has nothing to be drawn.
  const drawn = runs.filter(({ became, was }) => became === "new" || was.length > 0);
  const became = new Set([...drawn, ...brews].map((one) => one.became));
  return (
    <div class="old-days">
      {became.size > 0 && (
        <span class="switches" role="group" aria-labelledby="old-days-name">
          <span id="old-days-name">Show where things were:</span>
          <Switch id="old-runs" count={drawn.length} one="run" />
          <Switch id="old-brews" count={brews.length} one="brew" />
        </span>
      )}
      <span class="legend">
        {(became.has("moved") || became.has("gone")) && <OldSign kind="was">lay here before</OldSign>}
        {became.has("gone") && <OldSign kind="gone">no longer planned</OldSign>}
        {became.has("new") && <OldSign kind="new">not planned before</OldSign>}
      </span>
      <details>
        <summary>{count === 1 ? "The change in words" : `All ${count} in words`}</summary>
        <ul>
          {oldDayLines(year).map((line, at) => <li key={at}>{unbroken(line)}</li>)}
        </ul>
      </details>
    </div>
  );
}

function Switch({ id, count, one }: { id: string; count: number; one: string }): VNode | null {
  if (count === 0) return null;
  return (
    <label>
      <input type="checkbox" id={id} checked={count <= MOST_SHOWN} autocomplete="off" />
      {countWords(count, one)}
    </label>
  );
}
