import type { VNode } from "preact";
import { dayNumber } from "../../core/calendar.ts";
import type { ExplainedSlack, Explanation } from "../../core/explain/explanation.ts";
import type { Plan } from "../../core/plan/plan.ts";
import type { Season } from "../../core/season/season.ts";
import { countWords, dayWords, shortMaltWords, upperFirst } from "../../core/year/words.ts";
import { type Cell, type Column, Part, Table } from "./tables.tsx";

/** So many of the tightest runs are shown at once; the others are folded away. */
const SHOWN = 6;

const COLUMNS: readonly Column[] = [{ name: "Run" }, { name: "Malt" }, { name: "Slack", prose: true }];

/** How far each run may slip: those that would break the plan first, the others by day behind a fold. */
export function Slack({ season, plan, explanation }: {
  season: Season;
  plan: Plan | null;
  explanation: Explanation;
}): VNode {
  const runs = new Map((plan?.runs ?? []).map((run) => [run.id, run]));
  const known = explanation.slack.filter(({ runId }) => runs.has(runId));
  const start = ({ runId }: ExplainedSlack) => runs.get(runId)!.steepInAt;
  const cells = (one: ExplainedSlack): Cell[] => {
    const { maltId } = runs.get(one.runId)!;
    return [
      dayWords(dayNumber(start(one).slice(0, 10))),
      shortMaltWords(season.maltTypes.find((malt) => malt.id === maltId)?.name ?? maltId),
      upperFirst(one.words),
    ];
  };
  // One more row takes less room than the line that folds it away.
  const shown = known.length <= SHOWN + 1 ? known : known.slice(0, SHOWN);
  const folded = known.slice(shown.length).toSorted((a, b) => start(a) < start(b) ? -1 : 1);
  return (
    <Part
      title="How far each run may slip"
      about="Its start alone moved to a later staffed day, everything else held. First those on which a brew hangs, the tightest at the head; then those that only press on the run behind them."
      columns={COLUMNS}
      rows={shown.map(cells)}
      none="No run is free to move."
    >
      {folded.length > 0 && (
        <details class="more-rows">
          <summary>{`The other ${countWords(folded.length, "run")}, by day`}</summary>
          <Table columns={COLUMNS} rows={folded.map(cells)} caption="How far the other runs may slip" />
        </details>
      )}
    </Part>
  );
}

/** Each malt's least stock against its reserve. */
export function Reserves({ explanation: { reserves } }: { explanation: Explanation }): VNode | null {
  if (reserves.length === 0) return null;
  return (
    <section class="part" aria-label="Malt against its reserve">
      <h2>Malt against its reserve</h2>
      <ul class="plain">{reserves.map((one) => <li key={one}>{upperFirst(one)}</li>)}</ul>
    </section>
  );
}
