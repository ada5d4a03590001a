import type { Plan } from "../plan/plan.ts";
import type { Season } from "../season/season.ts";
import {
  countWords,
  dayWords,
  listWords,
  maltWeightWords,
  shortMaltWords,
  tonneWords,
} from "../year/words.ts";
import { dayNumber } from "../calendar.ts";
import type { LimitFound } from "./causes.ts";
import type { Limit } from "./limits.ts";
import type { Priced, Ranked } from "./remedies.ts";
import type { MaltReserve } from "./reserve.ts";
import type { RunSlack } from "./slack.ts";
import type { Worth } from "./worth.ts";

const NAMES: Readonly<Record<Limit, string>> = {
  land: "the land sown",
  grain: "the grain",
  steep: "the steep",
  bed: "the bed",
  kiln: "the kiln",
  tanks: "the fermenters",
  bins: "the room for grain",
  store: "the room for malt",
  hands: "the staffed hours",
};
const MANY: ReadonlySet<Limit> = new Set(["tanks", "hands"]);

/** Limits by name: "the bed", "the bed and the kiln". */
export function limitNames(limits: readonly Limit[]): string {
  return listWords(limits.map((limit) => NAMES[limit]));
}

/** A limit as a row is called: "bed", "staffed hours". Null is no one limit by itself. */
export function limitLabel(limit: Limit | null): string {
  return limit === null ? "no one thing" : NAMES[limit].replace(/^the /, "");
}

/** What limits the year, and how that was seen, in a sentence. */
export function limitWords(season: Season, found: LimitFound | null): string {
  if (found === null) {
    return "Nothing is binding: with more of any one thing, or of all, no more brews would be made and no more promises held.";
  }
  const { limits, evidence } = found;
  const names = limitNames(limits);
  const are = limits.length > 1 || MANY.has(limits[0]!) ? "are" : "is";
  const head = `${names.charAt(0).toUpperCase()}${names.slice(1)} ${are} the tightest limit`;
  const also = limits.length > 1
    ? `, together: ${limits.length > 2 ? "none" : "neither"} alone changes anything`
    : "";
  return `${head}${also}. Without ${are === "are" ? "them" : "it"} there would be ${
    gainWords(season, evidence)
  }.`;
}

/** "3 more brews, 5 more promises held and 1,040 kg less bought malt"; "no more" of anything where nothing is gained. */
export function gainWords(season: Season, gain: Worth): string {
  const counts = [
    counted(gain.brews, "brew"),
    counted(gain.promises, "home-share promise", " held"),
    Math.abs(gain.homeMaltG) < 1000
      ? ""
      : `${maltWeightWords(Math.abs(gain.homeMaltG), season.readerUnits)} ${
        gain.homeMaltG > 0 ? "less" : "more"
      } bought malt`,
    gain.roomG < 1000 ? "" : `a place for ${tonneWords(gain.roomG)} of grain`,
  ].filter((one) => one !== "");
  return counts.length === 0 ? "no more of anything" : listWords(counts);
}

function counted(count: number, name: string, after = ""): string {
  if (count === 0) return "";
  const more = count > 0 ? "more" : "fewer";
  return `${countWords(Math.abs(count), `${more} ${name}`)}${after}`;
}

/** Beers won and lost: "2 Yard Lager more, 1 Amber fewer"; empty when the beers are the same. */
export function beerWords(season: Season, beers: Priced["beers"]): string {
  return beers.map(({ beerId, brews }) => {
    const name = season.beers.find((beer) => beer.id === beerId)?.name ?? beerId;
    return `${Math.abs(brews)} ${name} ${brews > 0 ? "more" : "fewer"}`;
  }).join(", ");
}

/** Whole units of the farm's currency: a plan's cents are spurious. */
export function amountWords(season: Season, cents: number): string {
  return `${Math.round(Math.abs(cents) / 100).toLocaleString("en-US")} ${season.currency}`;
}

/** What a remedy costs. */
export function costWords(season: Season, { costCents, costWords: basis }: Priced): string {
  if (costCents === null) return "cost not given";
  if (costCents === 0) return basis === "" ? "costs nothing by itself" : basis;
  return `${amountWords(season, costCents)}${basis === "" ? "" : `, ${basis}`}`;
}

/** What a remedy does to the year's money, before its own cost. */
export function moneyWords(season: Season, { gain, isNoise }: Pick<Priced, "gain" | "isNoise">): string {
  if (isNoise || Math.abs(gain.moneyCents) < 100) return "";
  return `${amountWords(season, gain.moneyCents)} ${gain.moneyCents > 0 ? "better" : "dearer"}`;
}

/** How firm a remedy's place is. */
export function rankWords(season: Season, one: Ranked): string {
  if (one.isNoise || one.gain.brews < 0) return "";
  const pays = one.paysToCents >= 100
    ? `pays for itself up to a cost of ${amountWords(season, one.paysToCents)}`
    : "";
  const makesMore = one.gain.brews > 0 || one.gain.promises > 0;
  const holds = one.holdsToCents === null
    ? makesMore ? "stands before the next at any cost, because it makes more" : ""
    : one.holdsToCents >= 100
    ? `stands before the next up to ${amountWords(season, one.holdsToCents)} more than that one costs`
    : "as good as the next";
  return [pays, holds].filter((part) => part !== "").join("; ");
}

/** How far a run may slip and what stops it: "may slip 2 days: the steep is wanted by the run of 22 Feb". */
export function slackWords({ maySlipDays, stops }: RunSlack): string {
  const may = maySlipDays === 0 ? "may not slip" : `may slip ${countWords(maySlipDays, "day")}`;
  return `${may}: ${stops.words}`;
}

/** A malt's least stock against its reserve: "pale: least on 3 Mar, 120 kg below its reserve of 400 kg". */
export function reserveWords(
  { readerUnits }: Season,
  { name, leastDay, leastG, floorG }: MaltReserve,
): string {
  const weight = (massG: number) => maltWeightWords(Math.abs(massG), readerUnits);
  const side = leastG < 0 ? "below" : "above";
  return `${shortMaltWords(name)}: least on ${dayWords(leastDay)}, ${weight(leastG)} ${side} its reserve of ${
    weight(floorG)
  }`;
}

/** The line under the year's sentence; empty when there is no free run. */
export function breaksWords(season: Season, plan: Plan, first: RunSlack | null): string {
  const run = plan.runs.find((one) => one.id === first?.runId);
  if (first === null || run === undefined) return "";
  const malt = season.maltTypes.find((one) => one.id === run.maltId);
  const day = dayWords(dayNumber(run.steepInAt.slice(0, 10)));
  return `What breaks first: the ${shortMaltWords(malt?.name ?? run.maltId)} run of ${day} ${
    slackWords(first)
  }.`;
}
