import { describe, expect, test } from "vitest";
import { makeSeason } from "../../../core/generate/make-season.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import { chance } from "../../../core/search/chance.ts";
import { substitutedIn } from "../../../core/search/from-plan.ts";
import { LineTable, needOf } from "../../../core/search/lines.ts";
import { marketsOf } from "../../../core/search/markets.ts";
import { boardOf, signature } from "../../../core/search/polish.ts";
import { Position } from "../../../core/search/position.ts";
import type { Problem } from "../../../core/search/problem.ts";
import { exchangeMalt, replaceRun } from "../../../core/search/substitute-moves.ts";
import { plainStart } from "./_plain-start.ts";

/** Seasons whose beers allow a whole substitute, a half and a third. */
const CASES = [["small", 2], ["small", 6], ["typical", 3]] as const;

/** Grams of extract that each demand asks for, all lines together. */
function asked({ demands }: Problem, table: LineTable): number[] {
  return demands.map((_, demand) => table.linesOf[demand]!.reduce((sum, line) => sum + table.need[line]!, 0));
}

describe.each(CASES)("substitutes of a %s season (seed %i)", (size, seed) => {
  const { problem, tanks, candidate } = plainStart(makeSeason(size, seed));
  const { substitutes, demands } = problem;
  const order = demands.map(({ index }) => index);
  const day = Int32Array.from(demands, (demand) => demand.days[0] ?? -1);

  test("take over the share of a line that its beer allows, and give it back", () => {
    expect(substitutes.length).toBeGreaterThan(0);
    const table = new LineTable(problem, marketsOf(problem));
    table.refresh(order, day, candidate.substituted);
    const before = [table.need.slice(), table.bookG.slice()];
    const whole = asked(problem, table);
    for (const i of substitutes.keys()) {
      const { demand, line, material, mostShare } = substitutes[i]!;
      const substituted = Uint8Array.from(substitutes, (_, other) => other === i ? 1 : 0);
      table.refresh(order, day, substituted);
      const own = table.first[demand]! + line;
      const full = needOf(problem, demands[demand]!.lines[line]!);
      expect(table.need[own]).toBeCloseTo(full * (1 - mostShare), 6);
      const taken = table.linesOf[demand]!.filter((at) => at !== own && table.material[at] === material);
      const extra = taken.reduce((sum, at) => sum + table.need[at]! - before[0]![at]!, 0);
      expect(extra).toBeCloseTo(full * mostShare, 6);
      asked(problem, table).forEach((sum, at) => expect(sum).toBeCloseTo(whole[at]!, 6));
    }
    table.refresh(order, day, Uint8Array.from(substitutes, () => 1));
    asked(problem, table).forEach((sum, at) => expect(sum).toBeCloseTo(whole[at]!, 6));
    expect(Math.min(...table.need)).toBeGreaterThanOrEqual(0);
    table.refresh(order, day, candidate.substituted);
    expect([table.need, table.bookG]).toEqual(before);
  });

  test("are bought for a line only where all of it may be theirs and its own malt cannot be had", () => {
    const markets = marketsOf(problem);
    const shut = (closed: number) =>
      markets.map((one, m) => m === closed ? { ...one, open: one.open.map(() => 0) } : one);
    for (const { demand, line, material, mostShare } of substitutes) {
      const on = day[demand]!, own = demands[demand]!.lines[line]!.material;
      if (on < 0) continue;
      const bought = (all: typeof markets) => {
        const table = new LineTable(problem, all);
        return table.boughtAs(table.first[demand]! + line, on);
      };
      const isOpen = (of: number) => markets[of]!.open[on - problem.asOfDay] === 1;
      const only = demands[demand]!.lines[line]!.substitutes.length === 1;
      if (isOpen(own)) expect(bought(markets)).toBe(own);
      expect(bought(markets.map((one) => ({ ...one, open: one.open.map(() => 1) })))).toBe(own);
      if (only) expect(bought(shut(own))).toBe(mostShare >= 1 && isOpen(material) ? material : own);
    }
    const table = new LineTable(problem, markets);
    substitutes.forEach(({ demand, line }, i) => {
      const own = table.first[demand]! + line;
      expect([table.ownLine(own), table.ownLine(table.first[demands.length]! + i)]).toEqual([own, own]);
    });
  });

  test("every change of them can be taken back", () => {
    const dice = chance(seed);
    const here = new Position(problem, boardOf(problem, candidate), tanks, dice, false, candidate);
    let changed = 0;
    for (let i = 0; i < 300; i++) {
      const before = signature(here.candidate);
      const undo = dice.pick([exchangeMalt, replaceRun])(here);
      if (!undo) continue;
      if (signature(here.candidate) !== before) changed++;
      if (dice.int(0, 3) === 0) continue;
      undo();
      expect(signature(here.candidate)).toBe(before);
    }
    expect(changed).toBeGreaterThan(20);
  });

  test("are read off a plan whose brew holds mostly the substitute", () => {
    const { demand, line, material, mostShare } = substitutes[0]!;
    const { id, lines } = demands[demand]!;
    const maltOf = (index: number) => problem.materials[index]!.maltId!;
    const plan = (share: number) => ({
      orders: [],
      runs: [{
        outputs: [{ batchId: "own", maltId: maltOf(lines[line]!.material) }, {
          batchId: "other",
          maltId: maltOf(material),
        }],
      }],
      brews: [{
        id,
        grist: [["own", 1000 * (1 - share)] as const, ["other", 1000 * share] as const].map(
          ([batchId, massG]) => ({ lineId: lines[line]!.lineId, from: { kind: "batch", batchId }, massG }),
        ),
      }],
    } as unknown as Plan);
    const found = (share: number) => [...substitutedIn(problem, plan(share))];
    expect(found(0).includes(1)).toBe(false);
    expect(found(0.4 * mostShare).includes(1)).toBe(false);
    expect(found(0.6 * mostShare).map((one, i) => one === 1 ? i : -1).filter((i) => i >= 0)).toEqual([0]);
  });
});
