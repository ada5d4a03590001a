import { datedOf } from "./dates.ts";
import { assignTanks, type TankChoice } from "./tanks.ts";
import type { Weighing } from "./weighing.ts";

/** A brew on a day in its tanks (none for malt that is sold), with its 0-or-1 column. */
export interface DayChoice {
  demand: number;
  day: number;
  tanks: TankChoice;
  column: number;
}

/**
 * Days and tanks by whole numbers: sum over choices of a brew <= 1 (its `made` row); no tank holds two brews at once; brews of a
 * day <= brews a day. A brew that no one tank takes keeps the day and the tanks the search gave it.
 */
export function chooseDays(of: Weighing): DayChoice[] {
  const { problem, model, tanks } = of;
  const choices: DayChoice[] = [];
  const found = assignTanks(problem, tanks, datedOf(problem, of.day)).tanks;
  for (const index of of.order) {
    const demand = problem.demands[index] as (typeof problem.demands)[number];
    for (const day of of.daysOf(index)) {
      if (demand.kind === "sale") {
        choices.push({ demand: index, day, tanks: [], column: model.column(0, 0, 1, true) });
        continue;
      }
      let placed = false;
      tanks.ids.forEach((_, tank) => {
        const until = day + demand.tankDays + (tanks.turnaround[tank] as number);
        const shut = (tanks.closed[tank] as readonly (readonly [number, number])[]).some(([from, to]) =>
          day < to && from < until
        );
        if (
          (tanks.volumeL[tank] as number) < demand.volumeL || (tanks.freeDay[tank] as number) > day || shut
        ) return;
        choices.push({
          demand: index,
          day,
          tanks: [{ tank, volumeL: demand.volumeL }],
          column: model.column(0, 0, 1, true),
        });
        placed = true;
      });
      const split = found.get(index) ?? [];
      if (!placed && split.length > 1 && of.day[index] === day) {
        choices.push({ demand: index, day, tanks: split, column: model.column(0, 0, 1, true) });
      }
    }
  }
  const days = [...new Set(choices.map((one) => one.day))].sort((a, b) => a - b);
  for (const day of days) {
    const brews = choices.filter((one) => one.day === day && problem.demands[one.demand]?.kind === "brew");
    model.row(-Infinity, problem.season.brewhouse.brewsPerDay, brews.map((one) => [one.column, 1]));
    tanks.ids.forEach((_, tank) => {
      const holding = choices.filter((one) =>
        one.tanks.some((other) => other.tank === tank) && one.day <= day &&
        one.day + (problem.demands[one.demand]?.tankDays ?? 0) + (tanks.turnaround[tank] as number) > day
      );
      if (holding.length > 1) model.row(-Infinity, 1, holding.map((one) => [one.column, 1]));
    });
  }
  return choices;
}
