import type { VNode } from "preact";
import { formatMass } from "../../core/units.ts";
import { countWords, upperFirst } from "../../core/year/words.ts";
import type { Shortfall } from "../../core/year/shortfalls.ts";
import type { Year } from "../../core/year/year.ts";
import { fromTo, malt, tonnes } from "../../islands/_charts/words.ts";
import { Part } from "./tables.tsx";
import type { YearView } from "./view.ts";

/** What the year falls short of: when, how much, and the first cause. */
export function Shortfalls({ view }: { view: YearView }): VNode {
  const { shortfalls, year } = view;
  return (
    <Part
      title="What falls short"
      wide
      columns={[{ name: "When" }, { name: "Missing", number: true }, {
        name: "What, and the first cause",
        prose: true,
      }]}
      rows={shortfalls.map((one) => [
        fromTo(one.fromDay, one.toDay),
        missing(one, year),
        <Told key={one.sentence} view={view} one={one} />,
      ])}
      none={nothing(year)}
    >
      {shortfalls.length > 0 && (
        <p>
          {view.explanation?.limit ? `${view.explanation.limit} ` : ""}
          <a href={`/seasons/${view.season.id}/remedies`}>What would help</a>
        </p>
      )}
    </Part>
  );
}

/** A shortfall in a sentence; below it what stood in its way, once other plans have been made to see it. */
function Told({ view, one }: { view: YearView; one: Shortfall }): VNode {
  const known = view.explanation?.shortfalls.find((each) => each.what === one.what);
  const chain = known === undefined || known.chain.length === 0
    ? ""
    : `${upperFirst(known.chain.join("; "))}. `;
  const words = known === undefined ? "" : chain + known.words;
  return (
    <>
      {one.sentence}
      {words !== "" && <span class="behind quiet">{` ${words}`}</span>}
    </>
  );
}

/** Why nothing is listed. */
function nothing({ planned, brews }: Year): string {
  if (!brews.some((one) => !one.tail)) return "Nothing: no brews are in the calendar.";
  return planned ? "Nothing: every brew is made, and home malt lasts." : "Not known before there is a plan.";
}

/** How much is missing, rounded as the sentence beside it rounds it. */
function missing({ kind, massG, brewIds, fromDay }: Shortfall, { units, tanks }: Year): string {
  if (kind === "no room") return tonnes(massG);
  if (kind === "tanks") {
    const clash = tanks.clashes.find(({ from }) => from === fromDay);
    return clash === undefined ? "" : countWords(clash.asked - clash.open, "tank");
  }
  if (massG === 0) return countWords(brewIds.length, "brew");
  const short = malt(massG, units, "short");
  return units === "us" ? `${short} (${formatMass(massG, "metric")})` : short;
}
