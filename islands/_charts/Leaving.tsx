import type { VNode } from "preact";
import type { StoreEvent } from "../../core/year/stores-band.ts";
import type { ReaderUnits } from "../../core/units.ts";
import { c, type Frame } from "./frame.ts";
import { Mark } from "./Mark.tsx";
import { isLastDayShown } from "./store-words.ts";
import { ARROW, loadHeight, type StorePlace } from "./stores-layout.ts";
import { shortDay, tonnes } from "./words.ts";

/** Loads that go out below the bins, grain that moves from one bin to another, and the last days of lots. */
export function Leaving({ places, frame, perTonne }: {
  places: readonly StorePlace[];
  frame: Frame;
  perTonne: number;
  units: ReaderUnits;
}): VNode {
  return (
    <g>
      {places.flatMap((place) =>
        place.row.departures.filter(({ day }) => day >= frame.fromDay && day < frame.toDay).map((event) =>
          event.kind === "moved out"
            ? <Move key={`${event.refId}-${place.row.id}`} {...{ event, place, places, frame, perTonne }} />
            : event.kind === "counted" || event.kind === "mixed out"
            ? null
            : (
              <Load
                key={`${event.refId}-${event.lotId}-${place.row.id}`}
                {...{ event, place, frame, perTonne }}
              />
            )
        )
      )}
      {places.map(({ row, ground, height }) =>
        row.stays.filter((stay) => isLastDayShown(stay, frame)).map((stay) => {
          const x = c(frame.x(stay.lastMaltingDay!.day + 1));
          return (
            <path
              key={`${stay.lotId}-${row.id}`}
              class="last-day"
              d={`M${x} ${ground}V${c(ground - height - 1)}`}
            />
          );
        })
      )}
    </g>
  );
}

/** A load hangs below the ground as high as its tonnes: a whole outline when it went or is booked, broken when not. */
function Load({ event, place, frame, perTonne }: {
  event: StoreEvent;
  place: StorePlace;
  frame: Frame;
  perTonne: number;
}): VNode {
  const x = frame.x(event.day + 1);
  const height = loadHeight(event.massG, perTonne) - ARROW;
  const y = place.ground;
  const must = place.row.mustLeave.some(({ refId, lotId }) => refId === event.refId && lotId === event.lotId);
  const goes = event.kind === "seed" ? "for seed" : event.kind === "sold" ? "sold" : "out to feed";
  return (
    <Mark
      node={event.node}
      says={`Lot ${event.letter}, ${tonnes(event.massG)} ${goes} from ${place.row.name} on ${
        shortDay(event.day)
      }, ${event.standing}`}
      kind={`load ${standingClass(event.standing)}${must ? " must" : ""}`}
    >
      <path d={`M${c(x - 8)} ${y}v${c(height)}h8v${c(-height)}`} />
      <path class="arrow" d={`M${c(x - 8)} ${c(y + height)}h8L${c(x - 4)} ${c(y + height + ARROW)}Z`} />
      <rect class="hit" x={c(x - 12)} y={y} width={16} height={c(height + ARROW + 2)} />
    </Mark>
  );
}

/** Where the thread of a move falls, and where it ends; null when it leads out of the drawing. */
export function moveLine(
  event: StoreEvent,
  place: StorePlace,
  places: readonly StorePlace[],
  frame: Frame,
  perTonne: number,
): { readonly x: number; readonly y: number; readonly to: StorePlace } | null {
  const to = places.find(({ row }) => row.id === event.otherStoreId);
  if (to === undefined) return null;
  const down = to.ground > place.ground;
  const y = down ? c(to.ground - Math.max(3, event.massG / 1e6 * perTonne) - 1) : to.ground + 1;
  return { x: c(frame.x(event.day + 1)), y, to };
}

/** A heavy broken thread from bin to bin. */
function Move({ event, place, places, frame, perTonne }: {
  event: StoreEvent;
  place: StorePlace;
  places: readonly StorePlace[];
  frame: Frame;
  perTonne: number;
}): VNode | null {
  const line = moveLine(event, place, places, frame, perTonne);
  if (line === null) return null;
  const { x, y, to } = line;
  const down = to.ground > place.ground;
  const head = down ? `M${c(x - 4.5)} ${y - 6}h9L${x} ${y}Z` : `M${c(x - 4.5)} ${y + 6}h9L${x} ${y}Z`;
  return (
    <Mark
      node={event.node}
      says={`Lot ${event.letter}, ${tonnes(event.massG)} moved from ${place.row.name} to ${to.row.name} on ${
        shortDay(event.day)
      }, ${event.standing}`}
      kind={`move ${standingClass(event.standing)}`}
    >
      <path d={`M${x} ${place.ground}V${down ? y - 4 : y + 4}`} />
      <path class="arrow" d={head} />
      <rect
        class="hit"
        x={x - 5}
        y={Math.min(place.ground, y)}
        width={10}
        height={Math.abs(y - place.ground)}
      />
    </Mark>
  );
}

/** Standings as class names, which hold no spaces. */
export function standingClass(standing: string): string {
  return standing.replace(" ", "-");
}
