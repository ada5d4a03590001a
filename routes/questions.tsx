import { Hono } from "hono";
import type { SecureHeadersVariables } from "hono/secure-headers";
import { dayNumber } from "../core/calendar.ts";
import { openFields, yieldKey } from "../core/explain/field-crops.ts";
import { type AccountAsk, MOST_PER_MONTH } from "../core/explain/new-account.ts";
import { plainDigits } from "../core/form/number-text.ts";
import { drawParts, partsOf } from "../core/year/draw.ts";
import type { Season } from "../core/season/season.ts";
import { gFromLb, SQUARE_METRES_PER_ACRE } from "../core/units.ts";
import { expectedAndCome } from "../core/year/expected.ts";
import { explained } from "./_explained.ts";
import type { Asked } from "./_pages/question.tsx";
import { FIELDS_ASKED, MOST_KG_PER_HA, yieldName, yieldUnit } from "./_pages/question-fields.tsx";
import { QuestionsPage } from "./_pages/questions.tsx";
import type { Parts } from "./_parts.ts";
import { recordBarOf } from "./_record.ts";
import { bookedBefore } from "./_store/edits.ts";
import { Live } from "./_shell/live.tsx";
import { page } from "./_shell/page.tsx";
import type { AskOrder, FieldsAsk } from "./_solver/ask-messages.ts";
import { ensurePlanned, readYear, type Standing, standingOf, type Year } from "./_standing.ts";
import { whoOf } from "./_who.ts";

/** While something is being worked out, the page is asked for again after this many seconds. */
const AGAIN_AFTER_S = 5;
/** Longest text that is read from the address. */
const LONGEST = 40;

/** What owners ask in winter. A look begins to work out what takes planning the year anew. */
export function questions(parts: Parts): Hono<{ Variables: SecureHeadersVariables }> {
  return new Hono<{ Variables: SecureHeadersVariables }>()
    .get("/seasons/:id/questions", (c) => {
      const standing = standingOf(parts, c.req.param("id"));
      const year = readYear(parts, standing);
      const planning = ensurePlanned(parts, standing, year) || standing.making !== null;
      const known = explained(parts, standing, () => year, "whole");
      const query = new Map(
        Object.entries(c.req.query()).filter(([, value]) => value !== "" && value.length <= LONGEST),
      );
      const asked = askedOf(parts, standing, year, readAccount(year.stored, query));
      const fieldsAsked = askedOf(parts, standing, year, readFields(year.stored, query));
      const isBusy = planning || known.isBusy || asked === "waiting" || fieldsAsked === "waiting";
      const { id, name } = year.stored;
      c.header("cache-control", "no-store");
      return c.html(page({
        title: "Questions",
        nonce: c.get("secureHeadersNonce"),
        assets: parts.assets,
        season: { id, name },
        here: "questions",
        record: recordBarOf(parts, year.stored, whoOf(c)),
        ...(isBusy ? { againAfter: AGAIN_AFTER_S } : {}),
        body: (
          <main id="main">
            <Live season={`/seasons/${id}`} isBusy={isBusy}>
              <QuestionsPage
                season={year.season}
                plan={year.plan}
                year={drawParts(partsOf(year.season, year.plan))}
                known={known}
                planning={planning}
                query={query}
                prices={pricesOf(query)}
                share={shareOf(query)}
                grainCents={grainCentsOf(query)}
                rates={ratesOf(year.season, query)}
                expected={expectedAndCome(year.stored, bookedBefore(parts.store, id))}
                asked={asked}
                fieldsAsked={fieldsAsked}
              />
            </Live>
          </main>
        ),
      }));
    });
}

/** A number as people type it: "12,000", "12 000.50". NaN where it is none. */
function numberOf(text: string): number {
  const plain = text.replace(/[\s,]/g, "");
  return /^\d{1,9}(\.\d{1,2})?$/.test(plain) ? Number(plain) : NaN;
}

/** Prices in cents by remedy, those that can be read. */
function pricesOf(query: ReadonlyMap<string, string>): Map<string, number> {
  return new Map(
    [...query].filter(([name]) => name.startsWith("price-"))
      .map(([name, value]) => [name.slice("price-".length), Math.round(numberOf(value) * 100)] as const)
      .filter(([, cents]) => !Number.isNaN(cents)),
  );
}

/** The share asked for, 0 to 1; null where none is, NaN where it cannot be read. */
function shareOf(query: ReadonlyMap<string, string>): number | null {
  const text = query.get("share");
  if (text === undefined) return null;
  const percent = numberOf(text.replace("%", ""));
  return percent <= 100 ? percent / 100 : NaN;
}

/** What growing a ton costs, in cents; null where it is not given, NaN where it cannot be read. */
function grainCentsOf(query: ReadonlyMap<string, string>): number | null {
  const text = query.get("grain");
  return text === undefined ? null : Math.round(numberOf(text) * 100);
}

/** Seed rates by crop in grams a square metre, as they were given in the reader's units; NaN where one cannot be read. */
function ratesOf({ readerUnits }: Season, query: ReadonlyMap<string, string>): Map<string, number> {
  const one = readerUnits === "us" ? gFromLb(1) / SQUARE_METRES_PER_ACRE : 0.1;
  return new Map(
    [...query].filter(([name]) => name.startsWith("rate-"))
      .map(([name, value]) => [name.slice("rate-".length), numberOf(value) * one] as const),
  );
}

/** What is known of a question; asks it where it is new. */
function askedOf(
  { asker }: Parts,
  standing: Standing,
  { stored, plan }: Year,
  ask: AskOrder["ask"] | "nothing" | "unreadable",
): Asked {
  if (typeof ask === "string") return ask;
  // Only a plan of the season as it is can be asked.
  if (standing.state !== "planned" || standing.latest === null || plan === null) return "waiting";
  const planId = standing.latest.id, key = JSON.stringify(ask);
  asker.ask({ planId, key, season: { ...stored, asOf: plan.asOf }, plan, ask });
  return asker.look(planId, key) ?? "waiting";
}

function readAccount(
  season: Season,
  query: ReadonlyMap<string, string>,
): AccountAsk | "nothing" | "unreadable" {
  if (!query.has("beer")) return "nothing";
  const beerId = query.get("beer") ?? "", brews = query.get("brews") ?? "", from = query.get("from") ?? "";
  const perMonth = /^\d{1,2}$/.test(brews) ? Number(brews) : 0;
  const isMonth = /^\d{4}-(0[1-9]|1[0-2])$/.test(from);
  if (
    !season.beers.some((one) => one.id === beerId) || perMonth < 1 || perMonth > MOST_PER_MONTH || !isMonth
  ) {
    return "unreadable";
  }
  return { beerId, perMonth, fromDay: dayNumber(`${from}-01`) };
}

/** Yields by field and planting, in the file's unit, as they were given in the reader's; asked for by its own button. */
function readFields(
  season: Season,
  query: ReadonlyMap<string, string>,
): FieldsAsk | "nothing" | "unreadable" {
  if (!query.has(FIELDS_ASKED)) return "nothing";
  const open = openFields(season);
  const yields: Record<string, number> = {};
  for (const planting of new Set(open.map((one) => one.planting))) {
    const unit = yieldUnit(season, planting);
    for (const { field } of open) {
      const text = query.get(yieldName(field.id, planting.id));
      if (text === undefined) continue;
      const digits = plainDigits(text), kgPerHa = digits === null ? NaN : unit.toFile(digits);
      if (!(kgPerHa > 0 && kgPerHa <= MOST_KG_PER_HA)) return "unreadable";
      yields[yieldKey(field.id, planting.id)] = kgPerHa;
    }
  }
  return { yields };
}
