import type { VNode } from "preact";
import { isoDate } from "../../core/calendar.ts";
import { formatDay } from "../../core/day-names.ts";
import type { Season } from "../../core/season/season.ts";
import type { Compared, ExpectedAndCome } from "../../core/year/expected.ts";
import { weightWords } from "../../core/year/words.ts";

const TITLES: Readonly<Record<ExpectedAndCome["kind"], string>> = {
  harvest: "Harvests",
  waking: "Waking of lots",
  run: "Malting runs",
  order: "Orders",
  brew: "Brews",
};

/** Forecasts beside the facts that replaced them. */
export function Expected({ season, rows }: { season: Season; rows: readonly ExpectedAndCome[] }): VNode {
  const kinds = Object.keys(TITLES) as ExpectedAndCome["kind"][];
  return (
    <article class="history">
      <h1>What was expected, and what came</h1>
      <p class="quiet">
        A forecast is not rubbed out by what happened: it stays, so that the next one can be better.
      </p>
      {rows.length === 0 && <p>Nothing that was expected has come yet.</p>}
      {kinds.map((kind) => {
        const of = rows.filter((one) => one.kind === kind);
        return of.length > 0 && <Part key={kind} title={TITLES[kind]} rows={of} season={season} />;
      })}
      <p>
        <a href={`/seasons/${season.id}/history`}>The whole history</a>
      </p>
    </article>
  );
}

interface PartProps {
  readonly title: string;
  readonly rows: readonly ExpectedAndCome[];
  readonly season: Season;
}

function Part({ title, rows, season }: PartProps): VNode {
  return (
    <section>
      <h2>{title}</h2>
      <div class="wide" role="region" aria-label={title} tabIndex={0}>
        <table>
          <thead>
            <tr>
              <th scope="col">What</th>
              <th scope="col" />
              <th scope="col" class="number">Expected</th>
              <th scope="col" class="number">Came</th>
              <th scope="col" class="number">Difference</th>
            </tr>
          </thead>
          <tbody>
            {rows.flatMap(({ id, thing, values }) =>
              values.map((one, index) => (
                <tr key={`${id} ${one.what}`}>
                  <th scope="row">{index === 0 ? thing : ""}</th>
                  <td>{one.what}</td>
                  <td class="number">{valueWords(season, one, one.expected)}</td>
                  <td class="number">{valueWords(season, one, one.came)}</td>
                  <td class="number">{difference(one)}</td>
                </tr>
              ))
            )}
          </tbody>
        </table>
      </div>
    </section>
  );
}

function valueWords({ readerUnits }: Season, { kind }: Compared, value: number): string {
  return kind === "day" ? formatDay(isoDate(value), "en-US", "withYear") : weightWords(value, readerUnits);
}

function difference({ kind, expected, came }: Compared): string {
  const by = came - expected;
  if (by === 0) return "as expected";
  if (kind === "day") {
    const days = Math.abs(by) === 1 ? "1 day" : `${Math.abs(by)} days`;
    return `${days} ${by > 0 ? "later" : "earlier"}`;
  }
  if (expected === 0) return "";
  const share = 100 * by / expected;
  if (Math.abs(share) < 0.05) return "as expected";
  return `${share > 0 ? "+" : "−"}${Math.abs(share).toFixed(1)} %`;
}
