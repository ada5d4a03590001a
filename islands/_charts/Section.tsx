import type { ComponentChildren, VNode } from "preact";
import type { Year } from "../../core/year/year.ts";
import { Axis, Today } from "./Axis.tsx";
import { BrewsBand } from "./BrewsBand.tsx";
import { FieldsBand } from "./FieldsBand.tsx";
import { WIDTH } from "./frame.ts";
import { Harvests } from "./Harvests.tsx";
import { MaltBand } from "./MaltBand.tsx";
import { MalthouseBand } from "./MalthouseBand.tsx";
import { leftOut, sectionLabels } from "./section-labels.ts";
import { FIRST_VIEW, layoutSection } from "./section-layout.ts";
import { Batches } from "./Batches.tsx";
import { StoresBand } from "./StoresBand.tsx";
import { traceData } from "./trace-data.ts";
import { Words, type WordsWish } from "./Words.tsx";
import type { Placed } from "./label-placement.ts";

/** What the arrow keys do, for those who cannot see the drawing. */
const KEYS =
  "Left and right lead in time, up and down along the chain from field to brew, Enter opens a thing, Escape lets it go.";

/** Where nothing is drawn that the keyboard could step to, the drawing itself takes the keyboard, to be scrolled. */
const SCROLLS = { tabIndex: 0, role: "group", "aria-label": "The section, to be scrolled" } as const;

function isBare({ fields, stores, brews, malthouse }: Year): boolean {
  return fields.plantings.length + stores.length + brews.length + malthouse.vessels.length === 0;
}

/**
 * The section: a cut through the farm from acre to pint, five bands on one axis. It is drawn whole on the server;
 * section-trace.ts adds the tracing.
 */
export function Section({ year, weekStartsOn, width = WIDTH, height: room = FIRST_VIEW, still, children }: {
  year: Year;
  weekStartsOn: number;
  /** Units across; fewer make larger type on a sheet of a given width. */
  width?: number;
  /** Units from top to bottom that the drawing keeps to while it can. */
  height?: number;
  /** On paper nothing is traced, so what tracing needs is left out. */
  still?: boolean;
  /** What stands at the foot while nothing is traced. */
  children?: ComponentChildren;
}): VNode {
  const layout = layoutSection(year, width, room);
  const { frame, height, brews } = layout;
  const labels = sectionLabels(year, layout);
  return (
    <div
      class="section-box"
      {...still ? {} : { "data-section": "", "data-trace": JSON.stringify(traceData(year, layout)) }}
    >
      <div class="section-scroll" {...isBare(year) ? SCROLLS : {}}>
        <svg
          class="section"
          viewBox={`0 0 ${width} ${height}`}
          width={width}
          height={height}
          role="application"
          aria-label={`The section of the year of ${year.farm}, from field to brew`}
          {...still ? {} : { "aria-describedby": "section-keys" }}
        >
          <Axis frame={frame} bottom={brews.tankRule} weekStartsOn={weekStartsOn} />
          <StoresBand year={year} frame={frame} layout={layout.stores} />
          <FieldsBand year={year} frame={frame} layout={layout.fields} />
          <Harvests layout={layout} />
          <MalthouseBand year={year} frame={frame} layout={layout.malthouse} />
          <MaltBand year={year} frame={frame} layout={layout.malt} />
          <Batches year={year} layout={layout} />
          <BrewsBand year={year} frame={frame} layout={layout.brews} />
          <Today frame={frame} bottom={brews.tankRule} />
          <Words placed={labels} />
          <g class="thread" aria-hidden="true" />
        </svg>
      </div>
      {still ? <LeftOut labels={labels} /> : <p class="unseen" id="section-keys">{KEYS}</p>}
      <div class="foot">
        {children}
        <p class="chain" aria-live="polite" data-chain />
      </div>
      <div
        class="detail"
        data-detail
        tabindex={-1}
        role="region"
        aria-label="The thing that was opened"
        hidden
      />
    </div>
  );
}

/** What the "+n" of a drawing on paper stand for, where nobody can point at them. */
function LeftOut({ labels }: { labels: readonly Placed<WordsWish>[] }): VNode | null {
  const all = leftOut(labels);
  if (all.length === 0) return null;
  return (
    <p class="left-out">
      <b>Behind each + above</b>
      {all.map(({ place, words }) => (
        <span key={place}>
          <b>{place}</b> {words.join("; ")}
        </span>
      ))}
    </p>
  );
}
