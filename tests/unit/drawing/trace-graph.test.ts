import { describe, expect, test } from "vitest";
import { threadPath } from "../../../islands/thread.ts";
import { lineageOf, neighboursOf, stepFrom, type Traced } from "../../../islands/trace-graph.ts";

/** Two fields, two lots, two runs of lot A, one of lot D, and a brew of run 1 and run 3. */
const data: Pick<Traced, "nodes" | "edges"> = {
  nodes: [
    { id: "field-1", band: 0, at: [10, 10, 10, 10], label: "Home Piece", kind: "lot", massG: 0 },
    { id: "lot-a", band: 1, at: [10, 40, 90, 40], label: "lot A", kind: "lot", massG: 0 },
    { id: "run-1", band: 2, at: [30, 60, 40, 80], label: "run 1", kind: "lot", massG: 0 },
    { id: "run-2", band: 2, at: [50, 60, 60, 80], label: "run 2", kind: "lot", massG: 0 },
    { id: "field-2", band: 0, at: [20, 12, 20, 12], label: "Alder", kind: "lot", massG: 0 },
    { id: "lot-d", band: 1, at: [20, 45, 80, 45], label: "lot D", kind: "lot", massG: 0 },
    { id: "run-3", band: 2, at: [70, 60, 75, 80], label: "run 3", kind: "lot", massG: 0 },
    { id: "brew", band: 4, at: [95, 120, 95, 130], label: "Field Pale", kind: "lot", massG: 0 },
  ],
  edges: [[0, 1], [1, 2], [1, 3], [4, 5], [5, 6], [2, 7], [6, 7]],
};
const kin = neighboursOf(data);

describe("ancestry and offspring", () => {
  test("a brew lights both its branches and no run beside them", () => {
    const { before, after } = lineageOf(7, kin);
    expect([...before].sort()).toEqual([0, 1, 2, 4, 5, 6]);
    expect(after.size).toBe(0);
  });

  test("a lot lights its field and all that came of it, but not what its brew also holds", () => {
    const { before, after } = lineageOf(1, kin);
    expect([...before]).toEqual([0]);
    expect([...after].sort()).toEqual([2, 3, 7]);
  });

  test("a graph with a ring in it comes to an end", () => {
    const ring = neighboursOf({ nodes: data.nodes, edges: [[0, 1], [1, 0]] });
    expect([...lineageOf(0, ring).after]).toEqual([1]);
  });
});

describe("stepping", () => {
  test("left and right follow time inside a band", () => {
    expect(stepFrom(2, "right", data, kin)).toBe(3);
    expect(stepFrom(3, "left", data, kin)).toBe(2);
    expect(stepFrom(6, "right", data, kin)).toBe(null);
  });

  test("up and down follow the chain", () => {
    expect(stepFrom(7, "up", data, kin)).toBe(6);
    expect(stepFrom(1, "down", data, kin)).toBe(2);
  });

  test("where the chain ends, the next band that holds anything is reached", () => {
    expect(stepFrom(3, "down", data, kin)).toBe(7);
  });
});

describe("the thread", () => {
  test("runs along the ground until the day and then falls", () => {
    expect(threadPath(data, lineageOf(1, kin))).toContain("M10 40H30V60");
  });

  test("leaves a run where it was stripped", () => {
    expect(threadPath(data, lineageOf(2, kin))).toContain("M40 80H95V120");
  });

  test("does not lead to strangers", () => {
    expect(threadPath(data, lineageOf(2, kin))).not.toContain("H50");
  });
});
