import { weekday } from "../calendar.ts";
import type { MicroFrame, Part, Row } from "./micro-frame.ts";

const EVERY_DAY = [1, 2, 3, 4, 5, 6, 7];
const EVERY_MONTH = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12];

/** One steep, one bed, one kiln, two malts, and a roster that lets few steeps start. */
export function microMalthouse(
  frame: MicroFrame,
): Part<"vessels" | "people" | "roster" | "maltTypes" | "maltStore"> {
  const { luck, theme } = frame;
  const sundays = luck.oneIn(2);
  return {
    vessels: vessels(frame),
    people: [{ id: "maltster", name: "The maltster", roles: ["maltster", "brewer"] }],
    roster: roster(frame, sundays),
    maltTypes: malts(frame, sundays),
    maltStore: theme === "malt store"
      ? { places: luck.int(1, 3), placeG: 200_000 }
      : { places: 12, placeG: 300_000 },
  };
}

function vessels({ luck, theme, loadG, day }: MicroFrame): Row<"vessels">[] {
  const leastShare = luck.pick([0.4, 0.6, 0.9]);
  const loadLimits = (factor: number) =>
    ([["barley", 1], ["wheat", 0.8]] as const).map(([crop, packing]) => ({
      crop,
      leastG: Math.round(loadG * leastShare * packing),
      greatestG: Math.round(loadG * factor * packing),
    }));
  const month = Number(day(14).slice(5, 7));
  const monthShare = luck.oneIn(3) ? luck.int(7, 9) / 10 : 1;
  const service = { from: `${day(24)}T00:00`, to: `${day(26)}T00:00`, reason: "Service" };
  return [
    { id: "steep", name: "Steep", stages: ["steep"], loadLimits: loadLimits(1.1), cleaningHours: 3 },
    {
      id: "bed",
      name: "Bed",
      stages: ["bed"],
      loadLimits: loadLimits(1),
      monthLoadFactor: Array.from(EVERY_MONTH, (one) => one === month ? Math.max(monthShare, leastShare) : 1),
      cleaningHours: luck.pick(theme === "bed" ? [24, 40] : [4, 8]),
      changeOver: [{ from: "barley", to: "wheat", hours: luck.pick([8, 24]) }],
      turning: luck.oneIn(5)
        ? { by: "hand", everyHours: 8, nightTurnCents: 1500, mostNightTurnsPerWeek: luck.pick([10, 14, 21]) }
        : { by: "machine", lookInEveryHours: luck.pick([24, 36]) },
    },
    {
      id: "kiln",
      name: "Kiln",
      stages: ["kiln"],
      loadLimits: loadLimits(1.05),
      cleaningHours: 2,
      firedLookInEveryHours: 4,
      closures: luck.oneIn(4) ? [service] : [],
    },
  ];
}

function roster({ luck, starts, today, day }: MicroFrame, sundays: boolean): Part<"roster">["roster"] {
  const steepIn = ["steepIn"] as ["steepIn"];
  const away = { from: day(starts[1]!), to: day(starts[1]!), handOvers: steepIn, reason: "Away" };
  return {
    weekly: [
      {
        weekdays: [...new Set(starts.map((start) => weekday(today + start)))],
        from: "07:00",
        to: "10:00",
        handOvers: steepIn,
      },
      {
        weekdays: sundays ? EVERY_DAY : EVERY_DAY.slice(0, 6),
        from: "06:00",
        to: "18:00",
        handOvers: ["castToBed", "kilnLoading", "strip"],
        personId: "maltster",
      },
    ],
    closed: [
      // After the last legal start nothing is steeped, which keeps the number of plans small.
      { from: day(starts.at(-1)! + 1), to: day(400), handOvers: steepIn, reason: "Malting is over" },
      ...(luck.oneIn(5) ? [away] : []),
    ],
    lookIns: [{ weekdays: EVERY_DAY, at: ["09:00", "17:00"], personId: "maltster" }],
    steepInTimes: ["08:00"],
    heldDays: luck.oneIn(5) ? 2 : 0,
  };
}

function malts(frame: MicroFrame, sundays: boolean): Row<"maltTypes">[] {
  const { luck, theme, secondCrop } = frame;
  const bedHours = luck.pick(theme === "bed" ? [120, 144] : [72, 96, 120]);
  const shelfLifeDays = luck.pick([21, 120, 365]);
  // Without Sundays a stage that would end on one is stretched to Monday.
  const stretchHours = sundays ? luck.pick([0, 0, 4]) : 26;
  const profile = (id: string, hours: number) => ({
    id,
    name: `${hours} hours in the bed`,
    steep: { least: 48, usual: 48, greatest: 48 },
    bed: { least: hours, usual: hours, greatest: hours + stretchHours },
    kiln: { least: 24, usual: 24, greatest: 24 + stretchHours },
  });
  const made = (crop: "barley" | "wheat", profiles: ReturnType<typeof profile>[]) => ({
    from: "grain" as const,
    crops: [crop],
    acceptance: {},
    profiles,
    screeningLoss: luck.pick([0.02, 0.04, 0.06]),
    steepLossDm: 0.01,
    respirationLossDm: 0.05,
    rootletLossDm: 0.04,
    runCents: 100 * luck.int(80, 300),
    perTonneCents: 100 * luck.int(0, 60),
  });
  const firstProfiles = [profile("malt-one-usual", bedHours)];
  if (luck.oneIn(4)) firstProfiles.push(profile("malt-one-short", bedHours - 24));
  return [
    {
      id: "malt-one",
      name: "First malt",
      made: made("barley", firstProfiles),
      maltMoistureWb: 0.045,
      extractCoarseDb: 0.8,
      restDays: luck.int(3, 7),
      shelfLifeDays,
    },
    {
      id: "malt-two",
      name: "Second malt",
      made: made(secondCrop, [profile("malt-two-usual", bedHours)]),
      maltMoistureWb: 0.05,
      extractCoarseDb: 0.82,
      restDays: luck.int(3, 6),
      shelfLifeDays,
    },
  ];
}
