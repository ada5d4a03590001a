import type { VNode } from "preact";
import { dayNumber } from "../../core/calendar.ts";
import { type Addition, additionsOf, paybackWords } from "../../core/explain/payback.ts";
import type { Explanation } from "../../core/explain/explanation.ts";
import { limitMonths, twelveMonths } from "../../core/explain/limit-months.ts";
import { limitLabel } from "../../core/explain/words.ts";
import type { Season } from "../../core/season/season.ts";
import { listWords, upperFirst } from "../../core/year/words.ts";
import { LimitMonths, limitMonthsWords } from "../../islands/_charts/LimitMonths.tsx";
import { money } from "../../islands/_charts/words.ts";
import { Kept, Question } from "./question.tsx";
import { Table } from "./tables.tsx";

/** What is said where an explanation has not come so far: that it will, or why it will not. */
export function waitingWords({ isBusy, planning, hasRuns }: {
  isBusy: boolean;
  planning: boolean;
  hasRuns: boolean;
}): string {
  if (planning) return "The year is being planned; this is worked out after that.";
  if (isBusy) return "Being worked out: the year is planned anew for each answer, which takes minutes.";
  return hasRuns ? "Not worked out." : "Nothing to tell: the plan has no runs.";
}

/** What limits us: one word, and the months in which which limit is felt. */
export function LimitQuestion({ explanation, asOf, waiting }: {
  explanation: Explanation | null;
  asOf: string;
  /** What is said until it is known. */
  waiting: string;
}): VNode {
  const known = explanation !== null && explanation.limit !== "";
  const answer = !known
    ? waiting
    : explanation.limits.length === 0
    ? "Nothing"
    : upperFirst(listWords(explanation.limits.map(limitLabel)));
  const months = twelveMonths(dayNumber(asOf.slice(0, 10)));
  const rows = known ? limitMonths(explanation.shortfalls, months) : [];
  return (
    <Question id="limits" asks="What limits us?" answer={answer}>
      {known && (
        <>
          <p>{explanation.limit}</p>
          {rows.length > 0 && <LimitMonths rows={rows} months={months} />}
          <p class="quiet">
            {rows.length === 0
              ? limitMonthsWords(rows, months)
              : "A bar: in that month something falls short that would not, were this limit away. Each was taken away by itself and the year planned anew."}
          </p>
        </>
      )}
    </Question>
  );
}

/** What to add: ranked, with what it brings in brews and money, and in how many years a price that is given comes back. */
export function AddQuestion({ season, asOf, explanation, query, prices, isBusy, waiting }: {
  season: Season;
  asOf: string;
  explanation: Explanation | null;
  query: ReadonlyMap<string, string>;
  /** Prices given, cents by remedy. */
  prices: ReadonlyMap<string, number>;
  isBusy: boolean;
  waiting: string;
}): VNode {
  const all = additionsOf(season, asOf, explanation?.remedies ?? [], prices);
  const useful = all.filter(({ remedy }) => !remedy.isNoise && remedy.brews >= 0);
  const nothing = all.filter(({ remedy }) => remedy.isNoise).map(({ remedy }) => remedy.words);
  const cautions = [...new Set(useful.flatMap(({ remedy }) => remedy.cautions))];
  const best = useful[0];
  const answer = best !== undefined
    ? `${best.remedy.words}: ${best.remedy.effect}`
    : explanation === null || explanation.limit === "" || (isBusy && all.length === 0)
    ? waiting
    : "None of them would bring anything measurable.";
  return (
    <Question
      id="add"
      asks="Should I add a bed, a bin, a tank, or work Sundays?"
      answer={answer}
      wide
    >
      {useful.length > 0 && (
        <form method="get" action="#add">
          <Kept query={query} but={(name) => name.startsWith("price-")} />
          <Table
            caption="What could be added, the best first"
            columns={[
              { name: "What", prose: true },
              { name: "Brings", prose: true },
              { name: "Brews", number: true },
              { name: `Money a year, ${season.currency}`, number: true },
              { name: `Its price, ${season.currency}` },
              { name: "Pays back in" },
            ]}
            rows={useful.map((one) => cells(season, one, query))}
          />
          <button type="submit">Work out the payback</button>
          <p class="quiet">
            Money is what the plan costs less with it: malt not bought, fewer days below the reserve. What
            more beer would sell for is not counted, nor is what the thing costs to keep. The prices stand in
            this page's address and nowhere else.
          </p>
        </form>
      )}
      {cautions.length > 0 && (
        <aside class="cautions" aria-label="Work that can hurt">
          <h3>Work that can hurt</h3>
          <ul>{cautions.map((one) => <li key={one}>{one}</li>)}</ul>
        </aside>
      )}
      {nothing.length > 0 && (
        <p>
          <b>No measurable gain:</b> {`${nothing.join("; ")}.`}
        </p>
      )}
    </Question>
  );
}

function cells(
  season: Season,
  { remedy, yearlyCents, priceCents, paybackYears }: Addition,
  query: ReadonlyMap<string, string>,
) {
  const name = `price-${remedy.id}`;
  const given = query.get(name) ?? "";
  return [
    remedy.words,
    remedy.effect,
    String(remedy.brews),
    yearlyCents < 100 ? "" : money(yearlyCents, season.currency),
    remedy.costCents === null
      ? (
        <input
          key={name}
          type="text"
          inputMode="decimal"
          autocomplete="off"
          size={9}
          name={name}
          value={given}
          aria-label={`Price of: ${remedy.words}, ${season.currency}`}
        />
      )
      : remedy.cost,
    given !== "" && priceCents === null ? "that is no price" : paybackWords(paybackYears),
  ];
}

/** What one more acre is worth, planting by planting. */
export function AcreQuestion({ explanation, isBusy, unit, waiting }: {
  explanation: Explanation | null;
  isBusy: boolean;
  waiting: string;
  unit: "acre" | "hectare";
}): VNode {
  const acres = explanation?.acres ?? [];
  const nothingAhead = explanation !== null && explanation.limit !== "" && !isBusy && acres.length === 0;
  const answers = new Set(acres.map((one) => one.words));
  const answer = acres.length === 0
    ? nothingAhead
      ? "No planting is still to be drilled, or nothing falls short that land could mend."
      : waiting
    : answers.size === 1
    ? upperFirst([...answers][0]!)
    : acres.map((one) => `${one.what}: ${one.words}`).join("; ");
  return (
    <Question id="acre" asks={`What is one more ${unit} of this crop worth?`} answer={answer}>
      {acres.length > 0 && (
        <>
          <Table
            caption={`What one more ${unit} is worth`}
            columns={[{ name: "Of", prose: true }, { name: "In beer and malt", prose: true }, {
              name: "Sold as feed",
              prose: true,
            }]}
            rows={acres.map((one) => [one.what, upperFirst(one.words), one.feed])}
          />
          <p class="quiet">
            In beer and malt: the year planned anew with it. Sold as feed: a bad to a good year's grain at the
            best price that a pick-up names, before haulage and the cost of growing it.
          </p>
        </>
      )}
    </Question>
  );
}

/** What happens if the best field fails the laboratory, and the next ones. */
export function FailQuestion({ season, explanation, isBusy, waiting }: {
  season: Season;
  explanation: Explanation | null;
  isBusy: boolean;
  waiting: string;
}): VNode {
  const failing = explanation?.failing ?? [];
  const [best] = failing;
  const answer = best !== undefined
    ? upperFirst([best.words, best.beers, best.money].filter((one) => one !== "").join("; "))
    : explanation !== null && explanation.limit !== "" && !isBusy
    ? "No malting grain is still to be cut."
    : waiting;
  return (
    <Question id="fails" asks="What happens if the best field fails the laboratory?" answer={answer} wide>
      {failing.length > 0 && (
        <>
          <Table
            caption="What is lost when a lot still to be cut goes as feed"
            columns={[{ name: "Lot that fails", prose: true }, { name: "In the days shown", prose: true }, {
              name: "Money",
            }, { name: "Try it" }]}
            rows={failing.map(({ lotId, letter, what, words, beers, money }) => [
              what,
              upperFirst(beers === "" ? words : `${words} (${beers})`),
              money,
              <a
                key={lotId}
                href={`/seasons/${season.id}/farm/form?at=${encodeURIComponent(`/lots/=${lotId}`)}`}
              >
                {`Use of lot ${letter}`}
              </a>,
            ])}
          />
          <p class="quiet">
            The largest lot to come first. Each would go as feed, and the year was planned anew without it. To
            see it on the section, set the lot's use to feed: chain lines mark where runs and brews lay
            before, and Undo takes it back.
          </p>
        </>
      )}
    </Question>
  );
}
