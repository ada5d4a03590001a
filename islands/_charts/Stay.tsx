import { Fragment, type VNode } from "preact";
import type { LotState, LotStay } from "../../core/year/stores-band.ts";
import type { ReaderUnits } from "../../core/units.ts";
import { c, type Frame } from "./frame.ts";
import { Mark } from "./Mark.tsx";
import { cutSteps, type Step, stepArea, stepBand, stepLine } from "./steps.ts";
import { levelSteps, type StorePlace } from "./stores-layout.ts";
import { type GrainState, signs } from "./textures.ts";
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
  const lower = below === undefined ? null : floorSteps(below, ground, frame);
  const areas = stay.stretches.flatMap(({ state, from, to }) =>
    pieces(frame.x(from), frame.x(to + 1), now).map(([left, right]) => {
      const cut = cutSteps(steps, left, right);
      const look = fillOf(state, right <= now);
      const base = lower === null ? null : cutSteps(lower, left, right);
      // Signs of a lot on another stand where they do not run into the one below it.
      const floor = base === null ? ground : Math.min(...base.map(({ y }) => y));
      return {
        look,
        d: base === null ? stepArea(cut, right, ground) : stepBand(cut, base, right),
        signs: signs({ steps: cut, left, right, floor }, stay.crop, look),
        left,
        state,
      };
    })
  );
  return (
    <Mark node={stay.node} says={says(stay, place.row.name, units)} kind={`stay ${stay.crop}`}>
      {areas.map(({ look, d, signs, left }) => (
        <Fragment key={left}>
          <path class={`grain ${stay.crop} ${look}`} d={d} />
          {signs !== "" && <path class={`signs ${stay.crop} ${look}`} d={signs} />}
        </Fragment>
      ))}
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
  steps: readonly Step[],
  from: number,
  end: number,
  ground: number,
  arrives: boolean,
): string {
  const line = stepLine(cutSteps(steps, from, end), end);
  return `${arrives ? `M${c(from)} ${ground}L${line.slice(1)}` : line}V${ground}`;
}

/** The upper edge of what lies under a lot in a bag row. */
function floorSteps(below: readonly number[], ground: number, frame: Frame): Step[] {
  const floor: Step[] = [];
  for (const [offset, height] of below.entries()) {
    const y = c(ground - height);
    if (floor.at(-1)?.y !== y) floor.push({ x: frame.x(frame.fromDay + offset), y });
  }
  return floor;
}

function pieces(left: number, right: number, now: number): [number, number][] {
  if (right <= left) return [];
  return left < now && now < right ? [[left, now], [now, right]] : [[left, right]];
}

/** Awaiting a result looks like sleep: neither may be steeped. Past its last day looks like feed: it can only go. */
function fillOf(state: LotState, recorded: boolean): GrainState {
  if (state === "asleep" || state === "awaiting") return "asleep";
  if (state === "feed" || state === "past") return "feed";
  if (state === "locked") return "locked";
  return recorded ? "done" : "planned";
}

const sayState: Record<LotState, string> = {
  asleep: "asleep",
  ready: "ready for malting",
  past: "past its last malting day",
  feed: "feed only",
  awaiting: "awaiting a result",
  locked: "locked (neither malt, mash nor feed)",
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
