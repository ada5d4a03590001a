import type { VNode } from "preact";
import type { Year } from "../../core/year/year.ts";
import type { ReaderUnits } from "../../core/units.ts";
import { Empty } from "./Empty.tsx";
import { c, type Frame, NUMBERS } from "./frame.ts";
import { type MaltLayout, type MaltPlace, maltSeries, notchDepth } from "./malt-layout.ts";
import { Orders } from "./Orders.tsx";
import { cutSteps, type Step, stepArea, stepLine } from "./steps.ts";
import { hatch, rules } from "./textures.ts";
import { count, malt as maltWeight } from "./words.ts";
import { Figure, RowName } from "./Words.tsx";

/** Malt on hand, one base line each: ready home malt solid, bought malt lined, resting hatched, what is lacking a notch below. */
export function MaltBand({ year, frame, layout }: { year: Year; frame: Frame; layout: MaltLayout }): VNode {
  const { top, places, bought, perTonne } = layout;
  const unit = year.units === "us" ? "ready now, lb" : "ready now, kg";
  return (
    <g class="band malt" role="group" aria-label="Malt">
      <RowName lines={["Malt"]} full="Malt" y={top + 11} bold />
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
          <RowName lines={["Bought in"]} full="Bought in" y={bought.ground} />
          <path class="ground" d={`M${frame.left} ${bought.ground}H${c(frame.right)}`} />
          {bought.rows.map((row) => (
            <Orders key={row.key} {...{ row, frame, units: year.units }} ground={bought.ground - 7} />
          ))}
        </g>
      )}
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
  const { row, lines, ground } = place;
  const { ready, withBought, all } = maltSeries(place, frame, perTonne, firstDay);
  const groundOf = (steps: readonly Step[]) => ({
    steps,
    left: frame.left,
    right: frame.right,
    floor: ground,
  });
  const anyBought = row.readyBoughtG.some((massG) => massG > 0);
  const now = frame.x(frame.todayDay);
  const today = Math.min(Math.max(frame.todayDay, frame.fromDay), frame.toDay - 1) - firstDay;
  const nowG = (row.readyHomeG[today] ?? 0) + (row.readyBoughtG[today] ?? 0);
  const figure = count(units === "us" ? nowG / 453.59237 : nowG / 1000);
  return (
    <g>
      <RowName lines={lines} full={row.name} y={ground} />
      <Figure text={figure} y={ground} x={NUMBERS} />
      <g
        class="stock"
        role="img"
        aria-label={`${row.name} on hand, now ${maltWeight(nowG, units)} ready, most in the year ${
          maltWeight(row.mostG, units)
        } with what rests`}
      >
        <path class="hatch rests" d={hatch(groundOf(all))} />
        <path class="ready-ground" d={stepArea(withBought, frame.right, ground)} />
        {anyBought && <path class="hatch bought" d={rules(groundOf(withBought))} />}
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
    return { x: frame.x(day), y: ground + notchDepth(sum, perTonne) };
  });
  return stepArea(steps, Math.max(frame.x(backDay), frame.x(days[0]?.day ?? backDay) + 4), ground);
}
