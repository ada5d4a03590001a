import type { VNode } from "preact";
import { formatDay } from "../../core/day-names.ts";
import { landUnit } from "../../core/explain/acre.ts";
import { type GrowOrBuy, growOrBuy, type Span } from "../../core/explain/grow-or-buy.ts";
import { type SeedNeed, seedNeeds } from "../../core/explain/seed-need.ts";
import type { Plan } from "../../core/plan/plan.ts";
import type { Season } from "../../core/season/season.ts";
import { GRAMS_PER_LB, TONNES_PER_SHORT_TON } from "../../core/units.ts";
import type { ExpectedAndCome } from "../../core/year/expected.ts";
import { countWords, listWords, tonneWords, upperFirst, weightWords } from "../../core/year/words.ts";
import { Cautions } from "./cautions.tsx";
import { Kept, Question } from "./question.tsx";
import { Table } from "./tables.tsx";

/** What the farm's own malt costs beside what it is offered at. */
export function BuyQuestion({ season, plan, query, grainCents }: {
  season: Season;
  plan: Plan;
  query: ReadonlyMap<string, string>;
  /** What growing a ton (of the reader's kind) costs, cents; null where it was not given, NaN where it cannot be read. */
  grainCents: number | null;
}): VNode {
  const us = season.readerUnits === "us";
  const given = grainCents === null || Number.isNaN(grainCents) ? null : grainCents;
  const rows = growOrBuy(season, plan, given === null ? null : given / (us ? TONNES_PER_SHORT_TON : 1));
  const unit = us ? "lb" : "kg";
  const figure = (span: Span) => spanWords(span, us);
  const answer = Number.isNaN(grainCents)
    ? "Give what growing costs as a number."
    : rows.length === 0
    ? "No run is planned, so there is nothing to hold against a price."
    : `${rows[0]!.name}: ${verdict(rows[0]!)}`;
  return (
    <Question id="buy" asks="Grow or buy?" answer={answer}>
      <form method="get" action="#buy" class="ask">
        <Kept query={query} but={(name) => name === "grain"} />
        <label>
          {`Growing a ${us ? "ton of 2,000 lb" : "tonne"} costs, ${season.currency}`}{" "}
          <input type="text" inputMode="decimal" size={7} name="grain" value={query.get("grain") ?? ""} />
        </label>
        <button type="submit">Reckon with it</button>
      </form>
      {rows.length > 0 && (
        <Table
          caption="Own malt beside its price"
          columns={[
            { name: "Malt" },
            { name: "Planned", number: true },
            { name: `Own, ${season.currency} a ${unit}`, number: true },
            { name: "of it grain", number: true },
            { name: `Offered, ${season.currency} a ${unit}`, number: true },
          ]}
          rows={rows.map((one) => [
            one.name,
            tonneWords(one.massG),
            figure(one.homeCentsPerKg),
            figure({ least: one.grainCentsPerKg, most: one.grainCentsPerKg }),
            one.boughtCentsPerKg === null ? "no offer" : figure(one.boughtCentsPerKg),
          ])}
        />
      )}
      <p class="quiet">
        {`Own: the run, each tonne steeped and the grain, from the cheapest planned run to the dearest. Grain stands at ${
          given === null
            ? "what feed pays after haulage, or at nothing where no pick-up takes it"
            : "what you give for growing it"
        }. Not in it: night turns, moves, storage, buildings and the maltster's wage unless the run's cost holds them. Offered: the pack's price, to that with the freight of a least order, on your malt's extract.`}
      </p>
    </Question>
  );
}

/** The range of one's own beside the range offered. */
function verdict({ homeCentsPerKg: home, boughtCentsPerKg: bought }: GrowOrBuy): string {
  if (bought === null) return "nobody offers it, so there is no price to hold it against.";
  if (home.most <= bought.least) return "your own is cheaper, whichever run.";
  if (home.least >= bought.most) return "bought is cheaper than any of your runs.";
  return "it depends on the run: the ranges overlap.";
}

function spanWords({ least, most }: Span, us: boolean): string {
  const figure = (centsPerKg: number) => (centsPerKg * (us ? GRAMS_PER_LB / 1000 : 1) / 100).toFixed(2);
  return figure(least) === figure(most) ? figure(least) : `${figure(least)} to ${figure(most)}`;
}

/** How much seed, and by when. */
export function SeedQuestion({ season, query, rates }: {
  season: Season;
  query: ReadonlyMap<string, string>;
  /** By crop, grams a square metre; NaN where it cannot be read. */
  rates: ReadonlyMap<string, number>;
}): VNode {
  const needs = seedNeeds(season);
  const { name, areaM2: unitM2 } = landUnit(season);
  const rateUnit = season.readerUnits === "us" ? "lb an acre" : "kg a hectare";
  const orders = needs.map((need) => ({ need, orderG: orderOf(need, rates.get(need.id)) }));
  const known = orders.filter(({ orderG }) => orderG !== null);
  const answer = needs.length === 0
    ? "Nothing is still to be drilled."
    : [...rates.values()].some(Number.isNaN)
    ? `Give each rate as a number of ${rateUnit}.`
    : known.length === 0
    ? `Give the seed rate of ${listWords(needs.map((one) => one.what))}: the season does not keep it.`
    : listWords(known.map(({ need, orderG }) => orderWords(season, need, orderG!)));
  return (
    <Question id="seed" asks="How much seed, from whom, by when?" answer={upperFirst(answer)} wide>
      {needs.length > 0 && (
        <form method="get" action="#seed">
          <Kept query={query} but={(one) => one.startsWith("rate-")} />
          <Table
            caption="Seed for what is still to be drilled"
            columns={[
              { name: "Seed", prose: true },
              { name: `${name === "acre" ? "Acres" : "Hectares"}`, number: true },
              { name: "Drilled from" },
              { name: `Rate, ${rateUnit}` },
              { name: "Needs", number: true },
              { name: "Held back", prose: true },
              { name: "To order", number: true },
            ]}
            rows={orders.map(({ need, orderG }) => [
              need.what,
              (need.areaM2 / unitM2).toFixed(1),
              formatDay(need.firstOn, "en-US", "short"),
              <input
                key={need.id}
                type="text"
                inputMode="decimal"
                autocomplete="off"
                size={5}
                name={`rate-${need.id}`}
                value={query.get(`rate-${need.id}`) ?? ""}
                aria-label={`Seed rate of ${need.what}, ${rateUnit}`}
              />,
              orderG === null ? "" : weightWords(need.areaM2 * rates.get(need.id)!, season.readerUnits),
              need.heldG === 0
                ? "none"
                : `${weightWords(need.heldG, season.readerUnits)} of ${listWords(need.heldFrom)}`,
              orderG === null ? "" : weightWords(orderG, season.readerUnits),
            ])}
          />
          <button type="submit">Work out the order</button>
        </form>
      )}
      <p class="quiet">
        Own seed is what is held back and still to be taken. From whom, in what bags and at what price the
        season does not keep. Whether you may save seed of a variety is between you and its owner.
      </p>
      {needs.length > 0 && <Cautions title="Where seed is handled" kinds={["seed"]} />}
    </Question>
  );
}

function orderOf({ areaM2, heldG }: SeedNeed, gPerM2: number | undefined): number | null {
  return gPerM2 === undefined || Number.isNaN(gPerM2) ? null : Math.max(0, areaM2 * gPerM2 - heldG);
}

function orderWords(season: Season, { what, firstOn, heldG }: SeedNeed, orderG: number): string {
  const by = formatDay(firstOn, "en-US", "short");
  if (orderG >= 1000) return `${what}: ${weightWords(orderG, season.readerUnits)} before ${by}`;
  return `${what}: ${heldG > 0 ? "enough is held back" : "none"}`;
}

/** What was forecast, and what came. */
export function ForecastQuestion({ season, rows }: {
  season: Season;
  rows: readonly ExpectedAndCome[];
}): VNode {
  const harvests = rows.filter(({ kind }) => kind === "harvest").flatMap(({ id, thing, values }) => {
    const cut = values.find(({ what }) => what === "cut");
    const planting = season.plantings.find((one) => one.id === id);
    return cut === undefined || planting === undefined ? [] : [{ thing, cut, year: planting.harvestYear }];
  });
  const newest = Math.max(...harvests.map(({ year }) => year));
  const last = harvests.filter(({ year }) => year === newest);
  const sum = (of: "expected" | "came") => last.reduce((all, { cut }) => all + cut[of], 0);
  const runs = rows.filter(({ kind }) => kind === "run").flatMap(({ values }) =>
    values.filter(({ kind }) => kind === "weight")
  );
  const runSum = (of: "expected" | "came") => runs.reduce((all, one) => all + one[of], 0);
  const answer = [
    last.length === 0
      ? ""
      : `Harvest ${newest}: ${tonneWords(sum("expected"))} forecast, ${tonneWords(sum("came"))} came, ${
        errorWords(sum("expected"), sum("came"))
      }`,
    runs.length === 0
      ? ""
      : `malt of ${countWords(runs.length, "run")} on record: ${
        errorWords(runSum("expected"), runSum("came"))
      }`,
  ].filter((one) => one !== "").join("; ");
  return (
    <Question
      id="forecast"
      asks="What did we forecast last winter, and what came?"
      answer={answer === "" ? "Nothing that was forecast has come yet." : answer}
    >
      {last.length > 0 && (
        <Table
          caption={`The harvest of ${newest}, as cut`}
          columns={[{ name: "Lot", prose: true }, { name: "Forecast", number: true }, {
            name: "Came",
            number: true,
          }, { name: "Off by", number: true }]}
          rows={last.map(({ thing, cut }) => [
            thing,
            tonneWords(cut.expected),
            tonneWords(cut.came),
            errorWords(cut.expected, cut.came),
          ])}
        />
      )}
      {last.length > 0 && (
        <p class="quiet">
          The forecast is each planting's likely yield as it stands in the season; once corrected it is the
          corrected one.
        </p>
      )}
      <p class="to">
        <a href={`/seasons/${season.id}/expected`}>What was expected, and what came</a>{" "}
        has runs, orders, brews and waking days too.
      </p>
    </Question>
  );
}

/** "+5 %", of the forecast. */
function errorWords(expected: number, came: number): string {
  if (expected === 0) return "not forecast";
  const percent = Math.round(100 * (came - expected) / expected);
  return percent === 0 ? "as forecast" : `${percent > 0 ? "+" : "−"}${Math.abs(percent)} %`;
}
