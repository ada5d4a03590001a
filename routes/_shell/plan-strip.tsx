import type { VNode } from "preact";
import type { Looking } from "../_solver/looking.ts";
import type { Standing } from "../_standing.ts";
import { bestSoFar, lookingWords } from "../_plan-words.ts";

/** How the plan stands, and how far the planner looks for a better one. */
export interface PlanStripProps {
  readonly standing: Standing;
  readonly looking: Looking | null;
}

/**
 * The line that says how the plan stands, with what one can do about it. Its forms work without scripts; with them, the
 * island LiveYear keeps the line and the year below it true.
 */
export function PlanStrip({ standing, looking }: PlanStripProps): VNode {
  const { row, making, says } = standing;
  const season = `/seasons/${row.id}`;
  const planning = making !== null;
  return (
    <section
      class="plan-strip"
      aria-label="The plan"
      data-island="LiveYear"
      data-props={JSON.stringify({ season })}
    >
      <p role="status">{says}</p>
      <progress aria-label="How far the planner is" hidden={!planning} {...share(standing)} />
      <p class="best" hidden={!planning}>{bestSoFar(making)}</p>
      <form method="post" action={`${season}/plan`} data-when="idle" hidden={planning}>
        <button type="submit">Plan again</button>
      </form>
      <form method="post" action={`${season}/plan/stop`} data-when="planning" hidden={!planning}>
        <button type="submit">Stop and keep the best so far</button>
      </form>
      <form method="post" action={`${season}/look/stop`} class="looking" hidden={looking === null}>
        <span>{lookingWords(looking)}</span>
        <button type="submit">Stop looking</button>
      </form>
    </section>
  );
}

function share({ making }: Standing): { max?: number; value?: number } {
  return making !== null && making.of > 0 ? { max: making.of, value: making.done } : {};
}
