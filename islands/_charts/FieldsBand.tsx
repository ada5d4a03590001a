import type { VNode } from "preact";
import type { PlantingMark } from "../../core/year/fields-band.ts";
import type { Year } from "../../core/year/year.ts";
import type { ReaderUnits } from "../../core/units.ts";
import { drillRows, TALLEST } from "./drill-rows.ts";
import { type FieldRow, type FieldsLayout, wedgeHeight } from "./fields-layout.ts";
import { Empty } from "./Empty.tsx";
import { c, type Frame } from "./frame.ts";
import { Mark } from "./Mark.tsx";
import { plantingSays } from "./fields-words.ts";
import { Figure, RowName } from "./Words.tsx";

/** Fields: each planting from sowing to harvest, the harvest as a wedge as high as its tonnes. */
export function FieldsBand({ year, frame, layout }: {
  year: Year;
  frame: Frame;
  layout: FieldsLayout;
}): VNode {
  const { rows, past, top } = layout;
  return (
    <g class="band fields" role="group" aria-label="Fields">
      <RowName lines={["Fields"]} full="Fields" y={top + 16} bold />
      <Figure text={year.units === "us" ? "acres" : "hectares"} y={top + 16} quiet />
      {rows.length === 0 && (
        <Empty
          words="Each planting will stand here from drilling to harvest, with the tonnes it may bring."
          y={top + 16}
          frame={frame}
        />
      )}
      {rows.map((row) => <Row key={row.ground} row={row} year={year} frame={frame} />)}
      {past.map((one) => (
        <Past key={one.id} {...{ one, frame, units: year.units, y: layout.rows[0]?.ground ?? top }} />
      ))}
    </g>
  );
}

function Row({ row, year, frame }: { row: FieldRow; year: Year; frame: Frame }): VNode {
  const { names, lines, figure, ground } = row;
  return (
    <g>
      <RowName lines={lines} full={names.join(", ")} y={ground} />
      <Figure text={figure} y={ground} />
      <path class="rule faint" d={`M${frame.left} ${ground}H${c(frame.right)}`} />
      {row.breaks.map((one) => (
        <path
          key={one.from}
          class="break"
          d={breakMarks(frame.x(one.from), frame.x(one.to + 1), ground)}
        />
      ))}
      {row.plantings.map((one) => <Planting key={one.id} {...{ one, frame, ground, units: year.units }} />)}
    </g>
  );
}

function Planting({ one, frame, ground, units }: {
  one: PlantingMark;
  frame: Frame;
  ground: number;
  units: ReaderUnits;
}): VNode {
  const { early, likely, late } = one.cut === null
    ? one.harvest
    : { early: one.cut.from, likely: one.cut.from, late: one.cut.to };
  const height = wedgeHeight(one.binG.likely);
  const rows = drillRows(frame, {
    drillDay: one.drillDay,
    harvestDay: early,
    atRiskUntil: one.atRiskUntil,
    ground,
    height: Math.max(9, Math.min(TALLEST, height)),
  });
  const state = one.weighed ? "done" : "planned";
  // A harvest on one weighed day is still drawn a few days wide, or its tonnes could not be seen.
  const left = frame.x(one.weighed ? early - 3 : early), right = frame.x(one.weighed ? late + 4 : late);
  const peak = frame.x(likely);
  const shown = early < frame.toDay && late >= frame.fromDay;
  return (
    <Mark node={one.node} says={plantingSays(one, units)} kind={`planting ${one.crop} ${state}`}>
      <rect
        class="hit"
        x={c(Math.max(frame.left, frame.x(one.drillDay)))}
        y={c(ground - 12)}
        width={c(Math.max(8, right - frame.x(one.drillDay)))}
        height={14}
      />
      {one.drillDay >= frame.fromDay && one.drillDay < frame.toDay && (
        <Drilled one={one} frame={frame} ground={ground} />
      )}
      <path class="drill grown" d={rows.grown} />
      <path class="drill growing" d={rows.growing} />
      <path class={`drill ripening ${one.crop}`} d={rows.ripening} />
      {shown && (
        <>
          <path
            class={`grain wedge ${one.crop} ${state}`}
            d={`M${c(left)} ${ground}L${c(peak)} ${c(ground - height)}L${c(right)} ${ground}Z`}
          />
          <path class="ticks" d={wedgeTicks(one, [left, peak, right], ground)} />
        </>
      )}
    </Mark>
  );
}

/** Early, likely and late below the ground; above the peak a whisker from a bad to a good year's tonnes. */
function wedgeTicks(
  { weighed, binG }: PlantingMark,
  [left, peak, right]: readonly [number, number, number],
  ground: number,
): string {
  if (weighed) return "";
  const ends = [left, peak, right].map((x) => `M${c(x)} ${ground}v3`).join("");
  // On a small harvest the whisker would be smaller than its own line.
  if (wedgeHeight(binG.good) - wedgeHeight(binG.likely) < 2) return ends;
  const doubt = `M${c(peak)} ${c(ground - wedgeHeight(binG.good))}V${c(ground - wedgeHeight(binG.likely))}` +
    `M${c(peak - 2)} ${c(ground - wedgeHeight(binG.good))}h4M${c(peak - 2)} ${
      c(ground - wedgeHeight(binG.bad))
    }h4`;
  return ends + doubt;
}

/** Filled: drilled. Open: to be drilled. */
function Drilled({ one, frame, ground }: { one: PlantingMark; frame: Frame; ground: number }): VNode {
  const x = frame.x(one.drillDay);
  const drilled = one.state !== "planned";
  return (
    <path class={drilled ? "solid" : "open"} d={`M${c(x - 3)} ${ground - 6}h6L${c(x)} ${ground - 0.6}Z`} />
  );
}

function Past(
  { one, frame, units, y }: { one: PlantingMark; frame: Frame; units: ReaderUnits; y: number },
): VNode {
  return (
    <Mark node={one.node} says={plantingSays(one, units)} kind="past">
      <circle class="only-traced" cx={frame.left} cy={y} r={1} />
    </Mark>
  );
}

/** Three short strokes to a tuft, so that clover or fallow does not look like drilled rows. */
function breakMarks(left: number, right: number, ground: number): string {
  let path = "";
  for (let x = left + 2; x < right; x += 6) {
    path += `M${c(x - 1.4)} ${ground - 2.4}l1.4 2.4l1.4 -2.4M${c(x)} ${ground}v-3`;
  }
  return path;
}
