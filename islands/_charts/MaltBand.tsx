import type { VNode } from "preact";
import type { Year } from "../../core/year/year.ts";
import type { ReaderUnits } from "../../core/units.ts";
import { todayBox } from "./Axis.tsx";
import { Empty } from "./Empty.tsx";
import { c, type Frame, NUMBERS } from "./frame.ts";
import { type Box, placeLabels } from "./label-placement.ts";
import { deepest, type MaltLayout, type MaltPlace } from "./malt-layout.ts";
import { maltWishes } from "./malt-words.ts";
import { Orders } from "./Orders.tsx";
import { cutSteps, type Step, stepArea, stepLine } from "./steps.ts";
import { clip } from "./text-width.ts";
import { count, malt as maltWeight } from "./words.ts";
import { Figure, RowName, Words } from "./Words.tsx";

/** Malt on hand, one base line each: ready home malt solid, bought malt lined, resting hatched, what is lacking a notch below. */
export function MaltBand({ year, frame, layout, taken }: {
  year: Year;
  frame: Frame;
  layout: MaltLayout;
  /** Words that hang into the band from above. */
  taken: readonly Box[];
}): VNode {
  const { top, places, bought, perTonne } = layout;
  const bounds = {
    x: frame.left,
    y: top - 10,
    width: frame.right - frame.left,
    height: layout.bottom - top + 14,
  };
  const notches = places.flatMap((place) => notchBoxes(place, frame, perTonne));
  const orders = [
    ...places,
    ...(bought?.rows ?? []).map((row) => ({ row, ground: (bought?.ground ?? 0) - 7 })),
  ]
    .flatMap(({ row, ground }) =>
      row.orders.map((one) => ({
        x: frame.x(one.orderDay) - 4,
        y: ground + 3,
        width: frame.x(one.arriveDay) - frame.x(one.orderDay) + 8,
        height: 7,
      }))
    );
  const grounds = places.map(({ ground }) => ({
    x: frame.left,
    y: ground - 0.5,
    width: frame.right - frame.left,
    height: 1,
  }));
  const unit = year.units === "us" ? "ready now, lb" : "ready now, kg";
  return (
    <g class="band malt" role="group" aria-label="Malt">
      <RowName name="Malt" full="Malt" y={top + 11} bold />
      <Figure text={unit} y={top + 11} quiet />
      {places.length === 0 && (
        <Empty words="Malt on hand, what rests, and the day it runs out." y={top + 11} frame={frame} />
      )}
      {places.map((place) => (
        <Malt
          key={place.row.key}
          {...{ place, frame, perTonne, units: year.units, firstDay: year.firstDay }}
        />
      ))}
      {bought !== null && (
        <g>
          <RowName name="Bought in" full="Bought in" y={bought.ground} />
          <path class="ground" d={`M${frame.left} ${bought.ground}H${c(frame.right)}`} />
          {bought.rows.map((row) => (
            <Orders key={row.key} {...{ row, frame, units: year.units }} ground={bought.ground - 7} />
          ))}
        </g>
      )}
      <Words
        placed={placeLabels(maltWishes(year, layout, frame), bounds, [
          ...notches,
          ...grounds,
          ...orders,
          ...todayBox(frame),
          ...taken,
        ])}
      />
    </g>
  );
}

function Malt({ place, frame, perTonne, units, firstDay }: {
  place: MaltPlace;
  frame: Frame;
  perTonne: number;
  units: ReaderUnits;
  firstDay: number;
}): VNode {
  const { row, ground } = place;
  const y = (massG: number) => c(ground - massG / 1e6 * perTonne);
  const series = (massG: (index: number) => number): Step[] => {
    const steps: Step[] = [];
    for (let day = frame.fromDay; day < frame.toDay; day++) {
      const height = y(massG(day - firstDay));
      if (steps.at(-1)?.y !== height) steps.push({ x: frame.x(day), y: height });
    }
    return steps;
  };
  const ready = series((i) => row.readyHomeG[i] ?? 0);
  const withBought = series((i) => (row.readyHomeG[i] ?? 0) + (row.readyBoughtG[i] ?? 0));
  const anyBought = row.readyBoughtG.some((massG) => massG > 0);
  const all = series((i) => (row.readyHomeG[i] ?? 0) + (row.readyBoughtG[i] ?? 0) + (row.restingG[i] ?? 0));
  const now = frame.x(frame.todayDay);
  const today = Math.min(Math.max(frame.todayDay, frame.fromDay), frame.toDay - 1) - firstDay;
  const nowG = (row.readyHomeG[today] ?? 0) + (row.readyBoughtG[today] ?? 0);
  const figure = count(units === "us" ? nowG / 453.59237 : nowG / 1000);
  return (
    <g>
      <RowName name={clip(row.name, 84, 11.5)} full={row.name} y={ground} />
      <Figure text={figure} y={ground} x={NUMBERS} />
      <g
        class="stock"
        role="img"
        aria-label={`${row.name} on hand, now ${maltWeight(nowG, units)} ready, most in the year ${
          maltWeight(row.mostG, units)
        } with what rests`}
      >
        <path class="rests" fill="url(#resting)" d={stepArea(all, frame.right, ground)} />
        <path class="ready-ground" d={stepArea(withBought, frame.right, ground)} />
        {anyBought && (
          <path class="bought" fill="url(#bought)" d={stepArea(withBought, frame.right, ground)} />
        )}
        {anyBought && <path class="ready-ground" d={stepArea(ready, frame.right, ground)} />}
        <path class="ready done" d={stepArea(cutSteps(ready, frame.left, now), now, ground)} />
        <path class="ready planned" d={stepArea(cutSteps(ready, now, frame.right), frame.right, ground)} />
        <path class="ready-line" d={stepLine(cutSteps(ready, now, frame.right), frame.right)} />
        <path class="rests-line" d={stepLine(all, frame.right)} />
      </g>
      <path class="ground" d={`M${frame.left} ${ground}H${c(frame.right)}`} />
      <Orders row={row} frame={frame} units={units} ground={ground} />
      {row.lacks.filter(({ firstDay }) => firstDay < frame.toDay && firstDay >= frame.fromDay - 1).map((
        lack,
      ) => (
        <g key={lack.firstDay} class="lack" role="img" aria-label={lack.text}>
          <path d={notch(lack.days, lack.backDay ?? lack.lastDay + 1, frame, ground, perTonne)} />
        </g>
      ))}
    </g>
  );
}

/** What brews lack, added up day by day below the line; it closes upright on the day home malt is back. */
function notch(
  days: readonly { day: number; massG: number }[],
  backDay: number,
  frame: Frame,
  ground: number,
  perTonne: number,
): string {
  let sum = 0;
  const steps = days.map(({ day, massG }): Step => {
    sum += massG;
    // The least notch that can be seen at arm's length, however little is lacking.
    return { x: frame.x(day), y: ground + Math.max(3, sum / 1e6 * perTonne) };
  });
  return stepArea(steps, Math.max(frame.x(backDay), frame.x(days[0]?.day ?? backDay) + 4), ground);
}

function notchBoxes({ row, ground }: MaltPlace, frame: Frame, perTonne: number): Box[] {
  return row.lacks.filter(({ firstDay }) => firstDay < frame.toDay).map(({ firstDay, lastDay, backDay }) => {
    const x = frame.x(firstDay);
    return {
      x,
      y: ground,
      width: Math.max(4, frame.x(backDay ?? lastDay + 1) - x),
      height: Math.max(3, deepest(row, perTonne)),
    };
  });
}
