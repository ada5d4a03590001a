import { weekday } from "../calendar.ts";
import type { HandOver } from "../season/malthouse.ts";
import type { MadeFrame } from "./made-frame.ts";
import type { Part } from "./micro-frame.ts";

const ALL: HandOver[] = ["steepIn", "castToBed", "kilnLoading", "strip"];
const LATER: HandOver[] = ["castToBed", "kilnLoading", "strip"];
const EVERY_DAY = [1, 2, 3, 4, 5, 6, 7];
const WEEKDAYS = [1, 2, 3, 4, 5];

/** People by their trades, and when they are at the vessels. */
export function madePeople(frame: MadeFrame): Part<"people" | "roster"> {
  const { size, spec, luck, day } = frame;
  const chances = luck("people");
  const kind = rosterKind(frame);
  const micro = size === "micro";
  const holiday = chances.int(80, 160);
  const away = !micro && chances.oneIn(2)
    ? [{ from: day(holiday), to: day(holiday + 4), reason: "Holiday" }]
    : [];
  const second = spec.beds > 1;
  const windows = {
    "weekdays": [{ weekdays: WEEKDAYS, from: "07:00", to: "16:00", handOvers: ALL }],
    "six days": [
      { weekdays: WEEKDAYS, from: "07:00", to: "16:00", handOvers: ALL },
      { weekdays: [6], from: "07:00", to: "11:00", handOvers: ALL },
    ],
    "every day": [
      { weekdays: EVERY_DAY, from: "06:30", to: "12:00", handOvers: ALL },
      { weekdays: EVERY_DAY, from: "15:00", to: "17:00", handOvers: LATER },
    ],
    "three days": [{ weekdays: [1, 3, 5], from: "07:00", to: "18:00", handOvers: ALL }],
    "Mondays": [
      { weekdays: [1], from: "07:00", to: "10:00", handOvers: ALL },
      { weekdays: [2, 3, 4, 5], from: "07:00", to: "16:00", handOvers: LATER },
    ],
  }[kind];
  const busy = chances.int(50, 120);
  return {
    people: [
      { id: "owner", name: "The owner", roles: ["owner", "grower"] },
      { id: "maltster", name: "The maltster", roles: ["maltster"], away },
      ...(second ? [{ id: "under-maltster", name: "The under-maltster", roles: ["maltster" as const] }] : []),
      { id: "brewer", name: "The brewer", roles: micro ? ["brewer", "maltster"] : ["brewer"] },
    ],
    roster: {
      weekly: windows.map((window, at) => ({
        ...window,
        ...(at === 0 || !second ? { personId: second ? "under-maltster" : "maltster" } : {}),
      })),
      extra: kind === "weekdays" && !micro
        ? [{
          on: day(saturdayAfter(frame, chances.int(20, 60))),
          from: "08:00",
          to: "12:00",
          handOvers: ALL,
          personId: "maltster",
          costCents: 100 * chances.int(60, 120),
        }]
        : [],
      closed: micro || chances.oneIn(3) ? [] : [
        { from: day(busy), to: day(busy + 4), handOvers: ["steepIn"], reason: "In the fields" },
        { from: day(busy + 40), to: day(busy + 40), handOvers: ALL, reason: "Feast day" },
      ],
      lookIns: [{
        weekdays: EVERY_DAY,
        at: ["08:00", "18:00"],
        personId: second ? "under-maltster" : "owner",
      }],
      steepInTimes: size === "small" && chances.oneIn(4) ? ["08:00", "09:30"] : ["08:00"],
      heldDays: micro ? 0 : chances.pick([0, 2, 3, 3, 5]),
    },
  };
}

/** Days after as-of of the first Saturday from so many days on. */
function saturdayAfter({ today }: MadeFrame, after: number): number {
  return after + (13 - weekday(today + after)) % 7;
}

/** Which days are staffed for hand-overs. */
type RosterKind = "weekdays" | "six days" | "every day" | "three days" | "Mondays";

/** A roster is never the limit by chance: a farm that is to run short of vessels is staffed on most days. */
export function rosterKind({ limit, luck }: MadeFrame): RosterKind {
  const draw = luck("roster kind").int(0, 5);
  if (limit === "hands") return "Mondays";
  if (limit === "bed" || limit === "kiln" || limit === "steep") return draw < 4 ? "every day" : "six days";
  return (["weekdays", "weekdays", "six days", "every day", "every day", "three days"] as const)[draw]!;
}
