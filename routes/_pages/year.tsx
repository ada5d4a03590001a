import type { VNode } from "preact";
import { Key } from "../../islands/_charts/Key.tsx";
import { provenWords } from "../../core/year/proven-words.ts";
import { fitView } from "../../islands/_charts/section-layout.ts";
import { ShortSection } from "../../islands/_charts/ShortSection.tsx";
import { Section } from "../../islands/_charts/Section.tsx";
import { FlowPart } from "./flow.tsx";
import { NextJobs } from "./next-jobs.tsx";
import { Next, Sentence } from "./lead.tsx";
import { Leaving } from "./leaving.tsx";
import { Money } from "./money.tsx";
import { News } from "./news.tsx";
import { Orders } from "./orders.tsx";
import { Shortfalls } from "./shortfalls.tsx";
import { Vessels } from "./vessels.tsx";
import { Fold } from "./tables.tsx";
import { Warnings } from "./warnings.tsx";
import { madeFor, viewOf, type YearProps, type YearView } from "./view.ts";

/**
 * The year: the sentence, the section and what to do next come first; below them everything that stands behind. With
 * `plan` null the fields, bins and calendar are drawn from what is known.
 */
export function renderYear(props: YearProps): VNode {
  return <YearPage view={viewOf(props)} />;
}

/** The run that breaks the plan first, once it is known. */
function BreaksFirst({ view }: { view: YearView }): VNode | null {
  const words = view.explanation?.breaksFirst ?? "";
  return words === "" ? null : <p class="breaks-first">{words}</p>;
}

/** The page of a year that has been replayed. */
export function YearPage({ view }: { view: YearView }): VNode {
  const { season, plan, year } = view;
  return (
    <article class="year">
      <Sentence view={view} />
      <BreaksFirst view={view} />
      <News view={view} />
      <ShortSection year={year} />
      <Section year={year} weekStartsOn={season.weekStartsOn} {...fitView(year)}>
        <Next view={view} />
      </Section>
      <p class="print-hint">
        {`This page prints as two sheets, once they are there; they stand at /seasons/${season.id}/print.`}
      </p>
      <NextJobs view={view} />
      {year.stores.length + year.brews.length > 0 && (
        <Fold title="What the signs mean" kind="key-part">
          <Key year={year} />
        </Fold>
      )}
      <p class="made quiet">
        {plan === null
          ? "Not planned yet. "
          : `Plan made for ${madeFor(plan.asOf)}${
            plan.stoppedEarly ? ", stopped early: the best so far" : ""
          }. `}
        {plan !== null && `${provenWords(season, plan)} `}
        {season.about}
      </p>
      <div class="parts">
        {plan === null
          ? (
            <p class="quiet">
              What falls short, what to order and what it costs are known once there is a plan.
            </p>
          )
          : (
            <>
              <Shortfalls view={view} />
              <Leaving view={view} />
              <Orders view={view} />
            </>
          )}
        <FlowPart view={view} />
        {plan !== null && <Money view={view} />}
        {year.malthouse.vessels.length > 0 && <Vessels view={view} />}
        <Warnings view={view} />
      </div>
    </article>
  );
}
