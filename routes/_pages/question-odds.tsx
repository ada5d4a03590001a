import type { VNode } from "preact";
import { formatDay } from "../../core/day-names.ts";
import { maltingHarvests } from "../../core/explain/harvest-years.ts";
import type { Explanation } from "../../core/explain/explanation.ts";
import { monthOfDay, monthsBetween, oddsWords } from "../../core/explain/year-words.ts";
import type { Season } from "../../core/season/season.ts";
import { upperFirst } from "../../core/year/words.ts";
import { YearDots } from "../../islands/_charts/YearDots.tsx";
import { Question } from "./question.tsx";
import { Table } from "./tables.tsx";

interface Asked {
  season: Season;
  explanation: Explanation | null;
  isBusy: boolean;
  /** What is said until it is known. */
  waiting: string;
}

/** Why there is no answer. */
function nothingWords(season: Season): string {
  return maltingHarvests(season).length === 0
    ? "No malting harvest is to come inside the days shown."
    : "No such year could be planned.";
}

/** Whether the working out has gone past a step without finding anything to tell. */
function isOver({ explanation, isBusy }: Asked): boolean {
  return explanation !== null && explanation.limit !== "" && !isBusy;
}

/** What the planting carries in a bad, likely and good year. */
export function YearsQuestion(asked: Asked): VNode {
  const years = asked.explanation?.years ?? [];
  const bad = years.find((one) => one.kind === "bad");
  const good = years.find((one) => one.kind === "good");
  const noRoom = good === undefined || good.noRoom === ""
    ? ""
    : `; in the good one there is no room for ${good.noRoom}`;
  const lastDay = formatDay(asked.season.horizonEnd, "en-US", "short");
  const all = years.map((one) => `${one.kind} ${one.pints}`).join(", ");
  const runsOut = bad === undefined
    ? ""
    : bad.firstShortDay !== null
    ? `; the bad one goes short in ${monthOfDay(bad.firstShortDay)}`
    : bad.lastsTo === ""
    ? ""
    : `; the bad one runs out in about ${bad.lastsTo}`;
  const answer = years.length === 0
    ? isOver(asked) ? nothingWords(asked.season) : asked.waiting
    : `${upperFirst(all)}${years.length < 3 && !isOver(asked) ? " …" : runsOut + noRoom}`;
  return (
    <Question
      id="years"
      asks="How many pints can this planting carry in a bad, likely, good year?"
      answer={answer}
    >
      {years.length > 0 && (
        <>
          <Table
            caption="By kind of year"
            columns={[
              { name: "Year" },
              { name: "Cut", number: true },
              { name: "No room for", number: true },
              { name: "Pints", number: true },
              { name: `to ${lastDay}`, number: true },
              { name: "Runs out, about" },
              { name: "Brews shown", prose: true },
            ]}
            rows={years.map((
              one,
            ) => [one.kind, one.cut, one.noRoom, one.pints, one.shown, one.lastsTo, one.short])}
          />
          <p class="quiet">
            From the day its first grain may be awake, the year planned anew with all fields bad, or good,
            together. A brew counts by its share of home-grown grain, after the beer's losses; grain and malt
            of earlier harvests are in it. What is left at the end of the days shown is reckoned on, until the
            grain of which most is malted runs out, were all brews made that are asked for and did malthouse
            and stores keep up; three years at most.
          </p>
        </>
      )}
    </Question>
  );
}

/** In how many years of twenty brews go short, and when. */
export function OddsQuestion(asked: Asked): VNode {
  const odds = asked.explanation?.odds ?? null;
  const answer = odds !== null ? oddsWords(odds) : isOver(asked) ? nothingWords(asked.season) : asked.waiting;
  return (
    <Question id="odds" asks="In how many years of 20 do we fall short, and when?" answer={answer}>
      {odds !== null && (
        <>
          <YearDots months={monthsBetween(odds.fromDay, odds.toDay)} firstShortDays={odds.firstShortDays} />
          <p class="quiet">
            A dot is a year, in the month of the first brew that is not made or misses its home share, from
            the day new grain may be awake. Each of the twenty years is as likely as any other. Yields, days
            of harvest and of waking are drawn from what you call bad and good, early and late; one yield in
            ten is worse than bad and one better than good, and fields share seven tenths of their weather
            (common practice, no source). Each year is planned as if its harvest were known from today, so a
            real year does a little worse: what one lot lacks another gives first, then malt is bought, then
            the beer is dropped. Tests that fail, malt that is dumped and what people drink are not drawn.
          </p>
        </>
      )}
    </Question>
  );
}
