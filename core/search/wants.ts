import type { RunChoice } from "./candidate.ts";
import type { Loads } from "./loads.ts";
import type { Want } from "./piles.ts";
import type { Problem } from "./problem.ts";

/** All wants for grain: runs, seed and contracts, raw grain; in order of day. A run's key is its index. */
export function wantsOf(
  problem: Problem,
  runs: readonly RunChoice[],
  loads: Loads,
  raw: readonly Want[],
): Want[] {
  const wants: Want[] = [...raw];
  runs.forEach((run, key) => {
    const day = run.slot.steepDay;
    const first = loads.drawG[key] as number;
    const second = loads.draw2G[key] as number;
    if (run.fixed?.standing === "under way") return;
    if (run.fixed) {
      for (const draw of run.fixed.draws) {
        const store = problem.stores.findIndex((one) => one.id === draw.storeId);
        wants.push({ day, lot: draw.lot, massG: draw.massG, key, single: true, store });
      }
      return;
    }
    const two = second > 0;
    if (first > 0) wants.push({ day, lot: run.lot, massG: first, key, single: two, last: two });
    if (two) wants.push({ day, lot: run.lot2, massG: second, key, single: true });
  });
  for (const lot of problem.lots) {
    lot.firm.forEach((firm, i) =>
      wants.push({
        day: firm.day,
        lot: lot.index,
        massG: firm.massG,
        key: firmKey(lot.index, i),
        single: false,
      })
    );
  }
  return wants.sort((a, b) => a.day - b.day || a.lot - b.lot || a.key - b.key);
}

/** Key of a lot's i-th want for seed or a contract; below all others. */
export function firmKey(lot: number, i: number): number {
  return -1_000_000 - lot * 1000 - i;
}

/** Whether two lists ask for the same grain, for the same runs, on the same days. */
export function sameWants(a: readonly Want[], b: readonly Want[]): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) {
    const one = a[i] as Want;
    const other = b[i] as Want;
    if (
      one.day !== other.day || one.lot !== other.lot || one.massG !== other.massG || one.key !== other.key
    ) return false;
  }
  return true;
}
