import type { VNode } from "preact";
import { formatDay, isoDate } from "../../core/calendar.ts";
import { Section } from "../../islands/_charts/Section.tsx";
import { Sentence } from "./lead.tsx";
import { PrintLists } from "./print-lists.tsx";
import { madeFor, viewOf, type YearProps, type YearView } from "./view.ts";

/** Units across the sheet: fewer than on a screen, so that type prints at eight points. */
const SHEET_WIDTH = 1170;
/** And down it, between the sentence and the legend. */
const SHEET_HEIGHT = 622;

/** The year for paper: the section on one landscape sheet, what it asks for on a second. */
export function renderPrint(props: YearProps): VNode {
  return <PrintPage view={viewOf(props)} />;
}

/** The sheets of a year that has been replayed. */
export function PrintPage({ view }: { view: YearView }): VNode {
  const { season, year } = view;
  const days = `${formatDay(isoDate(year.firstDay), "en-US", "withYear")} to ${
    formatDay(isoDate(year.lastDay), "en-US", "withYear")
  }`;
  return (
    <div class="sheets">
      <p class="on-screen quiet">
        Two sheets, landscape. <a href={`/seasons/${season.id}`}>Back to the year</a>
      </p>
      <article class="sheet">
        <header class="sheet-head">
          <b>{`${season.name}, the year on one sheet`}</b>
          <span>{days}</span>
        </header>
        <Sentence view={view} />
        <Section
          year={year}
          weekStartsOn={season.weekStartsOn}
          width={SHEET_WIDTH}
          height={SHEET_HEIGHT}
          still
        >
          <Legend />
        </Section>
        <Footer view={view} />
      </article>
      <article class="sheet lists">
        <PrintLists view={view} />
      </article>
    </div>
  );
}

/** What the signs mean, as a sentence. */
function Legend(): VNode {
  return (
    <p class="legend">
      Solid ink is done, an open right edge is under way, a plain outline is booked, a broken outline is not
      booked. In bins wide signs sleep, close signs are ready, crosses are good for feed only; dots are
      barley, chevrons wheat, strokes rye, rings oats; a broken box under a bin is a load that must leave, a
      heavy broken thread a move. In the malthouse a step down is a hand-over. Malt is solid when ready,
      hatched while it rests, lined when bought; a notch below its line is what is lacking. A stick is a brew,
      inked from the foot by its home share; a second rim is promised.
    </p>
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
        }${season.bookValues.length} book values are not yet replaced by the farm's own. Forecast grain and dates are likely values, not promises. ${season.about}`}
      </span>
      <b>A plan, not an instruction to enter or override anything.</b>
    </footer>
  );
}
