import type { VNode } from "preact";
import { dayNumber, isoDate, yearOf } from "../../core/calendar.ts";
import { formatDay } from "../../core/day-names.ts";
import { MOST_PER_MONTH } from "../../core/explain/new-account.ts";
import type { Plan } from "../../core/plan/plan.ts";
import type { Season } from "../../core/season/season.ts";
import { firstPint, newestHarvest } from "../../core/year/first-pint.ts";
import { percentWords } from "../../core/year/sentence.ts";
import { beerShares, shareYears } from "../../core/year/shares.ts";
import { dayWords, listWords } from "../../core/year/words.ts";
import type { Year } from "../../core/year/year.ts";
import { money } from "../../islands/_charts/words.ts";
import { Cautions } from "./cautions.tsx";
import { LEAVE_COLUMNS, leaves } from "./loads.tsx";
import { type Asked, Kept, Question } from "./question.tsx";
import { Table } from "./tables.tsx";

/** May I promise so many brews a month more? */
export function AccountQuestion({ season, query, asked }: {
  season: Season;
  query: ReadonlyMap<string, string>;
  asked: Asked;
}): VNode {
  const mine = ["beer", "brews", "from"];
  const first = query.get("from") ?? season.asOf.slice(0, 7);
  const answer = season.beers.length === 0
    ? "Not before the farm has a beer."
    : asked === "nothing"
    ? "Say which beer, how many brews a month and from when."
    : asked === "unreadable"
    ? `Give a whole number of brews, 1 to ${MOST_PER_MONTH}, and a month inside the days shown.`
    : asked === "waiting"
    ? "The year is being planned with these brews; that takes a moment."
    : asked.kind === "broke"
    ? `It broke off: ${asked.message}`
    : asked.words;
  return (
    <Question id="account" asks="May I promise a new account two brews a month?" answer={answer}>
      {season.beers.length > 0 && (
        <form method="get" action="#account" class="ask">
          <Kept query={query} but={(name) => mine.includes(name)} />
          <label>
            Beer{" "}
            <select name="beer">
              {season.beers.map((beer) => (
                <option key={beer.id} value={beer.id} selected={query.get("beer") === beer.id}>
                  {beer.name}
                </option>
              ))}
            </select>
          </label>
          <label>
            Brews a month{" "}
            <input type="text" inputMode="numeric" size={3} name="brews" value={query.get("brews") ?? "2"} />
          </label>
          <label>
            From the month <input type="month" name="from" value={first} />
          </label>
          <button type="submit">Try it</button>
        </form>
      )}
      <p class="quiet">
        They are put into the calendar as promised brews, spread over twelve months as far as the days shown
        go, and the year is planned anew. The season stays as it is.
      </p>
    </Question>
  );
}

/** What can be sold as feed, and when. */
export function FeedQuestion(
  { season, year, plan }: { season: Season; year: Year; plan: Plan | null },
): VNode {
  const loads = leaves({ season, year, plan }).filter(({ event }) => event.kind === "feed");
  const planned = (plan?.feedLoads ?? []).filter((load) => load.standing !== "under way");
  const cents = planned.reduce((sum, load) => sum + load.revenueCents, 0);
  const answer = plan === null
    ? "Not known before there is a plan."
    : loads.length === 0
    ? "Nothing is planned to go as feed."
    : `${listWords([...new Set(loads.map(({ event }) => dayWords(event.day)))])}: ${
      money(cents, season.currency)
    } after haulage`;
  const columns = [1, 2, 3, 4, 5, 7, 8].map((at) => LEAVE_COLUMNS[at]!);
  return (
    <Question id="feed" asks="What can I sell as feed, and when?" answer={answer} wide>
      {loads.length > 0 && (
        <Table
          caption="Feed loads"
          columns={columns}
          rows={loads.map(({ cells }) => [1, 2, 3, 4, 5, 7, 8].map((at) => cells[at]))}
        />
      )}
      <Cautions title="Where feed is loaded" kinds={[...new Set(loads.map(({ hazard }) => hazard))]} />
    </Question>
  );
}

/** Whether each beer meets a share of home-grown grain. */
export function ShareQuestion({ year, query, share }: {
  year: Year;
  query: ReadonlyMap<string, string>;
  /** 0 to 1; null where none was given, NaN where it cannot be read. */
  share: number | null;
}): VNode {
  const calendarYear = shareYears(year)[0];
  const asked = share === null || Number.isNaN(share) ? null : share;
  const rows = calendarYear === undefined ? [] : beerShares(year, calendarYear, asked);
  const worst = rows[0];
  const failing = rows.filter((one) => one.failsOn !== null);
  const answer = Number.isNaN(share)
    ? "Give the share in per cent, 0 to 100."
    : worst === undefined
    ? "No brews are made in the days shown."
    : asked === null
    ? `The lowest is ${worst.name}: ${
      percentWords(worst.share)
    } % in ${calendarYear}. Say which share your licence asks for.`
    : failing.length === 0
    ? `Yes: the lowest, ${worst.name}, has ${percentWords(worst.share)} % in ${calendarYear}.`
    : `No: ${failing.map((one) => `${one.name} from ${dayWords(one.failsOn!)}`).join(", ")}.`;
  return (
    <Question id="share" asks="Do I meet the licence share?" answer={answer}>
      <form method="get" action="#share" class="ask">
        <Kept query={query} but={(name) => name === "share"} />
        <label>
          Share asked for, %{" "}
          <input type="text" inputMode="decimal" size={5} name="share" value={query.get("share") ?? ""} />
        </label>
        <button type="submit">Hold it against the year</button>
      </form>
      {rows.length > 0 && (
        <Table
          caption={`Home-grown share by beer in ${calendarYear}`}
          columns={[{ name: "Beer" }, { name: "Brews", number: true }, {
            name: "Home-grown, %",
            number: true,
          }, {
            name: asked === null ? "" : "Below it from",
          }]}
          rows={rows.map((one) => [
            one.name,
            String(one.brews),
            percentWords(one.share),
            one.failsOn === null ? "" : dayWords(one.failsOn),
          ])}
        />
      )}
      <p class="quiet">
        Own-farm grain by weight of malt and grain, over the beer's brews of the calendar year as far as it is
        shown, water and hops left out. Bought malt from the same state is not counted. Rules differ: check
        with your authority.
      </p>
    </Question>
  );
}

/** When the first pint of this year's grain is. */
export function PintQuestion({ season, year }: { season: Season; year: Year }): VNode {
  const harvest = newestHarvest(season);
  const pint = firstPint(season, year);
  const day = (one: number) =>
    formatDay(
      isoDate(one),
      "en-US",
      yearOf(one) === yearOf(dayNumber(season.asOf.slice(0, 10))) ? "short" : "withYear",
    );
  const answer = !year.planned
    ? "Not known before there is a plan."
    : pint === null
    ? harvest === null
      ? "Nothing is sown."
      : `Not inside the days shown: no brew with grain of ${harvest} is out of its tank by then.`
    : `${day(pint.day)}, ${pint.brew.beerName}${
      pint.early === pint.late ? "" : `; ${day(pint.early)} to ${day(pint.late)}`
    }`;
  return (
    <Question id="pint" asks="When is the first pint of this year's grain?" answer={answer}>
      {pint !== null && (
        <>
          <p>{pint.chain}</p>
          <p class="quiet">
            Out of the tank as planned, on the late waking of the lot. The span goes by an early and a late
            harvest and rest of its lot, if malthouse and calendar keep pace.
          </p>
        </>
      )}
    </Question>
  );
}
