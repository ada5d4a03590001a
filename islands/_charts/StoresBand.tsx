import type { VNode } from "preact";
import type { Year } from "../../core/year/year.ts";
import type { ReaderUnits } from "../../core/units.ts";
import { Empty } from "./Empty.tsx";
import { c, type Frame } from "./frame.ts";
import { Leaving } from "./Leaving.tsx";
import { Stay } from "./Stay.tsx";
import { type StorePlace, type StoresLayout, under } from "./stores-layout.ts";
import { bushels } from "./words.ts";
import { Figure, RowName } from "./Words.tsx";

/** Where the bushel figures end, left of the tonnes. */
const BUSHELS = 104;

/** Bins: how full each one is over time, as a plain silhouette on one tonne scale. */
export function StoresBand(
  { year, frame, layout }: { year: Year; frame: Frame; layout: StoresLayout },
): VNode {
  const { places, top, perTonne } = layout;
  const us = year.units === "us";
  return (
    <g class="band stores" role="group" aria-label="Bins">
      <RowName lines={["Bins"]} full="Bins" y={top + 11} bold />
      {us && <Figure text="holds, bu" y={top + 11} x={BUSHELS} quiet />}
      <Figure text={us ? "t" : "holds, t"} y={top + 11} quiet />
      {places.length === 0 && (
        <Empty
          words="How full each bin is, with which lot, and what it still has room for."
          y={top + 11}
          frame={frame}
        />
      )}
      {places.map((place) => (
        <Store key={place.row.id} {...{ place, frame, perTonne, us, units: year.units }} />
      ))}
      <Leaving places={places} frame={frame} perTonne={perTonne} units={year.units} />
    </g>
  );
}

function Store({ place, frame, perTonne, us, units }: {
  place: StorePlace;
  frame: Frame;
  perTonne: number;
  us: boolean;
  units: ReaderUnits;
}): VNode {
  const { row, ground } = place;
  const most = Math.max(row.capacityG, ...row.stays.map(({ capacityG }) => capacityG));
  const figure = row.kind === "bin" ? (most / 1e6).toFixed(1) : `${row.places ?? 0} bags`;
  // The name of a low first bin keeps to the ground, clear of the band's own name above it.
  const lift = place.lines.length > 1 || place.clear === 0 && place.height < 32
    ? 0.5
    : Math.max(0.5, Math.min(7, place.height / 2 - 4));
  const y = c(ground - lift);
  return (
    <g>
      <RowName lines={place.lines} full={row.name} y={y} />
      {us && row.kind === "bin" && (
        <Figure text={bushels(most, row.stays[0]?.crop ?? "barley")} y={y} x={BUSHELS} quiet />
      )}
      <Figure text={figure} y={y} />
      <path class="holds" d={holds(place, frame, perTonne)} />
      {row.stays.map((stay, index) => (
        <Stay
          key={`${stay.lotId}-${stay.from}`}
          {...{ stay, place, frame, perTonne, units }}
          below={row.kind === "bags" ? under(place, index, frame, perTonne) : undefined}
        />
      ))}
      <path class="ground" d={`M${frame.left} ${ground}H${c(frame.right)}`} />
    </g>
  );
}

/** What the store holds of the lot that lies in it, as a faint line; between two lots it goes on at the last height. */
function holds({ row, ground, height }: StorePlace, frame: Frame, perTonne: number): string {
  const full = (massG: number) => c(ground - (row.kind === "bin" ? massG / 1e6 * perTonne : height));
  let path = `M${frame.left} ${full(row.stays[0]?.capacityG ?? row.capacityG)}`;
  if (row.kind === "bin") {
    for (const stay of row.stays) path += `H${c(frame.x(stay.from))}V${full(stay.capacityG)}`;
  }
  return `${path}H${c(frame.right)}V${ground}`;
}
