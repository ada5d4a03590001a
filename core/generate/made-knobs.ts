import type { Knobs, MadeFrame } from "./made-frame.ts";
import type { Limit, PlantedLimit } from "./sizes.ts";
import type { Tightness } from "./tightness.ts";

/** What a planted limit is turned to, the range it may end in, and the most of every other one. */
const AIM = 1.35;
const BINDING = [1.2, 1.6] as const;
const SLACK = 0.8;
const SLACK_AIM = 0.62;

/** Simple packing of vessels and staffed hours has room left where none of them is planted. */
const TOGETHER = [0.45, 0.66] as const;
const TOGETHER_AIM = 0.6;
/** In six weeks whole runs count for more than tonnes do. */
const MICRO_TOGETHER = [0.3, 0.45] as const;
const MICRO_TOGETHER_AIM = 0.36;
/** The bed is nearly the limit where steep or kiln is: their loads would look absurd beside a much larger bed. */
const BED_AIM = 0.76;
const HANDS_AIM = 1.22;
/** Places of a malt store that is no limit: room for malt made ahead. */
const STORE_AIM = 0.35;
const LEAST_STORE = 0.2;
/** The store is counted on its fullest day; it has to be short on most days to be felt. */
const STORE_BINDING = [1.7, 2.3] as const;
const STORE_PLANTED = 2;
/** Grams of grist in a litre of wort, roughly; only the first guess hangs on it. */
const GRIST_G_PER_L = 180;
const TANK_DAYS = 16;
/** A knob is never turned further at once, however tight things are. */
const MOST_TURN = 4;

/** A first guess; `turned` mends it. */
export function firstKnobs({ spec, limit }: MadeFrame): Knobs {
  const brewsPerWeek = spec.brews / spec.weeks;
  const brewL = (spec.brewHl[0] + spec.brewHl[1]) / 2 * 100;
  return {
    bedG: Math.round(brewsPerWeek * brewL * GRIST_G_PER_L / spec.beds),
    steepShare: limit === "steep" ? 0.5 : 1.15,
    kilnShare: limit === "kiln" ? 0.5 : 1.05,
    tanks: Math.max(1, Math.ceil(brewsPerWeek * 2)),
    grain: limit === "grain" ? 0.7 : 1.45,
    bins: limit === "bins" ? 0.3 : 1.05,
    places: 60,
    slowDays: 0,
  };
}

/** The knobs turned towards what is wanted; the same ones when all is as wanted. */
export function turned(frame: MadeFrame, knobs: Knobs, tight: Tightness): Knobs {
  const { limit } = frame;
  const aim = (of: Limit) => limit === of ? AIM : SLACK_AIM;
  const off = (of: Limit) => !isWanted(limit, of, tight[of]);
  const share = (of: "steep" | "kiln", now: number, grown: number) =>
    off(of) ? now * Math.min(MOST_TURN, tight[of]) / aim(of) / grown : now;
  const bedG = turnedBed(frame, knobs.bedG, tight);
  return {
    bedG,
    steepShare: share("steep", knobs.steepShare, bedG / knobs.bedG),
    kilnShare: share("kiln", knobs.kilnShare, bedG / knobs.bedG),
    ...turnedTanks(limit, knobs, tight.tanks),
    grain: off("grain") ? knobs.grain * Math.min(MOST_TURN, tight.grain) / aim("grain") : knobs.grain,
    // Bins that are there already take part of the grain, so the turn is made larger than it looks.
    bins: off("bins") ? Math.max(0, knobs.bins * (tight.bins / aim("bins")) ** 2) : knobs.bins,
    places: off("store") || tight.store < LEAST_STORE
      ? Math.max(
        2,
        Math.round(
          knobs.places * Math.max(0.1, tight.store) / (limit === "store" ? STORE_PLANTED : STORE_AIM),
        ),
      )
      : knobs.places,
  };
}

function turnedBed({ limit, size }: MadeFrame, bedG: number, tight: Tightness): number {
  const rounded = (massG: number) => Math.max(20_000, Math.round(massG / 1000) * 1000);
  // A bed that is nearly full as well lets the staffed days be only just too few.
  if (limit === "hands" && tight.bed > SLACK) {
    return rounded(bedG * Math.min(MOST_TURN, tight.hands) / HANDS_AIM);
  }
  if (limit === "bed" || limit === "hands") {
    return isWanted(limit, limit, tight[limit])
      ? bedG
      : rounded(bedG * Math.min(MOST_TURN, tight[limit]) / AIM);
  }
  if (limit === "steep" || limit === "kiln") {
    return isWanted(limit, "bed", tight.bed)
      ? bedG
      : rounded(bedG * Math.min(MOST_TURN, tight.bed) / BED_AIM);
  }
  const [least, most] = size === "micro" ? MICRO_TOGETHER : TOGETHER;
  const aim = size === "micro" ? MICRO_TOGETHER_AIM : TOGETHER_AIM;
  const fine = tight.together >= least && tight.together <= most;
  return fine ? bedG : rounded(bedG * Math.min(MOST_TURN, tight.together) / aim);
}

/** Tanks are few on a small farm, so the last step is made with the days that beer stays in them. */
function turnedTanks(limit: PlantedLimit, knobs: Knobs, tight: number): Pick<Knobs, "tanks" | "slowDays"> {
  const { tanks, slowDays } = knobs;
  if (isWanted(limit, "tanks", tight)) return { tanks, slowDays };
  if (limit !== "tanks") {
    return { tanks: Math.max(tanks + 1, Math.ceil(tanks * tight / SLACK_AIM)), slowDays };
  }
  const wanted = Math.max(1, Math.floor(tanks * tight / BINDING[0]));
  return wanted !== tanks
    ? { tanks: wanted, slowDays }
    : { tanks, slowDays: slowDays + Math.round((TANK_DAYS + slowDays) * (AIM / tight - 1)) };
}

/** Whether a limit is as tight as it should be. */
function isWanted(planted: PlantedLimit, limit: Limit, tightness: number): boolean {
  const [least, greatest] = limit === "store" ? STORE_BINDING : BINDING;
  return planted === limit ? tightness >= least && tightness <= greatest : tightness <= SLACK;
}
