import { yearOf } from "../calendar.ts";
import { type Crop, CROPS } from "../season/quantity.ts";
import { type Knobs, type MadeFrame, rawGrains } from "./made-frame.ts";
import { type HomeNeed, leastLeadDays } from "./tight-need.ts";

/** One lot of the season before it is written down. Days are day numbers, the weight is as in bin at as-of. */
export interface LotPlan {
  readonly id: string;
  readonly letter: string;
  readonly crop: Crop;
  readonly year: number;
  readonly harvest: number;
  readonly wakes: number;
  readonly massG: number;
  /** First and last day on which it is meant to be steeped. */
  readonly from: number;
  readonly to: number;
  readonly state: "in store" | "to come";
  readonly kind: "malting" | "mixed" | "failed" | "raw" | "held" | "bought" | "customer";
  /** Cut a month before the others of its crop: sown in autumn. */
  readonly winter: boolean;
}

/** The older harvest still serves for so long after the next one has woken. */
const OVERLAP_DAYS = 16;
const WINTER_EARLIER_DAYS = 30;
const STEP_G = 1000;
/** Two tails tipped together. */
export const MIXED_G = 500_000;
/** The weeks after the horizon are planned too, so the last harvest has to reach beyond it. */
const TAIL_SHARE = 1.25;

/** Lots kept for specials and for splits of the main crop; the lighter crops' harvests are joined for that. */
const FOR_SPLITS = { micro: 0, small: 0, typical: 0, large: 12, coop: 40 } as const;

type Sketch = Omit<LotPlan, "id" | "letter">;

/** As many lots as the size has: harvests that carry the need one after the other, split, and others beside them. */
export function lotPlans(
  frame: MadeFrame,
  knobs: Knobs,
  needs: readonly HomeNeed[],
  rawG: number,
): LotPlan[] {
  const { spec } = frame;
  let sketches = CROPS.flatMap((crop) => harvests(frame, knobs, needs, crop));
  sketches = shorten(sketches, spec.lots - FOR_SPLITS[frame.size]);
  sketches.push(...specials(frame, knobs, rawG, sketches, spec.lots - sketches.length));
  while (sketches.length < spec.lots) sketches = splitHeaviest(frame, sketches);
  return sketches.sort((a, b) => a.harvest - b.harvest).map((sketch, at) => ({
    ...sketch,
    id: `lot-${at + 1}`,
    letter: letterOf(at),
  }));
}

function letterOf(at: number): string {
  const letter = (of: number) => String.fromCharCode(65 + of % 26);
  return at < 26 ? letter(at) : `${letter(Math.floor(at / 26) - 1)}${letter(at)}`;
}

/** Lots of one crop: that of the last harvest already awake, and one of each later harvest inside the horizon. */
function harvests(frame: MadeFrame, knobs: Knobs, needs: readonly HomeNeed[], crop: Crop): Sketch[] {
  const { today, horizon, harvestDay, restDays } = frame;
  const own = needs.filter((need) => need.made.crops[0] === crop);
  if (own.length === 0) return [];
  const wakes = (year: number) => harvestDay(crop, year) + restDays(crop);
  let first = yearOf(today);
  while (wakes(first) > today) first--;
  const years = [first];
  while (harvestDay(crop, years.at(-1)! + 1) <= horizon) years.push(years.at(-1)! + 1);
  // Bins that are to be too small must not be large for the sake of grain left over from last year.
  const share = (at: number) => frame.limit === "bins" && at === 0 ? 1.3 : knobs.grain;
  const overlap = frame.limit === "bins" ? 4 : OVERLAP_DAYS;
  return years.map((year, at) => {
    const from = at === 0 ? -Infinity : wakes(year) + overlap;
    const to = at === years.length - 1 ? Infinity : wakes(year + 1) + overlap;
    const neededG = own.reduce((sum, need) => sum + steepedG(need, from, to), 0);
    const least = knobs.bedG * leastLoads(frame);
    return {
      crop,
      year,
      harvest: harvestDay(crop, year),
      wakes: wakes(year),
      massG: round(Math.max(least, neededG * share(at) * (at === years.length - 1 ? TAIL_SHARE : 1))),
      from: Math.max(today, from),
      to: Math.min(horizon, to),
      state: harvestDay(crop, year) <= today ? "in store" as const : "to come" as const,
      kind: "malting" as const,
      winter: false,
    };
  });
}

/** Least weight of a lot in loads of a bed: less than one load is worth little, but must not hide a planted lack. */
function leastLoads({ size, limit }: MadeFrame): number {
  if (limit !== "bins" && limit !== "grain") return 1.2;
  return size === "micro" ? 0.3 : limit === "grain" ? 0.5 : 1.2;
}

/** Grain as in bin that has to be steeped between two days, both needs and lead at the quickest. */
function steepedG(need: HomeNeed, from: number, to: number): number {
  const lead = leastLeadDays(need);
  return need.net.reduce(
    (sum, { day, massG }) =>
      day - lead >= from && day - lead < to
        ? sum + massG / need.maltPerClean / (1 - need.made.screeningLoss)
        : sum,
    0,
  );
}

function round(massG: number): number {
  return Math.ceil(massG / STEP_G) * STEP_G;
}

/** Where a size has fewer lots than harvests, the lightest crop's later harvests are taken into its first. */
function shorten(sketches: Sketch[], most: number): Sketch[] {
  let left = sketches;
  while (left.length > most) {
    const counted = CROPS.map((crop) => left.filter((one) => one.crop === crop)).filter((of) =>
      of.length > 1
    );
    if (counted.length === 0) return left;
    const total = (of: readonly Sketch[]) => of.reduce((sum, one) => sum + one.massG, 0);
    const lightest = counted.reduce((least, of) => total(of) < total(least) ? of : least);
    const [first, second] = lightest as [Sketch, Sketch];
    const joined = { ...first, massG: first.massG + second.massG, to: second.to };
    left = left.flatMap((one) => one === first ? [joined] : one === second ? [] : [one]);
  }
  return left;
}

/** Lots beside the malting harvests: raw, failed, bought, another owner's, tipped together and held. */
function specials(
  frame: MadeFrame,
  knobs: Knobs,
  rawG: number,
  harvested: readonly Sketch[],
  room: number,
): Sketch[] {
  const { size, luck, today, horizon, harvestDay } = frame;
  const chances = luck("special lots");
  const most = { micro: 0, small: 1, typical: 2, large: 5, coop: 8 }[size];
  const last = harvested.find((one) => one.crop === "barley" && one.state === "in store")!;
  const common = { ...last, from: today, to: horizon, winter: false };
  const { crop } = rawGrains(frame).raw;
  const unmalted = { ...common, crop, harvest: harvestDay(crop, last.year), wakes: today };
  const bed = knobs.bedG;
  const all: Sketch[] = [
    { ...unmalted, kind: "raw", massG: round(rawG * 1.3 + 100_000) },
    { ...common, kind: "failed", massG: round(bed * chances.int(10, 25) / 10) },
    { ...common, kind: "bought", massG: round(bed * 1.2), state: "to come" },
    { ...common, kind: "customer", massG: round(bed * 1.3) },
    { ...common, kind: "mixed", massG: MIXED_G },
    { ...common, kind: "held", massG: round(bed * 0.9) },
    { ...common, kind: "failed", massG: round(bed * 1.1) },
    { ...common, crop: "barley", kind: "held", massG: round(bed * 0.7) },
  ];
  return all.slice(0, Math.max(0, Math.min(most, room)));
}

/** The heaviest malting lot becomes two; of barley the lighter one was sown in autumn and cut earlier. */
function splitHeaviest({ today }: MadeFrame, sketches: Sketch[]): Sketch[] {
  const malting = sketches.filter((one) => one.kind === "malting");
  const heaviest = malting.reduce((most, one) => one.massG > most.massG ? one : most);
  const share = heaviest.winter ? 0.5 : 0.4;
  const stays = heaviest.state === "in store" || heaviest.harvest - WINTER_EARLIER_DAYS > today + 3;
  const early = heaviest.crop === "barley" && !heaviest.winter && stays ? WINTER_EARLIER_DAYS : 0;
  const part: Sketch = {
    ...heaviest,
    massG: round(heaviest.massG * share),
    harvest: heaviest.harvest - early,
    wakes: heaviest.wakes - early,
    winter: heaviest.winter || early > 0,
  };
  const rest = { ...heaviest, massG: round(heaviest.massG * (1 - share)) };
  return sketches.flatMap((one) => one === heaviest ? [part, rest] : [one]);
}
