import type { ComponentChildren, VNode } from "preact";
import type { Crop } from "../../core/season/quantity.ts";
import type { GapCause } from "../../core/year/malthouse-band.ts";
import type { Year } from "../../core/year/year.ts";
import { gapMark } from "./Gaps.tsx";
import { unusualMalts } from "./malthouse-words.ts";
import { signPath } from "./Old.tsx";
import { type GrainState, hatch, rules, signs } from "./textures.ts";
import { clip } from "./text-width.ts";

/** What the signs and letters of a section mean: each sign drawn as it stands in the drawing, its words beside it. */
export function Key({ year, still }: { year: Year; still?: boolean }): VNode {
  const beers = beerLetters(year);
  const malts = [...unusualMalts(year)].map(([letter, names]) => [letter, names.join(", ")] as const);
  const causes = new Set(year.malthouse.vessels.flatMap(({ gaps }) => gaps.map(({ cause }) => cause)));
  return (
    <div class="key">
      <Group name="Everywhere">
        <Sign says="done" name="done">
          <Rim kind="run done" />
        </Sign>
        <Sign says="under way" name="under way">
          <g class="run under-way">
            <path class="tread" d="M12 1H1v9H12" />
            <path class="begun" d="M1 1H12v9H1Z" />
          </g>
        </Sign>
        <Sign says="booked" name="booked">
          <Rim kind="run booked" />
        </Sign>
        <Sign says="not booked" name="not booked">
          <Rim kind="run not-booked" />
        </Sign>
        <span>{still ? "+2: two more, listed below" : "+2: two more than there is room for"}</span>
      </Group>
      <Group name="Fields">
        <Sign says="drilled" width={10} name="drilled">
          <path class="solid" d="M2 3h6L5 9Z" />
        </Sign>
        <Sign says="to be drilled" width={10} name="to be drilled">
          <path class="open" d="M2 3h6L5 9Z" />
        </Sign>
        <Sign says="harvest, early to late, as high as its tonnes" name="harvest">
          <path class="grain wedge barley planned" d="M1 9.5 10 3 20 9.5Z" />
        </Sign>
        <Sign says="over its peak: a bad to a good year" width={10} name="doubt">
          <path class="ticks" d="M5 1.5V9.5M3 1.5h4M3 9.5h4" />
        </Sign>
      </Group>
      <Group name="Bins">
        <Grain state="asleep" says="asleep" />
        <Grain state="done" says="ready, recorded" />
        <Grain state="planned" says="ready, planned" />
        <Grain state="feed" says="feed only" />
        {hasLocked(year) && <Grain state="locked" says="locked: neither malt, mash nor feed" />}
        <Sign says="a load that must leave" width={12} name="load">
          <g class="load must not-booked">
            <path d="M2 .8v4h8v-4" />
            <path class="arrow" d="M2 5.5h8L6 10.5Z" />
          </g>
        </Sign>
        <Sign says="moved to another bin" width={10} name="move">
          <g class="move not-booked">
            <path d="M5 0V8" />
            <path class="arrow" d="M1 6h8L5 11Z" />
          </g>
        </Sign>
        {CROPS.map((crop) => <CropSign key={crop} crop={crop} />)}
      </Group>
      <Group name="Malthouse">
        <span>
          <b>A</b> lot in the bed
        </span>
        {malts.map(([letter, name]) => (
          <span key={letter}>
            <i>{letter}</i> {name}
          </span>
        ))}
        <Sign says="kiln fired at night" width={12} name="night">
          <path class="nights" d="M2 6h8" />
        </Sign>
        <Sign says="vessel full" name="full">
          <g class="limit">
            <path d="M3 6H19M3 2V11M19 2V11" />
            <path class="heavy" d="M0 9l6 -6M16 9l6 -6" />
          </g>
        </Sign>
        {GAPS.filter(([cause]) => causes.has(cause)).map(([cause, says]) => (
          <Sign key={cause} says={says} width={14} name={`gap ${cause}`}>
            <path
              class={`gap ${cause.replace(" ", "-")}`}
              d={gapMark(cause, { left: 1, right: 13, top: 0.5, bottom: 10.5 })}
            />
          </Sign>
        ))}
        <Sign says="no steeping" width={14} name="no steeping">
          <path class="pause" d="M1 5.5H13" />
        </Sign>
        {year.runWorth.length > 0 && (
          <Sign says="the higher, the more one further run that week is worth; a point: nothing" name="worth">
            <g class="worth">
              <path d="M1 2h5v9h-5ZM8.5 7h5v4h-5Z" />
              <path class="none" d="M16 10h5v1h-5Z" />
            </g>
          </Sign>
        )}
        {year.malthouse.runs.some(({ standing }) => standing === "dumped") && (
          <Sign says="run dumped" width={12} name="dumped">
            <path class="dumped-cross" d="M2.5 2l7 7m0 -7l-7 7" />
          </Sign>
        )}
      </Group>
      <Group name="Malt">
        <Sign says="ready" name="malt ready">
          <path class="ready done" d="M1 1H11V10H1Z" />
          <path class="ready planned" d="M11 1H21V10H11Z" />
        </Sign>
        <Sign says="resting" name="malt resting">
          <path class="hatch rests" d={hatch(SWATCH)} />
          <path class="rests-line" d="M1 10V1H21V10" />
        </Sign>
        <Sign says="bought" name="malt bought">
          <path class="hatch bought" d={rules(SWATCH)} />
          <path class="rests-line" d="M1 10V1H21V10" />
        </Sign>
        <Sign says="home malt runs short: what is ready meanwhile goes to other brews" name="lacking">
          <g class="lack">
            <path d="M1 2H21V9H1Z" />
          </g>
        </Sign>
        <Sign says="order" width={10} name="order">
          <path class="open" d="M5 2 8.7 9H1.3Z" />
        </Sign>
        <Sign says="arrives" width={10} name="arrives">
          <path class="solid" d="M5 2 8.7 9H1.3Z" />
        </Sign>
      </Group>
      <Group name="Brews">
        <Sign says="filled as high as its home-grown share" width={8} name="stick">
          <g class="stick done">
            <path class="inked" d="M2 5H6V11H2Z" />
            <path class="rim" d="M2 11V.5H6V11" />
          </g>
        </Sign>
        <Sign says="capped: a promised brew" width={8} name="promised">
          <g class="stick done">
            <path class="rim" d="M2 11V3H6V11" />
            <path class="promise" d="M1.4 1.2H6.6" />
          </g>
        </Sign>
        {year.brews.some(({ standing }) => standing === "unbrewed") && (
          <Sign says="not made" width={8} name="not made">
            <g class="stick unbrewed">
              <path class="rim" d="M2 11V.5H6V11" />
              <path class="missing" d="M1 3l6 6m0 -6l-6 6" />
            </g>
          </Sign>
        )}
        <Sign says="a beer in a tank" width={14} name="tank">
          <path class="tank done" d="M1 5.5H13" />
        </Sign>
        {beers.map(([letter, name]) => (
          <span key={`${letter}${name}`}>
            <b>{letter}</b> {clip(name, 120, 11.5)}
          </span>
        ))}
      </Group>
    </div>
  );
}

/** The signs of old days, which stand beside their own switch and not in the key: they come and go with the news. */
export function OldSign({ kind, children }: { kind: "was" | "new" | "gone"; children: string }): VNode {
  return (
    <Sign says={children} width={kind === "was" ? 26 : 10} name={`old ${kind}`}>
      <g class="old">
        {kind === "was"
          ? <path class="was" d="M1 11V1.5H25V11" />
          : <path class="sign" d={signPath(kind, 5, 5.5)} />}
      </g>
    </Sign>
  );
}

/** Whether some lot is locked on some day; most farms never have one. */
function hasLocked({ stores }: Year): boolean {
  return stores.some(({ stays }) =>
    stays.some(({ stretches }) => stretches.some(({ state }) => state === "locked"))
  );
}

const CROPS: readonly Crop[] = ["barley", "wheat", "rye", "oats"];

const GAPS: readonly (readonly [GapCause, string])[] = [
  ["too short", "cleaned, then too short for a load"],
  ["nobody there", "nobody there"],
  ["closed", "closed for service"],
  ["taken", "another vessel taken"],
];

/** The signs of one band. */
function Group({ name, children }: { name: string; children: ComponentChildren }): VNode {
  return (
    <p>
      <b>{name}</b>
      {children}
    </p>
  );
}

/** A sign with its words. `name` says to a test which state it shows. */
function Sign({ says, name, width = 22, children }: {
  says: string;
  name: string;
  width?: number;
  children: ComponentChildren;
}): VNode {
  return (
    <span class="sign-of">
      <svg
        class="section sample"
        viewBox={`0 0 ${width} 11`}
        width={width}
        height="11"
        aria-hidden="true"
        data-state={name}
      >
        {children}
      </svg>
      {says}
    </span>
  );
}

function Rim({ kind }: { kind: string }): VNode {
  return (
    <g class={kind}>
      <path class="tread" d="M1 1H21V10H1Z" />
    </g>
  );
}

/** The ground of a sample. */
const SWATCH = { steps: [{ x: 1, y: 1 }], left: 1, right: 21, floor: 10 };

function Grain({ state, says }: { state: GrainState; says: string }): VNode {
  return (
    <Sign says={says} name={`grain ${state}`}>
      <path class={`grain barley ${state}`} d="M1 1H21V10H1Z" />
      <path class={`signs barley ${state}`} d={signs(SWATCH, "barley", state)} />
      <path class={`level ${state === "done" ? "done" : "planned"}`} d="M1 10V1H21V10Z" />
    </Sign>
  );
}

function CropSign({ crop }: { crop: Crop }): VNode {
  return (
    <Sign says={crop} name={`crop ${crop}`}>
      <path class={`signs ${crop} asleep`} d={signs(SWATCH, crop, "asleep")} />
    </Sign>
  );
}

/** The small letter of every beer of the year with its name, in order of letter. */
function beerLetters({ brews }: Year): [string, string][] {
  const names = new Map(
    brews.map(({ beerId, letter, beerName }) => [beerId, [letter, beerName] as [string, string]]),
  );
  return [...names.values()].toSorted(([a], [b]) => a < b ? -1 : a > b ? 1 : 0);
}
