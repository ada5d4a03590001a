import { dateOf, dayNumber, isIsoDate, isLocalTime, isoDate, yearOf } from "../../calendar.ts";
import { maltDeliveries } from "../malt-deliveries.ts";
import type { Season } from "../season.ts";
import { planEndDay } from "../tail.ts";
import type { Checking } from "./checking.ts";
import type { Path, Tell } from "./finding.ts";

/** Years in which every date of a season must lie; the file's harvest years have the same limits. */
const YEARS = [1990, 2100] as const;
/** Three years and a leap day. */
export const LONGEST_DAYS = 3 * 365 + 1;

/** A calendar may begin a year before the opening position: last year's brews are what the weeks after the horizon repeat. */
export const OLDEST_BREW_DAYS = 366;

/** Keys that hold free text which may look like a date. */
const TEXT_KEYS: ReadonlySet<string> = new Set(["name", "about", "reason", "note", "by", "what", "letter"]);

/** A date centuries away is a slip, and the arithmetic of days should not have to bear it. True when all are near. */
export function checkYears(season: Season, tell: Tell): boolean {
  let allNear = true;
  const visit = (value: unknown, path: Path) => {
    if (typeof value === "object" && value !== null) {
      for (const [key, member] of Object.entries(value)) {
        if (!TEXT_KEYS.has(key)) visit(member, [...path, Array.isArray(value) ? Number(key) : key]);
      }
      return;
    }
    if (typeof value !== "string" || !(isIsoDate(value) || isLocalTime(value))) return;
    const year = yearOf(dayNumber(value.slice(0, 10)));
    if (year >= YEARS[0] && year <= YEARS[1]) return;
    allNear = false;
    tell("absurd-date", path, {
      limit: `years ${YEARS[0]} to ${YEARS[1]}`,
      message: `The year ${year} cannot be meant.`,
      wayOut: "Correct the year.",
    });
  };
  visit(season, []);
  return allNear;
}

/** The opening position, as-of and the horizon come in this order and are not too far apart. */
export function checkSpan({ season, asOf, today, tell }: Checking): void {
  const { positionAt, horizonEnd } = season;
  if (positionAt > asOf) {
    tell("position-after-as-of", ["positionAt"], {
      limit: `not after as-of, ${asOf}`,
      message: "The opening position lies in the future.",
      wayOut: "Set positionAt to when the stocks were counted, at or before as-of.",
    });
  }
  if (asOf < season.asOf) {
    tell("now-before-as-of", [season.fixedAsOf === asOf ? "fixedAsOf" : "asOf"], {
      value: asOf,
      limit: `not before asOf, ${season.asOf}`,
      message: `The records reach up to ${season.asOf}, which is still to come.`,
      wayOut: "Set asOf to when the last record was written, or the fixed minute to that or later.",
    });
  }
  if (today > dayNumber(horizonEnd)) {
    tell("as-of-after-horizon", ["horizonEnd"], {
      limit: `not before as-of, ${dateOf(asOf)}`,
      message: "The season is over: there is no day left to plan.",
      wayOut: "Move horizonEnd, or begin the next season.",
    });
  }
  const days = dayNumber(horizonEnd) - dayNumber(dateOf(positionAt));
  if (days > LONGEST_DAYS) {
    tell("horizon-too-long", ["horizonEnd"], {
      limit: "three years after positionAt",
      message: `The season is ${days} days long.`,
      wayOut: "Bring horizonEnd nearer, or take a newer opening position.",
    });
  }
}

/** Calendar, contracts, harvests and bookings lie where the plan can answer for them. */
export function checkHorizon({ season, tell }: Checking): void {
  const { horizonEnd } = season;
  const planEnd = planEndDay(season);
  const oldest = dayNumber(dateOf(season.positionAt)) - OLDEST_BREW_DAYS;
  const brewed = new Set(season.records.brews.map((brew) => brew.brewId));
  for (const [i, brew] of season.brews.entries()) {
    if (dayNumber(brew.latest) < oldest && !brewed.has(brew.id)) {
      tell("outside-horizon", ["brews", i, "latest"], {
        limit: `not before ${isoDate(oldest)}, a year before positionAt`,
        message: "The days for this brew were over long before the season began.",
        wayOut: "Correct its days, or take it out.",
      });
    } else if (brew.on > horizonEnd) {
      tell("outside-horizon", ["brews", i, "on"], {
        limit: `not after horizonEnd, ${horizonEnd}`,
        message:
          "This brew lies after the last day shown; the weeks after it repeat the year before by themselves.",
        wayOut: "Move horizonEnd behind it, or take it out.",
      });
    } else if (brew.latest > horizonEnd) {
      tell("window-past-horizon", ["brews", i, "latest"], {
        limit: `not after horizonEnd, ${horizonEnd}`,
        message: "The window of this brew reaches past the last day shown.",
        wayOut: "Move horizonEnd behind it, or shorten the window.",
      });
    }
  }
  for (const [i, { state, harvest }] of season.plantings.entries()) {
    if ((state !== "planned" && state !== "sown") || dayNumber(harvest.likely) <= planEnd) continue;
    tell("harvest-past-plan", ["plantings", i, "harvest", "likely"], {
      limit: `not after the plan's end, 84 days after ${horizonEnd}`,
      message: "This harvest comes after everything that is planned, so the plan does not count on it.",
      wayOut: "Correct the date, move horizonEnd, or leave it if it is right.",
    });
  }
  const late = (path: Path, date: string) => {
    if (dayNumber(date.slice(0, 10)) <= planEnd) return;
    tell("outside-horizon", path, {
      limit: `not after the plan's end, 84 days after ${horizonEnd}`,
      message: "This lies after everything that is planned.",
      wayOut: "Move horizonEnd, or take it out.",
    });
  };
  season.seedReserves.forEach((seed, i) => late(["seedReserves", i, "on"], seed.on));
  season.contracts.forEach((contract, i) =>
    contract.kind === "buy-grain"
      ? late(["contracts", i, "on"], contract.on)
      : late(["contracts", i, "from"], contract.from)
  );
  const { runs, brews, orders, feedLoads, moves } = season.bookings;
  runs.forEach((run, i) => late(["bookings", "runs", i, "steepInAt"], run.steepInAt));
  brews.forEach((brew, i) => late(["bookings", "brews", i, "on"], brew.on));
  orders.forEach((order, i) => late(["bookings", "orders", i, "orderedOn"], order.orderedOn));
  feedLoads.forEach((load, i) => late(["bookings", "feedLoads", i, "on"], load.on));
  moves.forEach((move, i) => late(["bookings", "moves", i, "on"], move.on));
}

/** What was counted at the opening position was there by then. */
export function checkOpeningDates({ season, tell }: Checking): void {
  const opened = dateOf(season.positionAt);
  const there = (path: Path, date: string | undefined) => {
    if (date === undefined || date <= opened) return;
    tell("stock-after-position", path, {
      limit: `not after positionAt, ${season.positionAt}`,
      message: "This was counted at the opening position, but by its date it came later.",
      wayOut: "Correct the date, or take it out of the opening position and record it.",
    });
  };
  const counted = new Set(season.opening.grain.filter((row) => row.massG > 0).map((row) => row.lotId));
  season.lots.forEach((lot, i) => {
    if (counted.has(lot.id) && !lot.forecast) there(["lots", i, "formedOn"], lot.formedOn);
  });
  season.opening.malt.forEach((batch, i) => there(["opening", "malt", i, "madeOn"], batch.madeOn));
  season.opening.tanks.forEach((row, i) => there(["opening", "tanks", i, "since"], row.since));
}

/** Records lie between the opening position and as-of; a run may have begun before. */
export function checkRecordDates({ season, asOf, tell }: Checking): void {
  const { records } = season;
  const today = dateOf(asOf), opened = dateOf(season.positionAt);
  const fact = (path: Path, when: string | undefined, mayBeOlder = false) => {
    if (when === undefined) return;
    if (when.length > 10 ? when > asOf : when > today) {
      tell("record-after-as-of", path, {
        limit: `not after as-of, ${asOf}`,
        message: "This is recorded as done, but its day is still to come.",
        wayOut: "Correct the date, or book it instead of recording it.",
      });
    } else if (!mayBeOlder && when < opened) {
      tell("record-before-position", path, {
        limit: `not before positionAt, ${season.positionAt}`,
        message: "This happened before the opening stocks were counted, so it is in them already.",
        wayOut: "Take it out, or correct its date.",
      });
    }
  };
  season.weighTickets.forEach((ticket, i) => fact(["weighTickets", i, "on"], ticket.on, true));
  season.lots.forEach((lot, i) =>
    lot.analyses.forEach((analysis, j) => {
      fact(["lots", i, "analyses", j, "sampledOn"], analysis.resultOn && analysis.sampledOn, true);
      fact(["lots", i, "analyses", j, "resultOn"], analysis.resultOn, true);
    })
  );
  records.runs.forEach((run, i) => {
    const over = run.stripAt ?? run.endedAt;
    if (run.outputs.length > 0 && run.stripAt === undefined) {
      tell("malt-before-strip", ["records", "runs", i, "stripAt"], {
        limit: "the minute at which the kiln was stripped",
        message: "The malt of this run is weighed, but nobody wrote when it was stripped.",
        wayOut: "Enter the time of stripping, or take the weights out.",
      });
    }
    for (const name of ["steepInAt", "castAt", "kilnAt"] as const) {
      fact(["records", "runs", i, name], run[name], true);
    }
    // A run that was over before the stocks were counted is in them; one under way then is not.
    fact(["records", "runs", i, run.stripAt === undefined ? "endedAt" : "stripAt"], over);
  });
  for (
    const list of ["brews", "feedLoads", "moves", "mixes", "fills", "deliveries", "adjustments"] as const
  ) {
    records[list].forEach((row, i) => fact(["records", list, i, "on"], row.on));
  }
  maltDeliveries(season).forEach((row, i) => fact(["records", "maltDeliveries", i, "on"], row.on));
  records.orders.forEach((order, i) => {
    fact(["records", "orders", i, "orderedOn"], order.orderedOn, true);
    if (order.arrivesOn <= today) fact(["records", "orders", i, "arrivesOn"], order.arrivesOn);
  });
}
