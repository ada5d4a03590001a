import type { Year } from "../../core/year/year.ts";
import { todayBox } from "./Axis.tsx";
import { TANK_PITCH } from "./brews-layout.ts";
import { drillHeight } from "./drill-rows.ts";
import { wedgeHeight } from "./fields-layout.ts";
import type { Frame } from "./frame.ts";
import { threadBoxes } from "./Harvests.tsx";
import { type Box, type Obstacle, TYPE } from "./label-placement.ts";
import { moveLine } from "./Leaving.tsx";
import { deepest, maltSeries } from "./malt-layout.ts";
import { STAIR } from "./malthouse-layout.ts";
import type { SectionLayout } from "./section-layout.ts";
import type { Step } from "./steps.ts";
import { isLastDayShown } from "./store-words.ts";
import { levelSteps, loadHeight, under } from "./stores-layout.ts";
import { textWidth } from "./text-width.ts";
import { worthBoxes, worthLeft, worthScaleWords } from "./worth-layout.ts";

/** Half the width of a line that no words may cross. */
const HALF = 0.7;

/** Every line and shape of the drawing that would strike through words standing on it. */
export function obstaclesOf(year: Year, layout: SectionLayout): Obstacle[] {
  const { frame } = layout;
  return [
    ...todayBox(frame),
    ...threadBoxes(layout).map((box) => ({ ...box, thread: true })),
    ...fieldBoxes(layout),
    ...storeBoxes(layout),
    ...malthouseBoxes(layout),
    ...worthStripBoxes(year, layout),
    ...maltBoxes(year, layout),
    ...brewBoxes(year, layout),
  ];
}

function across(y: number, { left, right }: Frame): Box {
  return { x: left, y: y - 0.5, width: right - left, height: 1 };
}

function upright(x: number, top: number, bottom: number): Box {
  return { x: x - HALF, y: top, width: 2 * HALF, height: Math.max(1, bottom - top) };
}

/** The treads and risers of a step line. */
function stepBoxes(steps: readonly Step[], endX: number): Box[] {
  return steps.flatMap(({ x, y }, index) => {
    const next = steps[index + 1];
    const tread = { x, y: y - HALF, width: (next?.x ?? endX) - x, height: 2 * HALF };
    return next === undefined ? [tread] : [tread, upright(next.x, Math.min(y, next.y), Math.max(y, next.y))];
  });
}

function fieldBoxes({ fields, frame }: SectionLayout): Box[] {
  return fields.rows.flatMap(({ plantings, breaks, ground }) => [
    across(ground, frame),
    ...breaks.map(({ from, to }) => ({
      x: frame.x(from),
      y: ground - 2.5,
      width: frame.x(to + 1) - frame.x(from),
      height: 2.5,
    })),
    ...plantings.flatMap((one) => {
      const { early, late } = one.harvest;
      const height = wedgeHeight(one.binG.good);
      const wedge = early >= frame.toDay ? [] : [{
        x: frame.x(early) + 3,
        y: ground - height,
        width: Math.max(1, frame.x(late) - frame.x(early) - 6),
        height,
      }];
      const x = frame.x(one.drillDay);
      const mark = one.drillDay < frame.fromDay || one.drillDay >= frame.toDay
        ? []
        : [{ x: x - 3, y: ground - 6, width: 6, height: 6 }];
      return [...wedge, ...mark, ...drillBoxes(one.drillDay, early, ground, frame)];
    }),
  ]);
}

/** The standing crop in pieces of three weeks, each as high as it ends. */
function drillBoxes(drillDay: number, harvestDay: number, ground: number, frame: Frame): Box[] {
  const boxes: Box[] = [];
  for (let day = Math.max(drillDay, frame.fromDay); day < Math.min(harvestDay, frame.toDay); day += 21) {
    const end = Math.min(day + 21, harvestDay);
    const height = drillHeight((end - drillDay) / Math.max(1, harvestDay - drillDay));
    boxes.push({ x: frame.x(day), y: ground - height, width: frame.x(end) - frame.x(day), height });
  }
  return boxes;
}

function storeBoxes({ stores, frame }: SectionLayout): Obstacle[] {
  const { places, perTonne } = stores;
  return places.flatMap((place) => {
    const { row, ground, height } = place;
    const shown = row.stays.filter(({ from, to }) => to >= frame.fromDay && from < frame.toDay);
    return [
      across(ground, frame),
      ...shown.flatMap((stay) => {
        const below = row.kind === "bags"
          ? under(place, row.stays.indexOf(stay), frame, perTonne)
          : undefined;
        const steps = levelSteps(stay, place, frame, perTonne, below);
        const end = frame.x(stay.to + 1);
        const first = steps[0], last = steps.at(-1);
        if (first === undefined || last === undefined) return [];
        const wakes = stay.stretches.slice(1).map(({ from }) => {
          const top = steps.findLast(({ x }) => x <= frame.x(from))?.y ?? first.y;
          return upright(frame.x(from), top, ground);
        });
        return [
          ...stepBoxes(steps, end),
          upright(first.x, first.y, ground),
          upright(end, last.y, ground),
          ...wakes,
        ];
      }),
      ...shown.filter((stay) => isLastDayShown(stay, frame)).map(({ lastMaltingDay }) => ({
        ...upright(frame.x(lastMaltingDay!.day + 1), ground - height - 1, ground),
        thread: true,
      })),
      ...row.departures.filter(({ day }) => day >= frame.fromDay && day < frame.toDay).flatMap(
        (event): Box[] => {
          const x = frame.x(event.day + 1);
          if (event.kind === "moved out") {
            const line = moveLine(event, place, places, frame, perTonne);
            return line === null ? [] : [upright(line.x, Math.min(ground, line.y), Math.max(ground, line.y))];
          }
          if (event.kind === "counted" || event.kind === "mixed out") return [];
          return [{ x: x - 9, y: ground, width: 10, height: loadHeight(event.massG, perTonne) }];
        },
      ),
    ];
  });
}

/** The strip from its first week to its last, and the words before it. */
function worthStripBoxes(year: Year, { malthouse: { worth }, frame }: SectionLayout): Box[] {
  if (worth === null) return [];
  const boxes = worthBoxes(year, worth, frame);
  const [first] = boxes;
  if (first === undefined) return [];
  const width = textWidth(worthScaleWords(year, frame), TYPE);
  const words = width === 0 ? [] : [{ x: worthLeft(year, frame), y: worth.ground - 9, width, height: 11 }];
  return [...boxes, ...words, { ...across(worth.ground, frame), x: first.x, width: frame.right - first.x }];
}

function malthouseBoxes({ malthouse, frame }: SectionLayout): Box[] {
  return [
    ...malthouse.lines.map(({ top }) => ({
      x: frame.left,
      y: top,
      width: frame.right - frame.left,
      height: STAIR + 4,
    })),
    ...malthouse.limits.flatMap(({ from, to, y }) => {
      const left = frame.x(from), right = frame.x(to + 1), foot = malthouse.lines[0]?.top ?? y;
      return [
        { x: left, y: y - 0.6, width: right - left, height: 1.2 },
        upright(left, y - 4, foot),
        upright(right, y - 4, foot),
      ];
    }),
  ];
}

function maltBoxes({ firstDay }: Year, { malt, frame }: SectionLayout): Box[] {
  const { places, bought, perTonne } = malt;
  const rows = [
    ...places.map(({ row, ground }) => ({ row, ground })),
    ...(bought?.rows ?? []).map((row) => ({ row, ground: bought!.ground - 7 })),
  ];
  return [
    ...(bought === null ? [] : [across(bought.ground, frame)]),
    ...places.flatMap((place) => {
      const { ready, all } = maltSeries(place, frame, perTonne, firstDay);
      return [across(place.ground, frame), ...stepBoxes(all, frame.right), ...stepBoxes(ready, frame.right)];
    }),
    ...places.flatMap(({ row, ground }) =>
      row.lacks.filter((one) => one.firstDay < frame.toDay).map((one) => {
        const x = frame.x(one.firstDay);
        return {
          x,
          y: ground,
          width: Math.max(4, frame.x(one.backDay ?? one.lastDay + 1) - x),
          height: deepest({ lacks: [one] }, perTonne),
        };
      })
    ),
    ...rows.flatMap(({ row, ground }) =>
      row.orders.filter(({ arriveDay, orderDay }) => arriveDay >= frame.fromDay && orderDay < frame.toDay)
        .map(
          ({ orderDay, arriveDay }) => ({
            x: frame.x(orderDay) - 4,
            y: ground + 3,
            width: frame.x(arriveDay) - frame.x(orderDay) + 8,
            height: 7,
          }),
        )
    ),
  ];
}

function brewBoxes(year: Year, { brews, frame }: SectionLayout): Box[] {
  const { tankRule } = brews;
  return [
    across(tankRule, frame),
    ...year.tanks.clashes.map(({ from, to, asked, open }) => ({
      x: frame.x(from),
      y: tankRule,
      width: frame.x(to + 1) - frame.x(from),
      height: (asked - open) * TANK_PITCH + 2,
    })),
  ];
}
