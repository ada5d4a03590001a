import { describe, expect, test } from "vitest";
import { dayNumber } from "../../../core/calendar.ts";
import { monthsOf } from "../../../islands/_charts/Axis.tsx";
import { frameOf } from "../../../islands/_charts/frame.ts";
import { drillRows } from "../../../islands/_charts/drill-rows.ts";
import { cutSteps, stepArea, stepBand, stepLine } from "../../../islands/_charts/steps.ts";
import { clip, textWidth, wrap } from "../../../islands/_charts/text-width.ts";
import { areaFigure, percent } from "../../../islands/_charts/words.ts";

const from = dayNumber("2026-08-31");
const frame = frameOf(from, from + 490, dayNumber("2027-01-18"), 148, 1310);

describe("the axis", () => {
  test("seventy weeks fill it, and days outside are held at its ends", () => {
    expect(frame.x(from)).toBe(148);
    expect(frame.x(from + 490)).toBe(1310);
    expect(frame.x(from - 30)).toBe(148);
    expect(frame.dayWidth).toBeCloseTo(2.371, 3);
  });

  test("the months shown are cut to it", () => {
    const months = monthsOf(frame);
    expect(months[0]).toEqual({ from, to: from + 1 });
    expect(months.at(-1)).toEqual({ from: dayNumber("2028-01-01"), to: from + 490 });
    expect(months).toHaveLength(18);
  });

  test("an axis without days is refused", () => {
    expect(() => frameOf(from, from, from)).toThrow(RangeError);
  });
});

describe("silhouettes", () => {
  const steps = [{ x: 0, y: 10 }, { x: 20, y: 15 }, { x: 30, y: 15 }, { x: 40, y: 18 }];

  test("grain leaves in runs: the line has steps, and none where nothing left", () => {
    expect(stepLine(steps, 50)).toBe("M0 10H20V15H40V18H50");
  });

  test("the area closes along its ground", () => {
    expect(stepArea(steps, 50, 20)).toBe("M0 10H20V15H40V18H50V20H0Z");
  });

  test("the ground between two lots lies over the lower one's steps", () => {
    const lower = [{ x: 0, y: 20 }, { x: 25, y: 22 }];
    expect(stepBand(steps, lower, 50)).toBe("M0 10H20V15H40V18H50V22H25V20H0Z");
  });

  test("a cut begins at the height that holds there", () => {
    expect(cutSteps(steps, 25, 45)).toEqual([{ x: 25, y: 15 }, { x: 30, y: 15 }, { x: 40, y: 18 }]);
  });
});

describe("drill rows", () => {
  const crop = {
    drillDay: dayNumber("2026-09-25"),
    harvestDay: dayNumber("2027-07-02"),
    ground: 100,
    height: 14,
  };
  const heights = (path: string) => [...path.matchAll(/v(-[\d.]+)/g)].map(([, height]) => Number(height));

  test("ink stops at today, and the crop grows", () => {
    const { grown, growing, ripening } = drillRows(frame, { ...crop, atRiskUntil: null });
    const last = [...grown.matchAll(/M([\d.]+)/g)].map(([, x]) => Number(x)).at(-1) ?? 0;
    expect(last).toBeLessThan(frame.x(frame.todayDay));
    expect(Math.min(...heights(ripening))).toBeLessThan(Math.min(...heights(growing)));
  });

  test("strokes are broken while winter can still take the crop", () => {
    const { growing } = drillRows(frame, { ...crop, atRiskUntil: dayNumber("2027-04-01") });
    expect(growing).toContain("m0 ");
    expect(drillRows(frame, { ...crop, atRiskUntil: null }).growing).not.toContain("m0 ");
  });
});

describe("words", () => {
  test("a long name is cut with an ellipsis and fits", () => {
    const cut = clip("Home Piece, Long Bottom, Upper Stone", 110, 11.5);
    expect(cut).toMatch(/^Home Piece.*…$/);
    expect(textWidth(cut, 11.5)).toBeLessThanOrEqual(110);
  });

  test("a long name is broken at its blanks, and only its last line is cut", () => {
    const lines = wrap("Home Piece, Long Bottom, Upper Stone", [140, 70], 11.5);
    expect(lines).toEqual(["Home Piece, Long Bottom,", "Upper Stone"]);
    const cut = wrap("Home Piece, Long Bottom, Upper Stone, Quarry", [140, 70], 11.5);
    expect(cut[1]).toMatch(/^Upper Sto.*…$/);
    for (const [index, line] of cut.entries()) {
      expect(textWidth(line, 11.5)).toBeLessThanOrEqual([140, 70][index]!);
    }
    expect(wrap("Alder", [140, 70], 11.5)).toEqual(["Alder"]);
  });

  test("a short name is left alone", () => {
    expect(clip("Alder", 110, 11.5)).toBe("Alder");
  });

  test("acres are written to the quarter, hectares to a tenth", () => {
    expect(areaFigure(18.5 * 4046.8564224, "us")).toBe("18½");
    expect(areaFigure(0.25 * 4046.8564224, "us")).toBe("¼");
    expect(areaFigure(74_900, "metric")).toBe("7.5");
  });

  test("shares are whole per cent", () => {
    expect(percent(0.925)).toBe("93\u00a0%");
  });
});
