import { dayNumber } from "../../calendar.ts";
import { forecastFills } from "../forecast.ts";
import { planEndDay } from "../tail.ts";
import type { Checking } from "./checking.ts";
import { ledger } from "./ledger.ts";

const G_PER_KG = 1000;

/** Seed is firm: every plan takes it on its day, so there has to be so much of its lot by then. */
export function checkSeed(checking: Checking): void {
  const { season, asOf, today, tell } = checking;
  const accounts = [...ledger(checking).grain.values()];
  const fills = forecastFills(season, asOf);
  const taken = new Map<string, number>();
  const due = season.seedReserves.map((seed, i) => ({ ...seed, i, day: dayNumber(seed.on) }))
    .filter(({ day }) => day >= today && day <= planEndDay(season)).sort((a, b) => a.day - b.day);
  for (const { i, lotId, massG, day, on } of due) {
    const stockG = accounts.reduce(
      (sum, one) => one.lotId === lotId ? sum + Math.max(0, one.balanceG) : sum,
      0,
    );
    const comeG = fills.reduce(
      (sum, fill) => fill.lotId === lotId && fill.day <= day ? sum + fill.massG : sum,
      0,
    );
    const beforeG = taken.get(lotId) ?? 0, leftG = stockG + comeG - beforeG;
    taken.set(lotId, beforeG + massG);
    if (massG <= leftG) continue;
    tell("seed-over-stock", ["seedReserves", i, "massG"], {
      limit: `${Math.floor(Math.max(0, leftG) / G_PER_KG)} kg, what there is of lot ${lotId} by ${on}`,
      message: `More seed is set aside from lot ${lotId} than there will be of it on ${on}.`,
      wayOut: "Set less aside, move the day, or take it from another lot.",
    });
  }
}
