import { type Crop, CROPS } from "../season/quantity.ts";
import type { Knobs, MadeFrame } from "./made-frame.ts";
import type { Row } from "./micro-frame.ts";

/** Which vessels serve which stages. Stages of one name share a vessel. */
const LAYOUTS = {
  "three vessels": [["steep"], ["bed"], ["kiln"]],
  "bed and kiln in one": [["steep"], ["bed", "kiln"]],
  "steep and bed in one": [["steep", "bed"], ["kiln"]],
  "all in one": [["steep", "bed", "kiln"]],
} as const;
type Layout = keyof typeof LAYOUTS;

const NAMES: Readonly<Record<string, string>> = {
  "steep": "Steep",
  "bed": "Germination bed",
  "kiln": "Kiln",
  "bed kiln": "Germination and kiln box",
  "steep bed": "Steep and bed",
  "steep bed kiln": "Malting drum",
};

/** Less wheat, rye and oats than barley go into a vessel: they pack dense, or swell; common practice, no source. */
const PACKING: Readonly<Record<Crop, number>> = { barley: 1, wheat: 0.85, rye: 0.85, oats: 0.75 };

/** Every line's vessels; loads follow the knobs. */
export function madeVessels(frame: MadeFrame, knobs: Knobs): Row<"vessels">[] {
  const { spec, limit, luck } = frame;
  const chances = luck("vessels");
  const layout = layoutOf(frame);
  const shareKiln = !spec.lines && limit !== "kiln" && chances.oneIn(2);
  return Array.from({ length: spec.beds }, (_, line) => line).flatMap((line) =>
    LAYOUTS[layout].flatMap((stages): Row<"vessels">[] => {
      // Two beds may share a kiln: it is free most of the time.
      if (shareKiln && line > 0 && stages[0] === "kiln") return [];
      return [vessel(frame, knobs, line, stages, shareKiln)];
    })
  );
}

function layoutOf({ limit, luck }: MadeFrame): Layout {
  // The hours of one vessel must not be counted with those of another where one of them is planted.
  if (limit === "steep" || limit === "kiln" || limit === "hands") return "three vessels";
  const kinds: Layout[] = [
    "three vessels",
    "three vessels",
    "three vessels",
    "bed and kiln in one",
    "steep and bed in one",
    "all in one",
  ];
  return luck("layout").pick(kinds);
}

function vessel(
  frame: MadeFrame,
  knobs: Knobs,
  line: number,
  stages: readonly ("steep" | "bed" | "kiln")[],
  shared: boolean,
): Row<"vessels"> {
  const { spec, limit, luck, horizon, opened, day, today } = frame;
  const kind = stages.join(" ");
  const chances = luck(`vessel ${kind}`);
  const hasBed = stages.includes("bed");
  const isKiln = stages.includes("kiln");
  const share = hasBed ? 1 : kind === "steep" ? knobs.steepShare : knobs.kilnShare;
  // The least load has to go through the smallest vessel of the line too.
  // Thin beds are made where the malt store takes no more.
  const least = (limit === "store" ? 0.12 : 0.45) * Math.min(1, knobs.steepShare, knobs.kilnShare);
  const cleaningHours = kind === "kiln" && limit === "kiln"
    ? 20
    : kind === "steep" && limit === "steep"
    ? 10
    : 4;
  const changesOver = hasBed && !chances.oneIn(3);
  const closure = (from: number, days: number, reason: string) => ({
    from: `${day(from)}T00:00`,
    to: `${day(from + days)}T00:00`,
    reason,
  });
  const plantedHere = kind === limit && spec.weeks > 12;
  const pauses = plantedHere
    // A vessel that is to be the limit is out of use now and then as well.
    ? Array.from(
      { length: Math.floor(spec.weeks / 10) },
      (_, at) => closure(60 + 70 * at, 10, "Under repair"),
    )
    : spec.weeks > 12 && chances.oneIn(2) && line === 0
    ? [closure(chances.int(70, 150), 4, "Service")]
    : [];
  return {
    id: spec.beds === 1 || shared && stages[0] === "kiln"
      ? stages.join("-")
      : `${stages.join("-")}-${line + 1}`,
    name: spec.beds === 1 ? NAMES[kind]! : `${NAMES[kind]!} ${line + 1}`,
    stages: [...stages],
    ...(spec.lines ? { line: `line ${line + 1}` } : {}),
    loadLimits: CROPS.map((crop) => ({
      crop,
      leastG: Math.round(knobs.bedG * least * PACKING[crop]),
      greatestG: Math.round(knobs.bedG * share * PACKING[crop]),
    })),
    ...(hasBed && !plantedHere && chances.oneIn(3)
      ? { monthLoadFactor: Array.from({ length: 12 }, (_, month) => month === 6 || month === 7 ? 0.85 : 1) }
      : {}),
    cleaningHours,
    changeOver: changesOver
      ? CROPS.flatMap((from) =>
        CROPS.filter((to) => to !== from).map((to) => ({ from, to, hours: cleaningHours + 4 }))
      )
      : [],
    ...(hasBed ? { turning: turning(frame) } : {}),
    ...(isKiln ? { firedLookInEveryHours: 4 } : {}),
    closures: pauses.filter((one) => one.to < day(horizon - today) && one.from > day(opened - today)),
  };
}

function turning({ luck }: MadeFrame): NonNullable<Row<"vessels">["turning"]> {
  const chances = luck("turning");
  return chances.oneIn(4)
    ? { by: "hand", everyHours: 8, nightTurnCents: 100 * chances.int(8, 20), mostNightTurnsPerWeek: 25 }
    : { by: "machine", lookInEveryHours: chances.pick([20, 24]) };
}
