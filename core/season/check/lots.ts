import { dayNumber } from "../../calendar.ts";
import { lotClock, suitsMalt } from "../clocks.ts";
import type { Lot } from "../grain.ts";
import { donPpmOf, holdsTreatedSeed } from "../lock.ts";
import type { Season } from "../season.ts";
import type { Checking } from "./checking.ts";
import { liveLots } from "./ledger.ts";

/** What keeps a lot meant for malting from being malted, or will. */
export function checkLots(checking: Checking): void {
  const { season, asOf, today, tell } = checking;
  const live = liveLots(checking);
  for (const [i, lot] of season.lots.entries()) {
    if (!live.has(lot.id)) continue;
    const path = ["lots", i];
    checkAwaited(lot, i);
    if (lot.use !== "malting") continue;
    if (!lot.forecast && lot.analyses.length === 0) {
      tell("lot-untested", [...path, "analyses"], {
        value: "no analysis",
        limit: "at least a germination test",
        message: `Nobody has tested ${lot.name}.`,
        wayOut: "Test its germination and send a sample to the laboratory, then enter the results.",
      });
    }
    const malts = season.maltTypes.filter((malt) =>
      malt.made.from === "grain" && malt.made.crops.includes(lot.crop)
    );
    if (malts.length === 0) continue;
    if (!malts.some((malt) => suitsMalt(season, lot, malt))) {
      tell("lot-unfit", path, {
        value: whyUnfit(season, lot),
        limit: malts.map((malt) => malt.name).join(", "),
        message: `${lot.name} is meant for malting but may be made into no malt.`,
        wayOut: "Set its use to feed or held, or enter a newer result that passes.",
      });
      continue;
    }
    const blocks = malts.map((malt) => lotClock(season, lot, malt, asOf).blockedBy);
    if (blocks.every((block) => block === "not awake" || block === "not suitable")) {
      tell("lot-never-wakes", path, {
        value: "no germinative energy that passes, no waking date",
        limit: "a result that passes, or wakesOn",
        message: `Nothing says when ${lot.name} will be awake, so it is never steeped.`,
        wayOut: "Enter a germination result, or the days on which you expect it to wake.",
      });
    } else if (blocks.every((block) => block === "too old" || block === "not suitable")) {
      tell("lot-too-old", path, {
        value: lot.useBy?.on ?? "by its germination",
        limit: "alive and inside its dates on the day of steeping",
        message: `${lot.name} can no longer be malted when its turn comes.`,
        wayOut: "Set its use to feed, or enter a newer germination result.",
      });
    }
  }

  function checkAwaited(lot: Lot, i: number): void {
    for (const [j, analysis] of lot.analyses.entries()) {
      if (analysis.resultOn !== undefined) continue;
      const { expectedOn } = analysis;
      const overdue = expectedOn !== undefined && dayNumber(expectedOn) < today;
      tell("lot-awaiting", ["lots", i, "analyses", j, "resultOn"], {
        value: expectedOn === undefined ? "no result, no day" : `no result, expected ${expectedOn}`,
        limit: "a result before a run is booked",
        message: overdue
          ? `The result of a sample of ${lot.name} is overdue.`
          : `${lot.name} awaits a result, and no run of it can be booked until it comes.`,
        wayOut: expectedOn === undefined
          ? "Enter the day on which the result is expected; without one nothing is planned from this lot."
          : overdue
          ? "Ask the laboratory and enter the result, or a new day."
          : "Enter the result when it comes.",
      });
    }
  }
}

function whyUnfit(season: Season, lot: Lot): string {
  if (lot.treatedSeed) return "treated seed";
  if (holdsTreatedSeed(season, lot)) return "holds treated seed";
  if (lot.owner !== "farm") return `owned by ${lot.owner}, in no malt contract`;
  // What is in a mixture counts, so the value that fails may be that of a lot that is long gone.
  const donPpm = donPpmOf(season, lot);
  return donPpm === undefined
    ? "a measured value fails"
    : `a measured value fails; ${donPpm} mg/kg deoxynivalenol in it at most`;
}
