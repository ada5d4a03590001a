import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { bookAt } from "../../../core/book/book.ts";
import { addDays } from "../../../core/calendar.ts";
import { descends } from "../../../core/season/ancestry.ts";
import type { Season } from "../../../core/season/season.ts";
import { traceOf } from "../../../core/year/trace.ts";
import { drawnYear } from "../../_support/drawn-year.ts";
import { asked, brewed, FARM, farm, planWith, run } from "../year/hand-made.ts";

type Move = Season["records"]["moves"][number];

const STORES = ["bin-1", "bin-3", "bin-4"];
const OPENING_G = 10_000_000;
const LOSS = 0.005;
const POSITION = "2027-01-04";
/** Days from the opening position to as-of. */
const DAYS = 14;

interface Ordered {
  day: number;
  from: string;
  to: string;
  share: number;
}

/** Moves of lot A, each of a share of what lies where it comes from, on days of which some lie after as-of. */
const movesOf: fc.Arbitrary<Ordered[]> = fc.array(
  fc.record({
    day: fc.integer({ min: 0, max: DAYS + 5 }),
    from: fc.constantFrom(...STORES),
    to: fc.constantFrom(...STORES),
    share: fc.constantFrom(0, 0.001, 0.3, 0.5, 0.999, 1),
  }),
  { maxLength: 12 },
).map((list) => list.filter((one) => one.from !== one.to).sort((a, b) => a.day - b.day));

/** The moves as they would be written down, and what then lies where at the end of day `until`. */
function written(list: readonly Ordered[], until: number) {
  const stock = new Map(STORES.map((id) => [id, id === "bin-1" ? OPENING_G : 0]));
  let lostG = 0;
  let then = new Map(stock);
  const moves = list.map(({ day, from, to, share }, i): Move => {
    const massG = Math.floor(stock.get(from)! * share);
    const lossG = Math.round(massG * LOSS);
    stock.set(from, stock.get(from)! - massG);
    stock.set(to, stock.get(to)! + massG - lossG);
    if (day <= until) {
      lostG += lossG;
      then = new Map(stock);
    }
    return {
      id: `move-${i}`,
      on: addDays(POSITION, day),
      lotId: "lot-a",
      fromStoreId: from,
      toStoreId: to,
      massG,
      lossG,
    };
  });
  return { moves, then, lostG };
}

function farmWith(moves: readonly Move[]): Season {
  const bin = FARM.stores![0]!;
  return farm({
    stores: [...FARM.stores!, { ...bin, id: "bin-3", name: "Bin 3" }, { ...bin, id: "bin-4", name: "Bin 4" }],
    brews: [asked("b0", "2027-03-01"), asked("b1", "2027-03-08")],
    records: { moves: [...moves] },
  });
}

const plan = planWith({
  runs: [run("r1", "2027-01-25")],
  brews: [
    brewed("b0", "2027-03-01", { "malt-r1": 400_000 }),
    brewed("b1", "2027-03-08", { "old-pale": 380_000 }),
  ],
});

describe("acceptance: moving a lot between bins", () => {
  test("keeps its weight less the declared losses, in each store and in all, on every day", () => {
    fc.assert(
      fc.property(movesOf, fc.integer({ min: 0, max: DAYS }), (list, until) => {
        const { moves, then, lostG } = written(list, until);
        const { grain } = bookAt(farmWith(moves), `${addDays(POSITION, until)}T20:00`);
        const held = grain.get("lot-a")!;
        for (const id of STORES) expect([id, held.get(id) ?? 0]).toEqual([id, then.get(id)]);
        expect([...held.values()].reduce((sum, massG) => sum + massG, 0)).toBe(OPENING_G - lostG);
        // No other lot gains or loses by it.
        expect([...grain.get("lot-c")!.values()]).toEqual([3_000_000]);
      }),
      { numRuns: 300, seed: 101 },
    );
  });

  test("keeps its ancestry, its offspring, and the weights that went from one to the other", () => {
    const still = farmWith([]);
    const before = drawnYear(still, plan);
    fc.assert(
      fc.property(movesOf, (list) => {
        const season = farmWith(written(list, DAYS).moves);
        const after = drawnYear(season, plan);
        for (
          const node of ["planting:barley-2026", "lot:lot-a", "run:r1", "brew:b0", "brew:b1", "lot:lot-c"]
        ) {
          const { nodes, edges, sentence } = traceOf(after, node);
          const was = traceOf(before, node);
          expect([...nodes].sort()).toEqual([...was.nodes].sort());
          expect(edges).toEqual(was.edges);
          expect(sentence).toBe(was.sentence);
        }
        for (const field of ["long", "far"]) {
          expect(descends(season, "lot-a", "field", [field], true)).toBe(field === "long");
        }
      }),
      { numRuns: 40, seed: 102 },
    );
  });
});
