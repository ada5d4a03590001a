import type { VNode } from "preact";
import type { Crop } from "../../core/season/quantity.ts";

/** How grain is drawn in a bin: not yet awake, ready and recorded, ready and planned, or good for feed only. */
export const GRAIN_STATES = ["asleep", "done", "planned", "feed"] as const;
export type GrainState = (typeof GRAIN_STATES)[number];

/** The fill of grain of a crop in a state. */
export function grainFill(crop: Crop, state: GrainState): string {
  return `url(#${crop}-${state})`;
}

/**
 * Every texture of the section. Each crop is bound to its own sign, so that nothing is told by colour alone; the
 * sign stands wide apart while the grain sleeps and close when it is ready, and crosses mean feed only.
 */
export function Patterns(): VNode {
  return (
    <defs>
      {(Object.keys(signs) as Crop[]).flatMap((crop) =>
        GRAIN_STATES.map((state) => {
          const { width, height, sign } = state === "feed"
            ? crosses
            : signs[crop][state === "asleep" ? 0 : 1];
          return (
            <pattern
              key={`${crop}-${state}`}
              id={`${crop}-${state}`}
              class={`${crop} ${state}`}
              width={width}
              height={height}
              patternUnits="userSpaceOnUse"
            >
              <rect class="tint" width={width} height={height} />
              {sign}
            </pattern>
          );
        })
      )}
      <pattern id="resting" width="5" height="5" patternUnits="userSpaceOnUse">
        <path class="hatch malt-line" d="M-1 6 6 -1M-1 1 1 -1M4 6 6 4" />
      </pattern>
      <pattern id="bought" width="4" height="3" patternUnits="userSpaceOnUse">
        <path class="hatch malt-line" d="M0 1.5H4" />
      </pattern>
      <pattern id="lack" width="3" height="3" patternUnits="userSpaceOnUse">
        <rect class="lack-ground" width="3" height="3" />
        <path class="hatch lack-line" d="M-1 1 1 -1M0 3 3 0M2 4 4 2" />
      </pattern>
    </defs>
  );
}

interface Sign {
  readonly width: number;
  readonly height: number;
  readonly sign: VNode;
}

const crosses: Sign = {
  width: 7,
  height: 6,
  sign: <path class="sign" d="M2 1.5 5 4.5M5 1.5 2 4.5" />,
};

/** Wide and close form of each crop's sign. */
const signs: Record<Crop, readonly [Sign, Sign]> = {
  barley: [
    {
      width: 10,
      height: 8,
      sign: <path class="sign seed" d="M2.5 2h.01M7.5 6h.01" />,
    },
    {
      width: 5,
      height: 4,
      sign: <path class="sign seed" d="M1.25 1h.01M3.75 3h.01" />,
    },
  ],
  wheat: [
    {
      width: 12,
      height: 8,
      sign: <path class="sign" d="M1 4.5 3 2.5 5 4.5M7 8.5 9 6.5 11 8.5M7 .5 9 -1.5 11 .5" />,
    },
    { width: 6, height: 5, sign: <path class="sign" d="M0 3.5 1.5 2 3 3.5 4.5 2 6 3.5" /> },
  ],
  rye: [
    { width: 9, height: 8, sign: <path class="sign" d="M1.5 4 3.5 1M6 8 8 5" /> },
    { width: 4, height: 5, sign: <path class="sign" d="M.5 4.5 3.5 .5" /> },
  ],
  oats: [
    {
      width: 11,
      height: 9,
      sign: <path class="sign" d="M4 3a1.5 1.5 0 1 1 0 -.01ZM9.5 7.5a1.5 1.5 0 1 1 0 -.01Z" />,
    },
    { width: 5.5, height: 5, sign: <path class="sign" d="M4.2 2.5a1.5 1.5 0 1 1 0 -.01Z" /> },
  ],
};
