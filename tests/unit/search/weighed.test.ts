import type { Highs } from "highs";
import { beforeAll, describe, expect, test } from "vitest";
import { addDays, dateOf, dayNumber } from "../../../core/calendar.ts";
import { makeSeason } from "../../../core/generate/make-season.ts";
import type { Candidate } from "../../../core/search/candidate.ts";
import { maltOf } from "../../../core/search/loads.ts";
import { outputsOf } from "../../../core/search/supply.ts";
import { weigh } from "../../../core/search/weights.ts";
import type { Season } from "../../../core/season/season.ts";
import { loadHighs } from "../../_support/highs.ts";
import { plainStart } from "./_plain-start.ts";

let highs: Highs;
beforeAll(async () => {
  highs = await loadHighs();
});

/** The plan without search, weighed exactly, with what is needed to judge it. */
function weighed(season: Season, part = (candidate: Candidate) => candidate) {
  const { problem, tanks, evaluator, candidate: whole } = plainStart(season);
  const candidate = part(whole);
  const evaluation = evaluator.evaluate(candidate, 8);
  const runs = candidate.runs.filter((_, i) => evaluation.loads.drawG[i]! + evaluation.loads.draw2G[i]! > 0);
  const again = evaluator.evaluate({ ...candidate, runs }, 8);
  const input = { problem, evaluator, evaluation: again, runs, day: candidate.day, tanks };
  const how = {
    room: 1,
    tightDays: [],
    fixedLoads: false,
    whole: true,
    near: null,
    orders: null,
    padded: new Set<number>(),
  };
  const weights = weigh(highs, input, new Float64Array(problem.lots.length), how);
  if (weights === null) throw new Error("the model has no answer");
  return { season, problem, evaluator, evaluation: again, runs, weights, day: weights.day ?? candidate.day };
}

type Weighed = ReturnType<typeof weighed>;

/** First and last day on which malt of a use may be brewed, from the season itself. */
function freshness({ season, problem, runs }: Weighed, { source }: Weighed["weights"]["uses"][number]) {
  if (source.batchId !== null) {
    const batch = problem.batches.find((one) => one.id === source.batchId)!;
    return { first: batch.readyDay, last: batch.lastDay };
  }
  if (source.run >= 0) {
    const { stripDay } = runs[source.run]!.slot, malt = season.maltTypes[source.material]!;
    return { first: stripDay + malt.restDays, last: stripDay + malt.shelfLifeDays };
  }
  const offer = season.supplyOffers[source.offer]!;
  return { first: source.arrives, last: source.arrives + offer.shelfLifeDays };
}

/** Every batch in the malt store: held, made and bought. */
function batchesOf({ problem, runs, weights, season }: Weighed) {
  type Source = Weighed["weights"]["uses"][number]["source"];
  return [
    ...problem.batches.map((batch) => ({
      arrives: batch.arrivesDay,
      massG: batch.massG,
      gives: (source: Source) => source.batchId === batch.id,
    })),
    ...runs.flatMap((run, i) =>
      outputsOf(problem, run).map(({ material, share }) => ({
        arrives: run.slot.stripDay,
        massG: share * maltOf(problem, run, weights.drawG[i]!, weights.draw2G[i]!),
        gives: (source: Source) => source.run === i && source.material === material,
      }))
    ),
    ...(weights.orders ?? []).map((order) => ({
      arrives: order.day,
      massG: order.packs * season.supplyOffers[order.offer]!.packG,
      gives: (source: Source) => source.offer === order.offer && source.ready === order.day,
    })),
  ];
}

/** Demands made, with the uses of each of their lines, and the weight of the whole grist. */
function made(of: Weighed) {
  const { problem, evaluator, weights } = of;
  return problem.demands.filter((demand) => weights.status[demand.index]! > 0).map((demand) => {
    const from = evaluator.table.first[demand.index]!;
    const lines = demand.lines.map((line, l) => ({
      line,
      uses: weights.uses.filter((use) => use.line === from + l),
      raw: problem.materials[line.material]!.malt === null,
      rawIsHome: of.evaluation.homeG[from + l]! > 0,
    }));
    return { demand, lines, uses: lines.flatMap((one) => one.uses), on: of.day[demand.index]! };
  });
}

const massOf = ({ extractG, source }: { extractG: number; source: { perG: number } }) =>
  extractG / source.perG;
const sum = (list: readonly number[]) => list.reduce((all, one) => all + one, 0);
/** The model counts in tonnes; half a gram a use is left out. */
const GRAM = 2;

const seasons = [
  ...[1, 2, 4, 5, 9, 10, 13, 15, 19, 22].map((seed) => ["micro", seed] as const),
  ...[2, 3, 5, 6, 9, 12, 13, 14, 17, 19, 22, 24].map((seed) => ["small", seed] as const),
];
/** Seasons in which grain runs out, so that malt is bought where it can be. */
const scarce = [
  ...[4, 8, 11].map((seed) => ["micro", seed] as const),
  ...[1, 2, 3, 4].map((seed) => ["small", seed] as const),
];

describe("weights by the allocation model", () => {
  const all = [
    ...seasons.map(([size, seed]) => ({ name: `${size} ${seed}`, season: () => makeSeason(size, seed) })),
    ...scarce.map(([size, seed]) => ({
      name: `${size} ${seed}, short of grain`,
      season: () => loosely(makeSeason(size, seed, "grain")),
    })),
  ];
  test.each(all)("keep every limit: $name", ({ season: farm }) => {
    const of = weighed(farm());
    const { season, problem, evaluation, runs, weights } = of;
    expect(made(of).length).toBeGreaterThan(0);

    for (const { demand, lines, uses, on } of made(of)) {
      for (const use of uses) {
        const { first, last } = freshness(of, use);
        expect(on).toBeGreaterThanOrEqual(first);
        expect(on).toBeLessThanOrEqual(last);
      }
      for (const { line, uses, raw } of lines) {
        if (raw) continue;
        if (demand.kind === "sale") {
          expect(Math.abs(sum(uses.map(massOf)) - line.bookMassG)).toBeLessThan(GRAM + uses.length);
          continue;
        }
        expect(Math.abs(sum(uses.map((use) => use.extractG)) - line.extractG)).toBeLessThan(
          GRAM + uses.length,
        );
        for (const { material, mostShare } of line.substitutes) {
          const instead = uses.filter((use) => use.source.material === material);
          expect(sum(instead.map((use) => use.extractG))).toBeLessThanOrEqual(
            mostShare * line.extractG + GRAM,
          );
        }
      }
      const raw = lines.filter((one) => one.raw);
      const all = sum(uses.map(massOf)) + sum(raw.map((one) => one.line.bookMassG));
      if (demand.kind === "brew" && weights.status[demand.index] === 2) {
        const home = sum(uses.filter((use) => use.source.home).map(massOf)) +
          sum(raw.filter((one) => one.rawIsHome).map((one) => one.line.bookMassG));
        expect(home).toBeGreaterThanOrEqual(demand.promise * all - GRAM * uses.length);
      }
      for (const { leastShare, unmixed, counts } of demand.requires) {
        const named = uses.map((use) => {
          const parts = [...use.source.share ?? []].filter(([lot]) => counts[lot]);
          const share = sum(parts.map(([, part]) => part));
          return (unmixed && share < 1 - 1e-9 ? 0 : share) * massOf(use);
        });
        expect(sum(named)).toBeGreaterThanOrEqual(leastShare * all - GRAM * uses.length);
      }
    }

    const drawn = problem.lots.map((lot) => lot.firmG);
    for (const want of evaluation.rawWants) drawn[want.lot]! += want.massG;
    runs.forEach((run, i) => {
      const first = weights.drawG[i]!, second = weights.draw2G[i]!;
      if (run.fixed) {
        if (run.fixed.standing === "booked") {
          for (const draw of run.fixed.draws) drawn[draw.lot]! += draw.massG;
        }
        return;
      }
      drawn[run.lot]! += first;
      if (second > 0) drawn[run.lot2]! += second;
      const crop = problem.lots[run.lot]!.crop, { screeningLoss } = problem.materials[run.slot.malt]!.made!;
      const clean = first + second - Math.round((first + second) * screeningLoss);
      expect(clean).toBeGreaterThanOrEqual(run.slot.leastG[crop]! - GRAM);
      expect(clean).toBeLessThanOrEqual(run.slot.greatestG[crop]! + GRAM);
    });
    problem.lots.forEach((lot, i) => expect(drawn[i]).toBeLessThanOrEqual(lot.totalG + runs.length));

    for (const order of weights.orders ?? []) {
      const offer = season.supplyOffers[order.offer]!;
      expect(order.packs).toBeGreaterThanOrEqual(offer.leastPacks);
      const bought = weights.uses.filter(({ source }) =>
        source.offer === order.offer && source.ready === order.day
      );
      expect(sum(bought.map(massOf))).toBeLessThanOrEqual(order.packs * offer.packG + GRAM * bought.length);
    }
  });

  const micro = seasons.filter(([size]) => size === "micro").map(([, seed]) => seed);
  test.each(micro.flatMap((seed) => [[seed, "pressed", pressed], [seed, "crowded", crowded]] as const))(
    "of a micro season (seed %i, %s) give each brew a day and a tank that are free",
    (seed, _, change) => {
      const of = weighed(change(makeSeason("micro", seed)));
      const { season, weights } = of;
      const brews = made(of).filter(({ demand }) => demand.kind === "brew");
      for (const { demand, on } of brews) {
        expect(demand.days).toContain(on);
        const same = brews.filter((other) => other.on === on);
        expect(same.length).toBeLessThanOrEqual(season.brewhouse.brewsPerDay);
        for (const { tank: place, volumeL } of weights.tanks?.get(demand.index) ?? []) {
          const tank = season.tanks[place]!, until = on + demand.tankDays + tank.turnaroundDays;
          expect(tank.volumeL).toBeGreaterThanOrEqual(volumeL);
          for (const { tankId, freeOn } of season.opening.tanks) {
            if (tankId === tank.id) expect(on).toBeGreaterThanOrEqual(dayNumber(freeOn));
          }
          for (const { from, to } of tank.closures) {
            const [shut, open] = [from, to].map((time) => dayNumber(dateOf(time)));
            expect(on >= open! || until <= shut!).toBe(true);
          }
          for (const other of brews) {
            const theirs = weights.tanks?.get(other.demand.index) ?? [];
            if (other.demand === demand || theirs.every((one) => one.tank !== place)) continue;
            const later = other.on + other.demand.tankDays + tank.turnaroundDays;
            expect(on >= later || other.on >= until).toBe(true);
          }
        }
      }
    },
  );

  test.each([[2, 3], [2, 5], [2, 9], [2, 17], [2, 18], [2, 27], [3, 18], [3, 28], [3, 32]] as const)(
    "fill no more than %i places of the malt store of micro season %i on any day",
    (places, seed) => {
      const small = makeSeason("micro", seed);
      small.maltStore.places = places;
      const of = weighed(small), { problem } = of, batches = batchesOf(of);
      const { demand } = of.evaluator.table;
      const uses = of.weights.uses.map((use) => ({ use, on: of.day[demand[use.line]!]! }));
      const placesOn = (day: number) =>
        sum(
          batches.filter((one) => one.arrives <= day).map(({ massG, gives }) => {
            const taken = uses.filter(({ use, on }) => on <= day && gives(use.source));
            const left = massG - sum(taken.map(({ use }) => massOf(use)));
            return Math.max(0, Math.ceil((left - GRAM - taken.length) / small.maltStore.placeG));
          }),
        );
      const most = Math.max(places, placesOn(problem.asOfDay));
      for (let day = problem.freeDay; day <= problem.endDay; day++) {
        expect(placesOn(day)).toBeLessThanOrEqual(most);
      }
    },
  );
});

/** The same season with orders of any number of packs. */
function loosely(season: Season): Season {
  for (const offer of season.supplyOffers) offer.leastPacks = 1;
  return season;
}

/** The same season with all brews in the window of one, and tanks enough for them. */
function crowded(season: Season): Season {
  const { on, earliest, latest } = season.brews.toSorted((a, b) => a.on < b.on ? -1 : 1).at(-1)!;
  season.brews = season.brews.map((brew) => ({ ...brew, on, earliest, latest }));
  const largest = Math.max(...season.beers.map((beer) => beer.volumeL));
  season.tanks = season.brews.map((_, i) => ({ ...season.tanks[0]!, id: `tank-${i}`, volumeL: largest }));
  season.opening.tanks = [];
  return season;
}

/** The same season with older beer in every second tank and the others shut for ten days, from the first brews on. */
function pressed(season: Season): Season {
  const [first] = season.brews.map((brew) => brew.earliest).sort();
  season.opening.tanks = [];
  season.tanks.forEach((tank, i) => {
    const until = addDays(first!, 8);
    if (i % 2 === 0) {
      tank.closures = [{ from: `${first}T00:00`, to: `${until}T00:00`, reason: "seals" }];
    } else season.opening.tanks.push({ tankId: tank.id, what: "older beer", volumeL: 100, freeOn: until });
  });
  return season;
}

test("packs are found by whole numbers in a small season, but not where these would be thousands, however little is made", () => {
  expect(weighed(makeSeason("micro", 6)).weights.orders).not.toBeNull();
  const few = (candidate: Candidate) => ({
    ...candidate,
    runs: candidate.runs.slice(0, 3),
    day: candidate.day.map((day, demand) => demand < 5 ? day : -1),
  });
  expect(weighed(makeSeason("small", 223, "store"), few).weights.orders).toBeNull();
});
