/** When brews are made. */
import { dayNumber, weekday } from "../calendar.ts";
import type { PlanBrew } from "../plan/plan.ts";
import { type Breach, breach } from "./breach.ts";
import type { Context } from "./context.ts";
import { dayWords } from "./words.ts";

/** Cold wort of a brew in litres: its own volume, else the beer's; undefined when the beer is unknown. */
export function wortL(ctx: Context, brew: PlanBrew): number | undefined {
  return ctx.asked.get(brew.id)?.volumeL ?? ctx.beers.get(brew.beerId)?.volumeL;
}

function oneBrew(ctx: Context, brew: PlanBrew): Breach[] {
  const { brewhouse } = ctx.season, asked = ctx.asked.get(brew.id), day = dayNumber(brew.on);
  const found: Breach[] = [];
  const closed = brewhouse.closed.find((entry) => dayNumber(entry.from) <= day && day <= dayNumber(entry.to));
  if (closed !== undefined || !brewhouse.brewWeekdays.includes(weekday(day))) {
    const why = closed === undefined ? "no brew weekday" : `closed: ${closed.reason}`;
    const message = `Brew ${brew.id} lies on ${dayWords(day)}, which is ${why}.`;
    found.push(breach("brew-day", brew.id, day, dayWords(day), "a brew weekday that is not closed", message));
  }
  if (asked === undefined) return found;
  if (brew.beerId !== asked.beerId) {
    const message = `Brew ${brew.id} is ${brew.beerId} in the plan; the calendar says ${asked.beerId}.`;
    found.push(breach("brew-beer", brew.id, day, brew.beerId, asked.beerId, message));
  }
  if (day < asked.earliestDay || day > asked.latestDay) {
    const limit = `${dayWords(asked.earliestDay)} to ${dayWords(asked.latestDay)}`;
    const message = `Brew ${brew.id} lies on ${dayWords(day)}, outside its window ${limit}.`;
    found.push(breach("brew-window", brew.id, day, dayWords(day), limit, message));
  }
  return found;
}

function perDay({ plan, season }: Context): Breach[] {
  const counts = new Map<number, number>();
  const planned = new Set(plan.brews.map((brew) => dayNumber(brew.on)));
  for (const brew of [...season.records.brews, ...plan.brews]) {
    const day = dayNumber(brew.on);
    counts.set(day, (counts.get(day) ?? 0) + 1);
  }
  const most = season.brewhouse.brewsPerDay;
  return [...planned].filter((day) => counts.get(day)! > most).map((day) => {
    const count = counts.get(day)!;
    const thing = plan.brews.findLast((brew) => dayNumber(brew.on) === day)!.id;
    const message = `${count} brews lie on ${dayWords(day)}; the brewhouse makes ${most} a day.`;
    return breach("brews-per-day", thing, day, `${count} brews`, `${most} brews`, message);
  });
}

/** Days and windows of every brew. */
export function brewDays(ctx: Context): Breach[] {
  return [...ctx.plan.brews.flatMap((brew) => oneBrew(ctx, brew)), ...perDay(ctx)];
}
