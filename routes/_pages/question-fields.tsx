import type { VNode } from "preact";
import { openFields, plannedGiving, waysFrom } from "../../core/explain/field-crops.ts";
import { plantingName } from "../../core/explain/field-words.ts";
import { numberText } from "../../core/form/number-text.ts";
import { type ReaderUnit, readerUnit } from "../../core/form/reader-unit.ts";
import type { Planting } from "../../core/season/land.ts";
import type { Season } from "../../core/season/season.ts";
import { upperFirst } from "../../core/year/words.ts";
import { type Asked, Kept, Question } from "./question.tsx";
import { Table } from "./tables.tsx";

/** Name in the address by which the answer is asked for. */
export const FIELDS_ASKED = "fields";

/** Greatest yield that a season may hold, kg/ha. */
export const MOST_KG_PER_HA = 20_000;

/** Name in the address of what a field is expected to yield of a planting. */
export function yieldName(fieldId: string, plantingId: string): string {
  return `yield.${fieldId}.${plantingId}`;
}

/** The unit in which a farm reads yields of a planting. */
export function yieldUnit({ readerUnits, currency }: Season, { crop }: Planting): ReaderUnit {
  return readerUnit("kg/ha", { units: readerUnits, currency, crop, path: [] });
}

/** Which field gets which grain, by planning the year anew with fields given otherwise. */
export function FieldsQuestion({ season, query, asked }: {
  season: Season;
  query: ReadonlyMap<string, string>;
  asked: Asked;
}): VNode {
  const open = openFields(season);
  const plantings = [...new Set(open.map((one) => one.planting))];
  const mayChange = waysFrom(open, plannedGiving(open)).length > 0;
  const rows = typeof asked === "string" || asked.kind === "broke" ? [] : asked.fields ?? [];
  return (
    <Question
      id="fields"
      asks="Which field gets which grain?"
      answer={answerOf(season, mayChange, asked)}
      wide
    >
      {mayChange && (
        <form method="get" action="#fields">
          <Kept query={query} but={(name) => name === FIELDS_ASKED || name.startsWith("yield.")} />
          <input type="hidden" name={FIELDS_ASKED} value="try" />
          <Table
            caption="What each field would yield in a likely year"
            columns={[
              { name: "Field" },
              ...plantings.map((one) => ({
                name: upperFirst(`${plantingName(season, one)}, ${yieldUnit(season, one).unit}`),
                prose: true,
              })),
            ]}
            rows={open.map(({ field }) => [
              field.name,
              ...plantings.map((planting) => (
                <input
                  key={planting.id}
                  type="text"
                  inputMode="decimal"
                  autocomplete="off"
                  size={6}
                  name={yieldName(field.id, planting.id)}
                  value={query.get(yieldName(field.id, planting.id)) ?? ""}
                  placeholder={likelyText(season, planting)}
                  aria-label={`${plantingName(season, planting)} on ${field.name}, ${
                    yieldUnit(season, planting).unit
                  }`}
                />
              )),
            ])}
          />
          <button type="submit">Plan it anew</button>
        </form>
      )}
      {rows.length > 0 && (
        <Table
          caption="Field by field"
          columns={[
            { name: "Field" },
            { name: "Drilled", number: true },
            { name: "The year before", prose: true },
            {
              name: "As planned",
              prose: true,
            },
            { name: "Best", prose: true },
            { name: "The next best use", prose: true },
          ]}
          rows={rows.map((
            one,
          ) => [one.field, one.area, ...[one.before, one.planned, one.best, one.why].map(upperFirst)])}
        />
      )}
      {mayChange && (
        <p class="quiet">
          One field is moved, or two change places, and the year is planned anew each time with a short
          search, so what is lost is lost at most; each planting keeps a field. A yield that is left empty is
          the planting's own. What growing a crop costs, and what rotation asks, is not in it: the season
          check names a third cereal in a row when you enter the change.
        </p>
      )}
    </Question>
  );
}

function answerOf(season: Season, mayChange: boolean, asked: Asked): string {
  if (!mayChange) {
    return "Nothing to choose: fewer than two plantings of one harvest are still to be drilled.";
  }
  if (asked === "nothing") return "Say what each field would yield where you know it, and have it planned.";
  if (asked === "unreadable") return `Give each yield as a number above 0, and at most ${mostWords(season)}.`;
  if (asked === "waiting") {
    return "The year is being planned with fields given otherwise; that takes minutes.";
  }
  return asked.kind === "broke" ? `It broke off: ${asked.message}` : asked.words;
}

function likelyText(season: Season, planting: Planting): string {
  const { toReader, decimals } = yieldUnit(season, planting);
  return numberText(toReader(planting.yieldKgPerHa.likely), {
    decimals: Math.min(1, decimals),
    grouped: false,
  });
}

/** "20 t/ha", or in bushels for each crop. */
function mostWords(season: Season): string {
  const crops = [...new Map(openFields(season).map(({ planting }) => [planting.crop, planting])).values()];
  return [
    ...new Set(crops.map((one) => {
      const { unit, toReader } = yieldUnit(season, one);
      const most = `${Math.floor(toReader(MOST_KG_PER_HA))} ${unit}`;
      return season.readerUnits === "us" ? `${most} of ${one.crop}` : most;
    })),
  ].join(", ");
}
