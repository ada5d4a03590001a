import type { VNode } from "preact";
import { isoDate } from "../../core/calendar.ts";
import { formatDay } from "../../core/day-names.ts";
import { NO_OLD_DAYS } from "../../core/year/old-days.ts";
import { Key } from "../../islands/_charts/Key.tsx";
import { fitSheet } from "../../islands/_charts/section-layout.ts";
import { Section } from "../../islands/_charts/Section.tsx";
import { Sentence } from "./lead.tsx";
import { PrintLists } from "./print-lists.tsx";
import { madeFor, viewOf, type YearProps, type YearView } from "./view.ts";

/** Units across the sheet, fewer than on a screen, so that type prints at eight points; and down it, to the key. */
export const SHEET = { width: 1170, height: 612 };

/** The year for paper: the section on one landscape sheet, what it asks for on a second. */
export function renderPrint(props: YearProps): VNode {
  return <PrintPage view={viewOf(props)} />;
}

/** The sheets of a year that has been replayed. */
export function PrintPage({ view }: { view: YearView }): VNode {
  const { season } = view;
  // What moved is news of a day; the sheet hangs on a wall for weeks and shows the plan alone.
  const year = { ...view.year, oldDays: NO_OLD_DAYS };
  return (
    <div class="sheets">
      <p class="on-screen quiet">
        Two sheets, landscape. <a href={`/seasons/${season.id}`}>Back to the year</a>
      </p>
      <article class="sheet">
        <SheetHead view={view} title="the year on one sheet" number={1} />
        <Sentence view={view} />
        <Section
          year={year}
          weekStartsOn={season.weekStartsOn}
          {...fitSheet(year, SHEET.width, SHEET.height)}
          still
        >
          <Key year={year} still />
        </Section>
        <Footer view={view} />
      </article>
      <article class="sheet lists">
        <SheetHead view={view} title="what the year asks for" number={2} />
        <PrintLists view={view} />
      </article>
    </div>
  );
}

/** Whose sheet it is, of which days, which of the two. */
function SheetHead({ view, title, number }: { view: YearView; title: string; number: number }): VNode {
  const { season, year, plan } = view;
  const days = `${formatDay(isoDate(year.firstDay), "en-US", "withYear")} to ${
    formatDay(isoDate(year.lastDay), "en-US", "withYear")
  }`;
  return (
    <header class="sheet-head">
      <b>{`${season.name}, ${title}`}</b>
      <span class="about">
        {number === 1 || plan === null ? firstSentence(season.about) : `Plan made for ${madeFor(plan.asOf)}`}
      </span>
      <span>{`${days} · sheet ${number} of 2`}</span>
    </header>
  );
}

function Footer({ view }: { view: YearView }): VNode {
  const { plan, season } = view;
  const made = plan === null
    ? `No plan yet; drawn from the farm as of ${madeFor(view.asOf)}.`
    : `Plan made for ${madeFor(plan.asOf)}${plan.stoppedEarly ? ", stopped early: the best so far" : ""}.`;
  return (
    <footer class="sheet-foot">
      <span>
        {`${made} ${
          view.state === "older" || view.state === "failed" ? `${view.message ?? ""} ` : ""
        }${season.bookValues.length} book values are not yet replaced by the farm's own. Forecast grain and dates are likely values, not promises.`}
      </span>
      <b>A plan, not an instruction to enter or override anything.</b>
    </footer>
  );
}

/** A sheet has one line for what a season is about. */
function firstSentence(text: string): string {
  return text.match(/^.*?[.!?](?=\s|$)/)?.[0] ?? text;
}
