import type { VNode } from "preact";
import { landUnit } from "../../core/explain/acre.ts";
import type { Plan } from "../../core/plan/plan.ts";
import type { Season } from "../../core/season/season.ts";
import type { ExpectedAndCome } from "../../core/year/expected.ts";
import type { Year } from "../../core/year/year.ts";
import type { Explained } from "../_explained.ts";
import type { Asked } from "./question.tsx";
import { CashQuestion } from "./question-cash.tsx";
import { FieldsQuestion } from "./question-fields.tsx";
import { BuyQuestion, ForecastQuestion, SeedQuestion } from "./question-land.tsx";
import { AcreQuestion, AddQuestion, FailQuestion, LimitQuestion, waitingWords } from "./question-limits.tsx";
import { OddsQuestion, YearsQuestion } from "./question-odds.tsx";
import { AccountQuestion, FeedQuestion, PintQuestion, ShareQuestion } from "./question-year.tsx";

/** What the page of questions is made from. */
export interface QuestionsProps {
  readonly season: Season;
  readonly plan: Plan | null;
  readonly year: Year;
  readonly known: Explained;
  readonly planning: boolean;
  /** What was typed, by name. */
  readonly query: ReadonlyMap<string, string>;
  readonly prices: ReadonlyMap<string, number>;
  readonly share: number | null;
  /** What growing a ton costs, cents; null where it was not given, NaN where it cannot be read. */
  readonly grainCents: number | null;
  /** Seed rates by crop, grams a square metre; NaN where one cannot be read. */
  readonly rates: ReadonlyMap<string, number>;
  /** Forecasts beside what came. */
  readonly expected: readonly ExpectedAndCome[];
  readonly asked: Asked;
  readonly fieldsAsked: Asked;
}

/** What an owner asks in winter, each with its answer. What the plan cannot tell is not asked here. */
export function QuestionsPage(props: QuestionsProps): VNode {
  const { season, plan, year, known, query, prices, share, asked } = props;
  const { explanation, isBusy } = known;
  const unit = landUnit(season).name;
  const waiting = waitingWords({ isBusy, planning: props.planning, hasRuns: (plan?.runs.length ?? 0) > 0 });
  const explained = { season, explanation, isBusy, waiting };
  return (
    <article class="questions">
      <h1 class="sentence">What owners ask in winter</h1>
      <p class="quiet">
        Answered from the plan as it stands, or by planning the year anew.
      </p>
      {known.failure !== null && <p role="alert">{`The working out broke off: ${known.failure}`}</p>}
      {plan === null ? <p>There is no plan yet, so nothing can be answered.</p> : (
        <div class="parts">
          <YearsQuestion {...explained} />
          <OddsQuestion {...explained} />
          <LimitQuestion explanation={explanation} asOf={plan.asOf} waiting={waiting} />
          <PintQuestion season={season} year={year} />
          <AddQuestion {...explained} asOf={plan.asOf} query={query} prices={prices} />
          <AcreQuestion explanation={explanation} isBusy={isBusy} unit={unit} waiting={waiting} />
          <FieldsQuestion season={season} query={query} asked={props.fieldsAsked} />
          <AccountQuestion season={season} query={query} asked={asked} />
          <BuyQuestion season={season} plan={plan} query={query} grainCents={props.grainCents} />
          <SeedQuestion season={season} query={query} rates={props.rates} />
          <FailQuestion {...explained} />
          <CashQuestion season={season} plan={plan} />
          <ShareQuestion year={year} query={query} share={share} />
          <FeedQuestion season={season} year={year} plan={plan} />
          <ForecastQuestion season={season} rows={props.expected} />
        </div>
      )}
      <p class="to">
        <a href={`/seasons/${season.id}/remedies`}>What would help</a>{" "}
        has every remedy, what stands behind each shortfall, and how far each run may slip.
      </p>
    </article>
  );
}
