import { dayNumber, isoDate, weekday } from "../../calendar.ts";
import { lotClock } from "../clocks.ts";
import { HAND_OVERS, type HandOver, STAGES } from "../malthouse.ts";
import type { Season } from "../season.ts";
import type { Checking } from "./checking.ts";
import type { FindingCode } from "./codes.ts";
import type { Path } from "./finding.ts";
import { liveLots } from "./ledger.ts";

const HAND_OVER_WORDS: Readonly<Record<HandOver, string>> = {
  steepIn: "a steep-in",
  castToBed: "casting to bed",
  kilnLoading: "kiln loading",
  strip: "a strip",
};

/** Parts of a farm that are missing. A plan is made all the same: it buys, or it says what cannot be made. */
export function checkGaps(checking: Checking): void {
  const { season, tell } = checking;
  const none = (code: FindingCode, path: Path, isNone: boolean, message: string, wayOut: string) => {
    if (isNone) tell(code, path, { value: "none", limit: "at least one", message, wayOut });
  };
  none(
    "no-lots",
    ["lots"],
    season.lots.length === 0,
    "There is no grain, neither in store nor to come.",
    "Enter what lies in the bins and what is sown.",
  );
  none(
    "no-brews",
    ["brews"],
    season.brews.length === 0,
    "There are no brews in the calendar.",
    "Enter the brews you want to make.",
  );
  none(
    "no-fields",
    ["fields"],
    season.fields.length === 0,
    "There are no fields.",
    "Enter them, or leave it if you buy all grain.",
  );
  none(
    "no-tanks",
    ["tanks"],
    season.tanks.length === 0,
    "There is no fermenter, so no beer can be brewed.",
    "Enter the fermenters.",
  );
  const missing = STAGES.filter((stage) => !season.vessels.some((vessel) => vessel.stages.includes(stage)));
  none(
    "no-vessels",
    ["vessels"],
    missing.length > 0,
    `There is no vessel for ${missing.join(", ")}, so no malt can be made.`,
    "Enter the vessels, or leave it if you buy all malt.",
  );
  for (const [i, beer] of season.beers.entries()) {
    if (beer.grist.length > 0) continue;
    tell("beer-without-malt", ["beers", i, "grist"], {
      limit: "at least one grist line",
      message: `${beer.name} has no malt in its grist.`,
      wayOut: "Enter its grist.",
    });
  }
  checkDrums(checking);
  if (season.lots.length > 0) checkMalts(checking);
  if (season.vessels.length > 0) checkAttendance(checking);
}

/** Malts that are asked for and made here, and that none of the lots can ever become. */
function checkMalts(checking: Checking): void {
  const { season, asOf, tell } = checking;
  const live = liveLots(checking);
  const lots = season.lots.filter((lot) => live.has(lot.id));
  const wanted = wantedMalts(season);
  for (const [i, malt] of season.maltTypes.entries()) {
    if (malt.made.from !== "grain" || !wanted.has(malt.id)) continue;
    if (lots.some((lot) => lotClock(season, lot, malt, asOf).firstDay !== null)) continue;
    tell("malt-without-lot", ["maltTypes", i], {
      value: malt.made.crops.join(", "),
      limit: "at least one lot that may become it",
      message: `None of the lots can be made into ${malt.name}.`,
      wayOut: "Sow or buy grain for it, ease what it accepts, or buy the malt.",
    });
  }
}

/** The planner does not load drums yet, and says so rather than leave a brew out without a word. */
function checkDrums({ season, tell }: Checking): void {
  const wanted = wantedMalts(season);
  for (const [i, malt] of season.maltTypes.entries()) {
    if (malt.made.from !== "malt" || !wanted.has(malt.id)) continue;
    tell("drum-not-planned", ["maltTypes", i, "made"], {
      value: "made from malt",
      limit: "made from grain, or bought",
      message:
        `${malt.name} is made from another malt in a drum. Drum loads are not planned yet, so the plan only buys it.`,
      wayOut: "Enter a supply offer for it, or what is in store.",
    });
  }
}

function wantedMalts(season: Season): ReadonlySet<string> {
  return new Set([
    ...season.beers.flatMap((beer) =>
      beer.grist.flatMap((line) => line.ingredient.kind === "malt" ? [line.ingredient.maltId] : [])
    ),
    ...season.contracts.flatMap((contract) => contract.kind === "sell-malt" ? [contract.maltId] : []),
  ]);
}

/** Each hand-over has at least one day between as-of and the horizon on which somebody is there for it. */
function checkAttendance({ season, today, tell }: Checking): void {
  const { weekly, extra } = season.roster;
  const end = dayNumber(season.horizonEnd);
  for (const handOver of HAND_OVERS) {
    let staffed = false;
    for (let day = today; day <= end && !staffed; day++) {
      staffed = weekly.some((window) =>
        window.weekdays.includes(weekday(day)) && serves(season, window, handOver, isoDate(day))
      ) || extra.some((window) =>
        window.on === isoDate(day) && serves(season, window, handOver, isoDate(day))
      );
    }
    if (staffed || today > end) continue;
    tell("nobody-there", ["roster"], {
      value: handOver,
      limit: `a day on which somebody is there for ${HAND_OVER_WORDS[handOver]}`,
      message: `Until ${season.horizonEnd} nobody is ever there for ${
        HAND_OVER_WORDS[handOver]
      }, so no malt can be made.`,
      wayOut: "Enter the hours in which somebody is there, or shorten what is closed.",
    });
  }
}

interface Window {
  readonly handOvers: readonly HandOver[];
  readonly personId?: string | undefined;
}

function serves(season: Season, window: Window, handOver: HandOver, date: string): boolean {
  if (!window.handOvers.includes(handOver)) return false;
  const closed = season.roster.closed.some((row) =>
    row.handOvers.includes(handOver) && row.from <= date && date <= row.to
  );
  const person = season.people.find((one) => one.id === window.personId);
  return !closed && !(person?.away.some((row) => row.from <= date && date <= row.to) ?? false);
}
