import type { VNode } from "preact";
import type { LotState, LotStay } from "../../core/year/year.ts";
import type { ReaderUnits } from "../../core/units.ts";
import { c, type Frame } from "./frame.ts";
import { Mark } from "./Mark.tsx";
import { grainFill, type GrainState } from "./Patterns.tsx";
import { cutSteps, stepArea, stepLine } from "./steps.ts";
import { levelSteps, type StorePlace } from "./stores-layout.ts";
import { fromTo, grain, shortDay } from "./words.ts";

/** One lot lying in one store: its grain as a silhouette, filled by what it is good for. */
export function Stay({ stay, place, frame, perTonne, units, below }: {
  stay: LotStay;
  place: StorePlace;
  frame: Frame;
  perTonne: number;
  units: ReaderUnits;
  below: readonly number[] | undefined;
}): VNode | null {
  const steps = levelSteps(stay, place, frame, perTonne, below);
  if (steps.length === 0) return null;
  const { ground } = place;
  const from = frame.x(stay.from), end = frame.x(stay.to + 1), now = frame.x(frame.todayDay);
  const floor = below === undefined ? ground : undefined;
  const areas = stay.stretches.flatMap(({ state, from, to }) =>
    pieces(frame.x(from), frame.x(to + 1), now).map(([left, right]) => {
      const cut = cutSteps(steps, left, right);
      const base = floor ?? ground - (below?.[Math.floor((left - frame.left) / frame.dayWidth)] ?? 0);
      return {
        fill: grainFill(stay.crop, fillOf(state, right <= now)),
        d: stepArea(cut, right, base),
        left,
        state,
      };
    })
  );
  return (
    <Mark node={stay.node} says={says(stay, place.row.name, units)} kind={`stay ${stay.crop}`}>
      {areas.map(({ fill, d }) => <path key={d} fill={fill} d={d} />)}
      {areas.filter(({ left, state }, index) =>
        index > 0 && areas[index - 1]?.state !== state && left > frame.left
      ).map(({ left }) => (
        <path
          key={left}
          class="wakes"
          d={`M${c(left)} ${ground}V${c(cutSteps(steps, left, left + 1)[0]?.y ?? ground)}`}
        />
      ))}
      {from < now && (
        <path
          class="level done"
          d={stepLine(cutSteps(steps, from, Math.min(now, end)), Math.min(now, end))}
        />
      )}
      {end > now && (
        <path class="level planned" d={levelAhead(steps, Math.max(from, now), end, ground, from >= now)} />
      )}
    </Mark>
  );
}

/** The level to come: it stands up from the ground where the lot arrives and falls back to it where it ends. */
function levelAhead(
  steps: Parameters<typeof cutSteps>[0],
  from: number,
  end: number,
  ground: number,
  arrives: boolean,
): string {
  const line = stepLine(cutSteps(steps, from, end), end);
  return `${arrives ? `M${c(from)} ${ground}L${line.slice(1)}` : line}V${ground}`;
}

function pieces(left: number, right: number, now: number): [number, number][] {
  if (right <= left) return [];
  return left < now && now < right ? [[left, now], [now, right]] : [[left, right]];
}

/** Awaiting a result looks like sleep: neither may be steeped. Past its last day looks like feed: it can only go. */
function fillOf(state: LotState, recorded: boolean): GrainState {
  if (state === "asleep" || state === "awaiting") return "asleep";
  if (state === "feed" || state === "past") return "feed";
  return recorded ? "done" : "planned";
}

const sayState: Record<LotState, string> = {
  asleep: "asleep",
  ready: "ready for malting",
  past: "past its last malting day",
  feed: "feed only",
  awaiting: "awaiting a result",
};

function says(stay: LotStay, store: string, units: ReaderUnits): string {
  const start = stay.levelsG[0] ?? 0;
  const states = stay.stretches.map(({ state, from, to }) => `${sayState[state]} ${fromTo(from, to)}`).join(
    ", ",
  );
  const last = stay.lastMaltingDay === null
    ? ""
    : `; last malting day ${shortDay(stay.lastMaltingDay.day)}: ${stay.lastMaltingDay.reason}`;
  const weight = `${grain(start, units, stay.crop)}${stay.forecast ? " forecast" : ""}`;
  return `Lot ${stay.letter}, ${stay.name}, in ${store} from ${
    shortDay(stay.from)
  }, ${weight}; ${states}${last}`;
}
