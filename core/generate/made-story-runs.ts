import { instant, wallTime } from "../zone.ts";
import { attendanceOf } from "../search/attendance.ts";
import { legalSlots, type Slot } from "../search/slots.ts";
import { lotClock } from "../season/clocks.ts";
import type { MadeFromGrain, MaltType } from "../season/malthouse.ts";
import { type Crop, CROPS } from "../season/quantity.ts";
import type { Lot } from "../season/grain.ts";
import { layMore, oldLots, type Story } from "./made-story.ts";
import { maltPerClean } from "./tight-need.ts";

const DAY_MINUTES = 1440;
/** Days after as-of in which a run may be booked. */
const BOOKED_WITHIN_DAYS = 21;
/** Loads of the past and of the next days are not quite full. */
const FILLED = 0.92;

/** How a past run came out; most are released. */
const OUTCOMES = ["released", "released", "released", "held", "feed", "dumped"] as const;
type Outcome = (typeof OUTCOMES)[number];

/** A malt that is made from grain. */
interface Made {
  readonly malt: MaltType;
  readonly made: MadeFromGrain;
}

/** A run that was stripped or thrown away, one that is in the vessels, and one or two that are booked. */
export function tellRuns(story: Story): void {
  const { season, luck, opened, today } = story;
  const made =
    season.maltTypes.flatMap((malt) => malt.made.from === "grain" ? [{ malt, made: malt.made }] : [])[0];
  if (made === undefined) return;
  const now = instant(season.zone, season.asOf);
  const slots = legalSlots(
    { ...season, maltTypes: [made.malt] },
    attendanceOf(season, opened - 1, today + 2 * BOOKED_WITHIN_DAYS),
    opened,
    today + BOOKED_WITHIN_DAYS + made.malt.restDays,
    CROPS,
  );
  const lot = oldLots(story).find((one) => one.crop === made.made.crops[0]);
  const ended = luck.oneIn(4) ? undefined : slots.find((slot) => slot.times[3] < now);
  const free = ended === undefined ? -Infinity : ended.times[3] + DAY_MINUTES;
  const underWay = luck.oneIn(3)
    ? undefined
    : slots.find((slot) => slot.times[0] < now && slot.times[3] > now + DAY_MINUTES && slot.times[0] > free);
  if (lot !== undefined && ended !== undefined) tellEnded(story, made, ended, lot, luck.pick(OUTCOMES));
  if (lot !== undefined && underWay !== undefined) tellUnderWay(story, made, underWay, lot, now);
  let next = Math.max(now, underWay?.times[3] ?? now, ended?.times[3] ?? now) + DAY_MINUTES;
  for (let booked = luck.int(0, 2); booked > 0; booked--) {
    const slot = slots.find((one) => one.times[0] > next);
    if (slot === undefined) return;
    tellBooked(story, made, slot, booked);
    next = slot.times[3] + DAY_MINUTES;
  }
}

function drawG(slot: Slot, { made }: Made, crop: Crop): number {
  const at = CROPS.indexOf(crop);
  const cleanG = Math.max(slot.leastG[at] ?? 0, (slot.greatestG[at] ?? 0) * FILLED);
  return Math.round(cleanG / (1 - made.screeningLoss));
}

function common(story: Story, { malt }: Made, slot: Slot) {
  const [steep, bed, kiln] = slot.vessels.map((index) => story.season.vessels[index]!.id);
  return {
    maltId: malt.id,
    profileId: slot.profileId,
    vesselIds: { steep: steep!, bed: bed!, kiln: kiln! },
  };
}

function times(story: Story, slot: Slot) {
  const [steepInAt, castAt, kilnAt, stripAt] = slot.times.map((minute) =>
    wallTime(story.season.zone, minute)
  );
  return { steepInAt: steepInAt!, castAt: castAt!, kilnAt: kilnAt!, stripAt: stripAt! };
}

function tellEnded(story: Story, made: Made, slot: Slot, lot: Lot, outcome: Outcome): void {
  const massG = drawG(slot, made, lot.crop);
  const storeId = layMore(story, lot.id, massG);
  if (storeId === null) return;
  const { stripAt, kilnAt, ...began } = times(story, slot);
  const run = {
    id: "run-past",
    draws: [{ lotId: lot.id, storeId, massG }],
    ...common(story, made, slot),
    ...began,
  };
  if (outcome === "dumped") {
    story.records.runs.push({ ...run, endedAt: kilnAt, outcome, outputs: [], note: "Power cut" });
    return;
  }
  const cleanG = massG * (1 - made.made.screeningLoss);
  const own = 1 - made.made.alsoGives.reduce((sum, other) => sum + other.share, 0);
  const allG = cleanG * maltPerClean(made.malt, made.made) / own;
  const outputs = [{ maltId: made.malt.id, share: own }, ...made.made.alsoGives].map((
    { maltId, share },
    at,
  ) => ({
    batchId: `malt-past-${at + 1}`,
    maltId,
    massG: Math.round(allG * share),
  }));
  story.records.runs.push({ ...run, kilnAt, stripAt, outputs, outcome, by: "The maltster" });
}

/** Hand-overs that have not happened are left out and follow the profile. */
function tellUnderWay(story: Story, made: Made, slot: Slot, lot: Lot, now: number): void {
  const massG = drawG(slot, made, lot.crop);
  const storeId = layMore(story, lot.id, massG);
  if (storeId === null) return;
  const { steepInAt, castAt, kilnAt } = times(story, slot);
  story.records.runs.push({
    id: "run-now",
    draws: [{ lotId: lot.id, storeId, massG }],
    ...common(story, made, slot),
    steepInAt,
    ...(slot.times[1] < now ? { castAt } : {}),
    ...(slot.times[2] < now ? { kilnAt } : {}),
    outputs: [],
  });
}

/** Books a run from a lot that is awake, tested and heavy enough; nothing where there is none. */
function tellBooked(story: Story, made: Made, slot: Slot, nth: number): void {
  const { season } = story;
  const bookedG = (lotId: string) =>
    story.bookings.runs.flatMap((run) => run.draws).reduce(
      (sum, draw) => draw.lotId === lotId ? sum + draw.massG : sum,
      0,
    );
  for (const lot of season.lots) {
    if (lot.crop !== made.made.crops[0] || lot.analyses.some((one) => one.resultOn === undefined)) continue;
    const clock = lotClock(season, lot, made.malt, season.asOf);
    if (clock.firstDay === null || slot.steepDay < clock.firstDay || slot.steepDay > clock.lastDay) continue;
    const lay = season.opening.grain.find((one) => one.lotId === lot.id);
    const massG = drawG(slot, made, lot.crop);
    if (lay === undefined || lay.massG < 1.5 * massG + bookedG(lot.id)) continue;
    story.bookings.runs.push({
      id: `run-booked-${nth}`,
      draws: [{ lotId: lot.id, storeId: lay.storeId, massG }],
      ...common(story, made, slot),
      ...times(story, slot),
      by: "The maltster",
    });
    return;
  }
}
