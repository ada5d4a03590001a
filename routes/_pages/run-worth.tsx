import type { VNode } from "preact";
import { type RunWorth, runWorthWords } from "../../core/year/run-worth.ts";
import { dayWords, stretchWords, upperFirst } from "../../core/year/words.ts";
import { WorthChart } from "../../islands/_charts/WorthChart.tsx";
import { Table } from "./tables.tsx";

/** What one run more would be worth, week by week, as far as it has been tried. */
export function RunWorthPart(
  { weeks, isBusy }: { weeks: readonly RunWorth[]; isBusy: boolean },
): VNode | null {
  if (weeks.length === 0) return null;
  return (
    <section class="part wide" aria-label="What one more run is worth">
      <h2>What one more run is worth</h2>
      <p class="quiet">
        Room for one run more, of the largest vessels' load, put into one week after the other; each time the
        year is planned anew. The weeks do not add up.
      </p>
      <p>{runWorthWords(weeks)}{isBusy ? " Further weeks are being worked out." : ""}</p>
      <WorthChart weeks={weeks} />
      <details class="more-rows">
        <summary>Week by week</summary>
        <Table
          columns={[{ name: "Started in the weeks of", prose: true }, {
            name: "It would bring",
            prose: true,
          }]}
          rows={alike(weeks).map(({ from, to, words }) => [
            from === to ? dayWords(from) : stretchWords(from, to),
            upperFirst(words),
          ])}
          caption="What one more run is worth, week by week"
        />
      </details>
    </section>
  );
}

/** Weeks in a row that bring the same are told once. */
function alike(weeks: readonly RunWorth[]): { from: number; to: number; words: string }[] {
  const rows: { from: number; to: number; words: string }[] = [];
  for (const { day, words } of weeks) {
    const last = rows.at(-1);
    if (last !== undefined && last.words === words && day === last.to + 7) last.to = day;
    else rows.push({ from: day, to: day, words });
  }
  return rows;
}
