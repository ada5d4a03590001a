/** May this lot be made into this malt on this day? Judged for runs that are not under way. */
import { type Breach, breach, type RuleId } from "./breach.ts";
import type { Context } from "./context.ts";
import type { Lot } from "../season/grain.ts";
import type { MadeFromGrain, MaltType } from "../season/malthouse.ts";
import { failures, holdsTreatedSeed, latest, lotClock, ownerAllows } from "./lot-clock.ts";
import type { RunView } from "./run-view.ts";
import { dayWords, massWords, spoken } from "./words.ts";

/** Germinative energies of two lots in one run differ by no more than three points: common practice, no source. */
const ENERGY_POINTS = 0.03;

function oneLot(ctx: Context, view: RunView, lot: Lot, malt: MaltType, made: MadeFromGrain): Breach[] {
  const { run } = view, day = view.day.steepIn;
  const found: Breach[] = [];
  const say = (rule: RuleId, what: string, limit: string, reason: string) =>
    found.push(breach(rule, run.id, day, what, limit, `Run ${run.id} cannot steep lot ${lot.id}: ${reason}`));
  if (!made.crops.includes(lot.crop)) {
    say("lot-crop", lot.crop, made.crops.join(" or "), `${malt.name} is not made from ${lot.crop}.`);
  }
  if (lot.use !== "malting") say("lot-use", lot.use, "malting", `it is kept as "${lot.use}".`);
  if (holdsTreatedSeed(ctx, lot.id)) say("lot-treated", "treated seed", "untreated", "it is treated seed.");
  if (!ownerAllows(ctx, lot)) {
    say("lot-owner", lot.owner, "farm", `it belongs to ${lot.owner}, and no malt contract lists it.`);
  }
  const failed = failures(ctx, lot, made.acceptance);
  if (failed.length > 0) {
    say("lot-acceptance", failed.join("; "), `what ${malt.name} accepts`, `${failed.join("; ")}.`);
  }
  const clock = lotClock(ctx, lot, made.acceptance);
  if (run.standing === "booked" ? clock.awaitedDay > -Infinity : day < clock.awaitedDay) {
    const limit = run.standing === "booked" ? "all results in" : `${dayWords(clock.awaitedDay)} or later`;
    say(
      "lot-awaiting",
      dayWords(day),
      limit,
      "it still awaits a result" +
        (run.standing === "booked"
          ? ", so no run of it can be booked."
          : `, expected ${dayWords(clock.awaitedDay)}.`),
    );
  }
  if (clock.spent) {
    say(
      "lot-spent",
      "germinates too little",
      "awake and sound",
      "its germination has failed since it was awake.",
    );
  } else if (day < clock.awakeDay) {
    const limit = `${dayWords(clock.awakeDay)} or later`;
    say("lot-asleep", dayWords(day), limit, `it is not awake before ${dayWords(clock.awakeDay)}.`);
  }
  if (day > clock.lastDay) {
    say(
      "lot-too-old",
      dayWords(day),
      `${dayWords(clock.lastDay)} or earlier`,
      `its last day is ${dayWords(clock.lastDay)}.`,
    );
  }
  return found;
}

function pair(ctx: Context, view: RunView): Breach[] {
  const [first, second] = view.run.draws, [one, other] = view.lots;
  if (first === undefined || second === undefined || one === undefined || other === undefined) return [];
  if (first.lotId === second.lotId) return [];
  const { id } = view.run, day = view.day.steepIn;
  const found: Breach[] = [];
  const say = (what: string, limit: string, reason: string) =>
    found.push(
      breach(
        "lot-pair",
        id,
        day,
        what,
        limit,
        `Run ${id} cannot steep ${first.lotId} with ${second.lotId}: ${reason}`,
      ),
    );
  const left = ctx.grain.stockG(first.lotId, first.storeId, day);
  if (left > 0) {
    say(massWords(left), "0 kg left", `${massWords(left)} of the first is left in ${first.storeId}.`);
  }
  if (one.crop !== other.crop) say(`${one.crop}, ${other.crop}`, "one crop", "they are two crops.");
  if (one.owner !== other.owner) say(`${one.owner}, ${other.owner}`, "one owner", "they have two owners.");
  if (one.organic !== other.organic) say("one of two", "both or neither", "only one is organic.");
  const energies = [latest(one, "germinativeEnergy"), latest(other, "germinativeEnergy")] as const;
  if (energies[0] !== undefined && energies[1] !== undefined) {
    const apart = Math.abs(energies[0] - energies[1]);
    if (apart > ENERGY_POINTS + 1e-9) {
      say(
        `${spoken(apart * 100)} points`,
        "3 points",
        `their energies lie ${spoken(apart * 100)} points apart.`,
      );
    }
  }
  return found;
}

/** Every lot of every run still to be steeped. */
export function clocks(ctx: Context): Breach[] {
  return ctx.runs.filter((view) => view.record === undefined).flatMap((view) => {
    const { malt, made } = view;
    if (malt === undefined || made === undefined) return [];
    const lots = new Set(view.lots.filter((lot) => lot !== undefined));
    return [...[...lots].flatMap((lot) => oneLot(ctx, view, lot, malt, made)), ...pair(ctx, view)];
  });
}
