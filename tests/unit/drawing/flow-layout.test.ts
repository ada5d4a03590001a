import { describe, expect, test } from "vitest";
import type { Flow } from "../../../core/year/flow.ts";
import { layoutFlow } from "../../../islands/_charts/flow-layout.ts";

const flow: Flow = {
  fromDay: 0,
  toDay: 365,
  nodes: [
    { id: "field", label: "Long Bottom", kind: "source" },
    { id: "bought", label: "malt bought", kind: "source" },
    { id: "lot", label: "lot A", kind: "lot" },
    { id: "dirt", label: "dirt", kind: "loss" },
    { id: "malt", label: "pale", kind: "malt" },
    { id: "grist", label: "Field Pale", kind: "grist" },
    { id: "wort", label: "extract", kind: "end" },
    { id: "spill", label: "a spill", kind: "loss" },
  ],
  links: [
    { from: "field", to: "lot", dryG: 9e6, massG: 10e6 },
    { from: "field", to: "dirt", dryG: 1e6, massG: 1.1e6 },
    { from: "lot", to: "malt", dryG: 9e6, massG: 9.4e6 },
    { from: "bought", to: "malt", dryG: 1e6, massG: 1.05e6 },
    { from: "malt", to: "grist", dryG: 10e6, massG: 10.5e6 },
    { from: "grist", to: "wort", dryG: 10e6, massG: 10e6 },
    { from: "grist", to: "spill", dryG: 500, massG: 520 },
  ],
  water: [],
  volumes: [],
};

describe("the flow from field to glass", () => {
  const { nodes, bands, columns } = layoutFlow(flow, 1310);
  const node = (id: string) => nodes.find((one) => one.id === id)!;

  test("bands and nodes are as high as their dry matter", () => {
    const width = (from: string) =>
      bands.find((one) => one.from.id === from && one.to.kind !== "loss")!.width;
    expect(width("lot") / width("bought")).toBeCloseTo(9, 5);
    expect((node("malt").bottom - node("malt").top) / width("bought")).toBeCloseTo(10, 5);
  });

  test("what is bought comes in one column before what it feeds, a loss ends one column after", () => {
    expect(node("bought").column).toBe(1);
    expect(node("dirt").column).toBe(1);
    expect(node("wort").column).toBe(4);
    expect(columns).toBe(5);
  });

  test("less than a kilogram is left to the table", () => {
    expect(nodes.map(({ id }) => id)).not.toContain("spill");
  });

  test("a farm where nothing flows has no drawing", () => {
    expect(layoutFlow({ ...flow, links: [] }, 1310).nodes).toEqual([]);
  });
});
