import { isoDate } from "../calendar.ts";
import type { Plan, PlanBrew } from "../plan/plan.ts";
import type { Lack } from "./causes.ts";
import { Cellar, type CellarBatch, type Drawn, OPEN_G } from "./cellar.ts";
import type { Taking } from "./money.ts";
import { meets } from "./origin.ts";
import type { Problem } from "./problem.ts";
import { rawKey } from "./serve.ts";
import type { Settling } from "./settling.ts";
import { assignTanks } from "./tanks.ts";
import { explain, type Explained, freeFor } from "./unmade.ts";
import { keyOf } from "./weigh-sources.ts";
import type { Weights } from "./weights.ts";

/** Brews with their grists, malt delivered, and what every batch gave. */
export type Filled = Pick<Plan, "brews" | "maltDeliveries"> & {
  takings: Taking[];
  salesCents: number;
};

/** Gives every made brew its grist, in order of brew day; `explain` names a first cause for the others, which takes longer. */
export function fillBrews(
  settling: Settling,
  batches: readonly CellarBatch[],
): Filled & { explain: () => Explained } {
  const { problem, evaluator, candidate, weights, tanks } = settling;
  const { season } = problem;
  const { table } = evaluator;
  const cellar = new Cellar(problem, batches);
  const filled: Filled = {
    brews: [],
    maltDeliveries: [],
    takings: [],
    salesCents: 0,
  };
  const lacks = new Map<number, Lack>();
  const met: { demand: number; grist: PlanBrew["grist"]; homeG: number; totalG: number }[] = [];

  for (const index of byDay(candidate.day)) {
    if (weights.status[index] === 0) continue;
    const demand = problem.demands[index] as Problem["demands"][number];
    const on = candidate.day[index] as number;
    const all: Drawn[] = [];
    const grist: PlanBrew["grist"] = [];
    const stowed: { lot: number; massG: number }[] = [];
    let homeG = 0;
    let totalG = 0;
    let lack: Lack | null = null;
    cellar.begin();
    demand.lines.forEach((line, l) => {
      if (lack) return;
      const at = (table.first[index] as number) + l;
      const material = problem.materials[line.material] as Problem["materials"][number];
      const note = (drawn: readonly Drawn[]) => {
        for (const one of drawn) {
          all.push(one);
          grist.push({
            lineId: line.lineId,
            from: { kind: "batch", batchId: one.batch.id },
            massG: one.massG,
          });
          totalG += one.massG;
          if (one.batch.home) homeG += one.massG;
        }
      };
      if (material.malt === null) {
        const taken = settling.stowage.taken.filter((one) => one.key === rawKey(at));
        if (taken.length > 0) {
          stowed.push(...taken);
          for (const one of taken) {
            const lot = problem.lots[one.lot];
            grist.push({
              lineId: line.lineId,
              from: { kind: "lot", lotId: lot?.id ?? "", storeId: problem.stores[one.store]?.id ?? "" },
              massG: one.massG,
            });
            totalG += one.massG;
            if (lot?.home) homeG += one.massG;
          }
          return;
        }
        const bag = cellar.take(material, false, line.extractG, on);
        note(bag.drawn);
        if (bag.missingG > 0) lack = { material: material.index, day: on };
        return;
      }
      if (demand.kind === "sale") {
        let openG = line.bookMassG;
        const sell = (key: string | null, massG: number) => {
          const drawn = cellar.takeMass(material, key, Math.min(openG, massG), on);
          note(drawn);
          openG -= drawn.reduce((sum, each) => sum + each.massG, 0);
        };
        const parts = partsOf(weights, at, line.material);
        // What is to be bought is not taken from home-grown malt that others count on.
        for (const { key, home, extractG, perG } of parts) {
          if (key !== null) sell(key, Math.round(extractG / cellar.perGOf(material, key)));
          else sell(home ? null : "bought", Math.round(extractG / perG));
        }
        // What rounding left open comes from the same batches, if it must be theirs.
        for (const { key } of parts) if (key !== null) sell(key, openG);
        if (parts.some(({ key, home }) => key === null && !home)) sell("bought", openG);
        if (demand.requires.length === 0) sell(null, openG);
        if (openG > 0) lack = { material: material.index, day: on };
        return;
      }
      let open = line.extractG;
      let uses = 0;
      // Each use is rounded by itself.
      const isOpen = () => open >= OPEN_G * Math.max(1, uses);
      const draw = (drawn: readonly Drawn[]) => {
        note(drawn);
        uses += drawn.length;
        open -= drawn.reduce((sum, each) => sum + each.massG * each.batch.perG, 0);
      };
      for (const part of partsOf(weights, at, line.material)) {
        const of = problem.materials[part.material] as typeof material;
        const wanted = Math.min(open, part.extractG);
        draw(
          part.key === null
            ? cellar.take(of, part.home, wanted, on).drawn
            : cellar.takeFrom(of, part.key, wanted, on),
        );
      }
      // What rounding or an order's whole packs left open: bought malt first, then whatever home malt is left.
      for (const home of [false, true]) {
        if (!isOpen()) break;
        draw(cellar.take(material, home, open, on).drawn);
      }
      if (isOpen()) lack = { material: material.index, day: on };
    });
    // Weights that were only counted do not see to a required origin.
    if (!lack && demand.requires.some((one) => !meets(one, all, stowed))) {
      lack = { material: demand.lines[0]?.material ?? -1, day: on };
    }
    if (lack) {
      cellar.giveBack(all);
      lacks.set(index, lack);
      continue;
    }
    for (const one of all) filled.takings.push({ batch: one.batch, day: on, massG: one.massG });
    met.push({ demand: index, grist: merged(grist), homeG, totalG });
  }

  const dated = met.filter((one) => problem.demands[one.demand]?.kind === "brew")
    .map((one) => ({ demand: one.demand, day: candidate.day[one.demand] as number }));
  const assigned = assignTanks(problem, tanks, dated);
  for (const one of met) {
    const demand = problem.demands[one.demand] as Problem["demands"][number];
    const on = isoDate(candidate.day[one.demand] as number);
    if (demand.kind === "sale") {
      filled.maltDeliveries.push({
        contractId: demand.id,
        on,
        from: one.grist.map((use) => ({
          batchId: use.from.kind === "batch" ? use.from.batchId : "",
          massG: use.massG,
        })),
      });
      const contract = season.contracts.find((other) => other.id === demand.id);
      filled.salesCents -= (contract?.perTonneCents ?? 0) * one.totalG / 1e6;
      continue;
    }
    const homeShare = one.totalG > 0 ? one.homeG / one.totalG : 0;
    filled.brews.push({
      id: demand.id,
      beerId: demand.beerId,
      standing: demand.booked ? "booked" : "not booked",
      on,
      tanks: (weights.tanks?.get(one.demand) ?? assigned.tanks.get(one.demand) ?? []).map((
        { tank, volumeL },
      ) => ({ tankId: tanks.ids[tank] ?? "", volumeL })),
      grist: one.grist,
      homeShare: Math.floor(homeShare * 1e6 + 1e-6) / 1e6,
      promiseHeld: homeShare + 1e-9 >= demand.promise,
    });
  }
  return {
    ...filled,
    explain: () => explain(settling, lacks, met, freeFor(settling, batches, filled.takings, dated)),
  };
}

/** Dated demands in order of day. */
function byDay(day: Int32Array): number[] {
  const dated = Array.from(day.keys()).filter((index) => (day[index] as number) >= 0);
  return dated.sort((a, b) => (day[a] as number) - (day[b] as number) || a - b);
}

interface Part {
  material: number;
  home: boolean;
  /** The batch to take it from, or null for first in, first out. */
  key: string | null;
  extractG: number;
  /** Extract in a gram of it. */
  perG: number;
}

/** What a line takes: substitutes first, then its own material; malt bought in packs that the weights did not count comes first in, first out. */
function partsOf(weights: Weights, line: number, material: number): Part[] {
  const parts: Part[] = [];
  for (const use of weights.uses) {
    if (use.line !== line) continue;
    const { source } = use;
    const named = source.batchId !== null || source.run >= 0 ||
      (weights.orders !== null && source.offer >= 0);
    const key = named ? keyOf(source) : null;
    const same = key === null
      ? parts.find((one) => one.key === null && one.material === source.material && one.home === source.home)
      : undefined;
    if (same) same.extractG += use.extractG;
    else {parts.push({
        material: source.material,
        home: source.home,
        key,
        extractG: use.extractG,
        perG: source.perG,
      });}
  }
  return parts.sort((a, b) =>
    Number(a.material === material) - Number(b.material === material) || Number(b.home) - Number(a.home)
  );
}

/** One entry for each line and source. */
function merged(grist: PlanBrew["grist"]): PlanBrew["grist"] {
  const list: PlanBrew["grist"] = [];
  for (const use of grist) {
    const same = list.find((one) =>
      one.lineId === use.lineId && one.from.kind === "batch" && use.from.kind === "batch" &&
      one.from.batchId === use.from.batchId
    );
    if (same) same.massG += use.massG;
    else list.push({ ...use });
  }
  return list;
}
