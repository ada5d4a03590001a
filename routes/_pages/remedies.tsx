import type { VNode } from "preact";
import type { ExplainedRemedy, ExplainedShortfall, Explanation } from "../../core/explain/explanation.ts";
import type { Plan } from "../../core/plan/plan.ts";
import type { Season } from "../../core/season/season.ts";
import { upperFirst } from "../../core/year/words.ts";
import type { Explained } from "../_explained.ts";
import { Reserves, Slack } from "./run-slack.tsx";
import { RunWorthPart } from "./run-worth.tsx";
import { Part } from "./tables.tsx";

/** What limits the year, what would help and how far the runs may slip, as far as it has been worked out. */
export function RemediesPage({ season, plan, known, planning }: {
  season: Season;
  plan: Plan | null;
  known: Explained;
  planning: boolean;
}): VNode {
  const { explanation } = known;
  return (
    <article class="remedies">
      <h1 class="sentence">{head(known, planning)}</h1>
      <p role="status" class="quiet">{progress(season, known, planning)}</p>
      {explanation !== null && explanation.breaksFirst !== "" && <p>{explanation.breaksFirst}</p>}
      {explanation !== null && explanation.limit !== "" && (
        <div class="parts">
          <Remedies season={season} explanation={explanation} isBusy={known.isBusy} />
          <Causes shortfalls={explanation.shortfalls} />
          <RunWorthPart weeks={explanation.weeks} isBusy={known.isBusy} />
          <Slack season={season} plan={plan} explanation={explanation} />
          <Reserves explanation={explanation} />
        </div>
      )}
    </article>
  );
}

function head({ explanation, isBusy, failure }: Explained, planning: boolean): string {
  if (explanation !== null && explanation.limit !== "") return explanation.limit;
  if (planning) return "The year is being planned; what limits it is known after that.";
  return isBusy || failure !== null
    ? "What limits the year is being worked out."
    : "What limits the year is not known.";
}

function progress(season: Season, { explanation, isBusy, failure }: Explained, planning: boolean): string {
  if (failure !== null) {
    return `It broke off: ${failure} Plan again on the page of the year; if it happens again, report this.`;
  }
  if (planning || (explanation === null && !isBusy)) {
    return planning
      ? "There is nothing to explain yet."
      : "There is nothing to explain: the plan has no runs, or is not of the season as it is.";
  }
  if (!isBusy || explanation === null || explanation.doing === "") {
    return isBusy ? "Working." : "All of it is worked out. Each gain is that of a whole plan made anew.";
  }
  const part = explanation.of > 0 ? ` (${explanation.done} of at most ${explanation.of})` : "";
  return `Being worked out${part}: ${explanation.doing}. Each is a whole plan made anew; ${season.name} stays as it is.`;
}

function Remedies({ season, explanation, isBusy }: {
  season: Season;
  explanation: Explanation;
  isBusy: boolean;
}): VNode {
  const { remedies } = explanation;
  const nothing = remedies.filter((one) => one.isNoise).map((one) => one.words);
  const cautions = [...new Set(remedies.filter((one) => !one.isNoise).flatMap((one) => one.cautions))];
  return (
    <Part
      title="What would help"
      wide
      about="The best first: brews, then home-share promises, then money before the cost of the remedy. Each was put in place and the year planned anew with a short search, the best three in full; what cannot be told from the search's own noise is said to bring no measurable gain."
      columns={[
        { name: "What", prose: true },
        { name: "Gain", prose: true },
        { name: `Money, ${season.currency}`, prose: true },
        { name: "Its own cost", prose: true },
        { name: "How firm", prose: true },
      ]}
      rows={remedies.filter((one) => !one.isNoise).map((one) => row(one))}
      none={isBusy
        ? "Being worked out."
        : remedies.length === 0
        ? "Nothing falls short, so nothing is offered."
        : "Nothing of what was tried would help."}
    >
      {nothing.length > 0 && (
        <p>
          <b>No measurable gain:</b> {`${nothing.join("; ")}.`}
        </p>
      )}
      {cautions.length > 0 && (
        <aside class="cautions" aria-label="Work that can hurt">
          <h3>Work that can hurt</h3>
          <ul>{cautions.map((one) => <li key={one}>{one}</li>)}</ul>
        </aside>
      )}
    </Part>
  );
}

function row({ id, words, effect, beers, money, cost, rank, next, isFirm }: ExplainedRemedy): VNode[] {
  const firm = [isFirm ? "planned in full" : "", rank, next].filter((one) => one !== "").join("; ");
  return [words, beers === "" ? effect : `${effect} (${beers})`, money, cost, firm]
    .map((text, at) => <span key={`${id} ${at}`}>{text}</span>);
}

function Causes({ shortfalls }: { shortfalls: readonly ExplainedShortfall[] }): VNode {
  return (
    <Part
      title="What stands behind each shortfall"
      wide
      columns={[{ name: "What falls short", prose: true }, { name: "What stood in the way", prose: true }, {
        name: "What would end it",
        prose: true,
      }]}
      rows={shortfalls.map(({ what, chain, words }) => [what, upperFirst(chain.join("; ")), words])}
      none="Nothing falls short."
    />
  );
}
