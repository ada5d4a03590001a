import { describe, expect, test } from "vitest";
import { traceOf } from "../../../core/year/trace.ts";
import { drawnYear } from "../../_support/drawn-year.ts";
import { asked, brewed, farm, order, planWith, run } from "./hand-made.ts";

const year = drawnYear(
  farm({ brews: [asked("b0", "2027-03-01"), asked("b1", "2027-03-08"), asked("b2", "2027-03-15")] }),
  planWith({
    runs: [run("r1", "2027-01-25"), run("r2", "2027-02-01")],
    orders: [order("2027-01-25", 20)],
    brews: [
      brewed("b0", "2027-03-01", { "malt-r1": 400_000 }),
      brewed("b1", "2027-03-08", { "malt-r1": 300_000, "malt-r2": 50_000, bought: 50_000 }, "tank-2"),
      brewed("b2", "2027-03-15", { bought: 380_000 }),
    ],
    feedLoads: [{
      id: "load-1",
      standing: "not booked",
      pickupId: "cattle",
      on: "2027-06-21",
      items: [
        { lotId: "lot-c", storeId: "bin-2", massG: 3_000_000 },
        { lotId: "lot-a", storeId: "bin-1", massG: 500_000 },
      ],
      revenueCents: 45_000,
    }],
  }),
);

describe("tracing", () => {
  test("a brew leads back to its field, and to nothing else", () => {
    const trace = traceOf(year, "brew:b0");
    expect([...trace.nodes].sort()).toEqual([
      "batch:malt-r1",
      "brew:b0",
      "lot:lot-a",
      "planting:barley-2026",
      "run:r1",
    ]);
    expect(trace.sentence).toBe(
      "Long Bottom, cut 8 Jul → lot A → run 1 → 400 kg of pale → Field Pale 1 Mar, all home-grown",
    );
    expect(trace.edges.map((edge) => edge.massG).sort((a, b) => a - b)).toEqual([
      400_000,
      800_337,
      1_000_000,
      21_000_000,
    ]);
  });

  test("a brew of two sources is read source by source, the heavier first", () => {
    expect(traceOf(year.graph, "brew:b1").sentence).toBe(
      "Long Bottom, cut 8 Jul → lot A → runs 1 and 2 → 350 kg of pale + a maltings, ordered 25 Jan → 50 kg of pale → Field Pale 8 Mar, 88 % home-grown",
    );
  });

  test("a brew with a trace of bought malt in it is never all home-grown, nor 100 %", () => {
    const almost = drawnYear(
      farm({ brews: [asked("b0", "2027-03-01")] }),
      planWith({
        orders: [order("2027-01-25", 20)],
        brews: [brewed("b0", "2027-03-01", { "old-pale": 400_000, bought: 100 })],
      }),
    );
    expect(traceOf(almost, "brew:b0").sentence).toMatch(/, 99 % home-grown$/);
  });

  test("a field leads on to every brew and away to feed, with the field's own part of the load", () => {
    const trace = traceOf(year, "planting:barley-2026");
    expect(trace.nodes.has("brew:b1")).toBe(true);
    expect(trace.nodes.has("brew:b2")).toBe(false);
    expect(trace.nodes.has("lot:lot-c")).toBe(false);
    expect(trace.sentence).toMatch(
      /^Long Bottom, cut 8 Jul → lot A → runs 1 and 2 → .* of pale → Field Pale 1 Mar and Field Pale 8 Mar; feed to a cattle yard 21 Jun \(500 kg\)$/,
    );
  });

  test("a run stands between what it came of and what it became", () => {
    expect(traceOf(year, "run:r2").sentence).toBe(
      "Long Bottom, cut 8 Jul → lot A → run 2 → 800 kg of pale → Field Pale 8 Mar",
    );
  });

  test("a failed lot reaches no brew", () => {
    expect([...traceOf(year, "lot:lot-c").nodes].filter((id) => id.startsWith("brew:"))).toEqual([]);
  });

  test("a mixed lot keeps all its parents, and the mix stands between", () => {
    const season = farm({
      records: {
        mixes: [{
          id: "mix-1",
          on: "2027-01-12",
          parents: [
            { lotId: "lot-a", storeId: "bin-1", massG: 1_000_000 },
            { lotId: "lot-c", storeId: "bin-2", massG: 3_000_000 },
          ],
          intoLotId: "lot-g",
          storeId: "bin-2",
        }],
      },
    });
    const trace = traceOf(drawnYear(season, null), "lot:lot-g");
    expect(trace.nodes.has("mix:mix-1")).toBe(true);
    expect(trace.nodes.has("planting:barley-2026")).toBe(true);
    expect(trace.edges.find((edge) => edge.from === "mix:mix-1")?.massG).toBe(4_000_000);
  });

  test("an unknown node traces to nothing, and the graph survives as JSON", () => {
    expect(traceOf(year, "brew:none")).toEqual({ nodes: new Set(), edges: [], sentence: "" });
    expect(traceOf(JSON.parse(JSON.stringify(year.graph)), "brew:b0").sentence).toContain("lot A");
  });
});

describe("a grain contract", () => {
  const contract = {
    kind: "sell-grain" as const,
    id: "bakers",
    party: "A baker",
    lotId: "lot-a",
    massG: 2_000_000,
    from: "2027-01-10",
    to: "2027-03-31",
    perTonneCents: 20_000,
  };
  const delivery = (on: string, massG: number) => ({
    id: `delivery-${on}`,
    on,
    contractId: "bakers",
    lotId: "lot-a",
    storeId: "bin-1",
    massG,
  });
  const part = (on: string, massG: number) => ({
    contractId: "bakers",
    on,
    lotId: "lot-a",
    storeId: "bin-1",
    massG,
  });
  const soldIn = (deliveries: ReturnType<typeof delivery>[]) => {
    const season = farm({ contracts: [contract], records: { deliveries } });
    const one = drawnYear(season, planWith({ grainDeliveries: [part("2027-02-10", 2_000_000)] }));
    return one.stores[0]!.departures.filter(({ kind }) => kind === "sold")
      .map(({ standing, massG }) => [standing, massG]);
  };

  test("is drawn once when it was delivered after the plan was made, and its rest when in part", () => {
    expect(soldIn([])).toEqual([["not booked", 2_000_000]]);
    expect(soldIn([delivery("2027-01-17", 2_000_000)])).toEqual([["done", 2_000_000]]);
    expect(soldIn([delivery("2027-01-17", 1_500_000)])).toEqual([["done", 1_500_000], [
      "not booked",
      500_000,
    ]]);
  });

  test("delivered in two parts is one sale of their whole weight", () => {
    const grainDeliveries = [part("2027-02-10", 1_200_000), part("2027-02-17", 800_000)];
    const { graph } = drawnYear(farm({ contracts: [contract] }), planWith({ grainDeliveries }));
    expect(graph.nodes.filter(({ kind }) => kind === "sale")).toMatchObject([{
      massG: 2_000_000,
      label: "sold to a baker 10 Feb to 17 Feb",
    }]);
    expect(graph.edges.filter(({ to }) => to === "sale:bakers").map(({ massG }) => massG))
      .toEqual([1_200_000, 800_000]);
  });
});
