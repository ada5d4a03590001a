import type { VNode } from "preact";
import { runWorthWords } from "../../core/year/run-worth.ts";
import type { Year } from "../../core/year/year.ts";
import { c, type Frame } from "./frame.ts";
import { Figure } from "./Words.tsx";
import { worthBoxes, worthScaleWords, type WorthStrip, worthWordsEnd } from "./worth-layout.ts";

/** Under the malthouse, week by week: how much one more run started then is worth. */
export function Worth({ year, frame, strip }: { year: Year; frame: Frame; strip: WorthStrip }): VNode {
  const { ground } = strip;
  const scale = worthScaleWords(year, frame);
  const end = worthWordsEnd(frame, year.runWorth[0]?.day ?? frame.toDay);
  return (
    <g class="worth" role="img" aria-label={runWorthWords(year.runWorth)}>
      <Figure text="one more run" y={ground} quiet />
      {scale !== "" && (
        <text class="quiet" x={c(end)} y={c(ground)} text-anchor="end" aria-hidden="true">{scale}</text>
      )}
      {worthBoxes(year, strip, frame).map(({ x, y, width, height, none }) => (
        <path
          key={x}
          class={none ? "none" : undefined}
          d={`M${c(x)} ${c(y)}h${c(width)}v${c(height)}h${c(-width)}Z`}
        />
      ))}
    </g>
  );
}
