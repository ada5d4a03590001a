import type { VNode } from "preact";
import { cautionsFor, type HazardousKind } from "../../core/cautions.ts";
import { isoDate } from "../../core/calendar.ts";
import { formatDay } from "../../core/day-names.ts";
import { beerCoverage } from "../../core/year/summary.ts";
import { capital, fromTo, grain, homePercent, percent, shortDay } from "../../islands/_charts/words.ts";
import { hazardOf } from "./cautions.tsx";
import { LEAVE_COLUMNS, leaves } from "./loads.tsx";
import { ORDER_COLUMNS, orderRows } from "./orders.tsx";
import { Part } from "./tables.tsx";
import type { YearView } from "./view.ts";

/** Days ahead whose steeps stand on the sheet. */
const STEEP_DAYS = 28;

/** The second sheet: what must leave, what falls short, what is next, orders, steeps and beers, and each caution once. */
export function PrintLists({ view }: { view: YearView }): VNode {
  return (
    <>
      <p class="part">
        <b>Next</b> {capital(view.next.text)}.
      </p>
      <Part
        title="Out of the bins"
        columns={LEAVE_COLUMNS}
        rows={leaves(view).map(({ cells }) => cells)}
        none="Nothing leaves the bins but for the steep."
      />
      <Short view={view} />
      <div class="halves">
        <Beers view={view} />
        <div>
          <Part
            title="To order"
            columns={ORDER_COLUMNS}
            rows={orderRows(view)}
            none="Nothing has to be ordered."
          />
          <Steeps view={view} />
        </div>
      </div>
      <SheetCautions view={view} />
    </>
  );
}

function Short({ view }: { view: YearView }): VNode {
  return (
    <Part
      title="What falls short"
      columns={[{ name: "When" }, { name: "What", prose: true }, { name: "First cause", prose: true }]}
      rows={view.shortfalls.map((one) => [fromTo(one.fromDay, one.toDay), one.what, one.why])}
      none={view.plan === null ? "Known once there is a plan." : "Nothing."}
    />
  );
}

function Steeps({ view }: { view: YearView }): VNode {
  const { year } = view;
  const clock = (day: number) => {
    const minutes = Math.round((day - Math.floor(day)) * 1440);
    return `${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, "0")}`;
  };
  const when = (day: number) =>
    `${formatDay(isoDate(Math.floor(day)), "en-US", "long").slice(0, 3)} ${shortDay(day)}, ${clock(day)}`;
  return (
    <Part
      title="Steeps of the next four weeks"
      columns={[
        { name: "Steep in" },
        { name: "Run and lot" },
        { name: "Draw", number: true },
        {
          name: "Malt",
        },
        { name: "Strip" },
        { name: "Stands" },
      ]}
      rows={steepsAhead(view).map((run) => [
        when(run.stages[0]?.start ?? 0),
        `${run.number}, ${run.letters}`,
        grain(run.drawnG, year.units, run.crop),
        run.maltName,
        when(run.stages.at(-1)?.end ?? 0),
        run.standing,
      ])}
      none="No steep is planned in these weeks."
    />
  );
}

function steepsAhead({ year }: YearView): YearView["year"]["malthouse"]["runs"] {
  const today = Math.floor(year.asOf);
  return year.malthouse.runs.filter(({ stages }) => {
    const start = stages[0]?.start ?? 0;
    return start >= today && start < today + STEEP_DAYS;
  });
}

/** What the sticks of the drawing are too small to tell: how each beer fares. */
function Beers({ view: { year } }: { view: YearView }): VNode {
  return (
    <Part
      title="Beers ahead"
      columns={[
        { name: "Beer" },
        { name: "Brews", number: true },
        { name: "Home-grown", number: true },
        {
          name: "Promised",
          number: true,
        },
        { name: "Held", number: true },
        { name: "Home malt until" },
      ]}
      rows={beerCoverage(year).map((one) => [
        one.name,
        one.made === one.asked ? one.made : `${one.made} of ${one.asked}`,
        one.homeShare === null ? "" : homePercent(one.homeShare),
        one.promise > 0 ? percent(one.promise) : "",
        one.promise > 0 ? `${one.promisesHeld} of ${one.made}` : "",
        one.coveredUntil === null ? "the end" : shortDay(one.coveredUntil),
      ])}
      none="No brew is ahead."
    />
  );
}

/** The cautions of all that stands on the sheets, each said once. */
function SheetCautions({ view }: { view: YearView }): VNode | null {
  const all = leaves(view);
  const kinds: HazardousKind[] = [
    ...(all.some(({ must }) => must) ? ["bin clean by" as const] : []),
    ...all.map(({ hazard }) => hazard),
    ...(steepsAhead(view).length > 0 ? ["steep" as const, "kiln night" as const] : []),
    ...(orderRows(view).length > 0 ? ["order" as const] : []),
    ...view.next.jobs.map(hazardOf),
  ];
  const lines = [
    ...new Map(kinds.flatMap((kind) => cautionsFor(kind)).map((one) => [one.hazard, one])).values(),
  ];
  if (lines.length === 0) return null;
  return (
    <aside class="cautions" aria-label="Where this work can hurt">
      <h3>Where this work can hurt</h3>
      <ul>
        {lines.map(({ hazard, sentence }) => <li key={hazard}>{sentence}</li>)}
      </ul>
      <p>
        {`Who has the say: ${
          [...new Set(lines.flatMap(({ authority }) => authority.split("; ")))].join("; ")
        }.`}
      </p>
    </aside>
  );
}
