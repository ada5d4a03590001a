import type { VNode } from "preact";
import { capital } from "../../islands/_charts/words.ts";
import { gravest, hazardOf } from "./cautions.tsx";
import type { YearView } from "./view.ts";

/** Each next job on a line of its own, with what has just moved about it and the caution that belongs to it. */
export function NextJobs({ view }: { view: YearView }): VNode | null {
  const { jobs } = view.next;
  if (jobs.length === 0) return null;
  const said = new Set<string>();
  const moved = new Map(view.year.oldDays.runs.map(({ id, words }) => [id, words]));
  return (
    <section class="jobs" aria-label="What is next">
      <ul>
        {jobs.map((job) => {
          const caution = gravest(hazardOf(job));
          const first = !said.has(caution);
          said.add(caution);
          return (
            <li key={`${job.kind} ${job.refId}`}>
              {capital(job.text)}
              {moved.has(job.refId) && <span class="quiet">{`; ${moved.get(job.refId)}`}</span>}
              {first && caution !== "" && <span class="caution">{caution}</span>}
            </li>
          );
        })}
      </ul>
    </section>
  );
}
