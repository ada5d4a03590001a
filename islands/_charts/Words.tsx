import type { VNode } from "preact";
import type { Placed, Wish } from "./label-placement.ts";
import { c } from "./frame.ts";

/** A label of the drawing: how it looks beside where it wants to stand. */
export interface WordsWish extends Wish {
  /** Class of its look, such as "quiet" or "lack". */
  readonly look?: string;
  /** Mark it belongs to, so that it stays when that mark is traced. */
  readonly of?: string;
}

/** Labels at the places they were given. They repeat what the marks say, so a screen reader skips them. */
export function Words({ placed }: { placed: readonly Placed<WordsWish>[] }): VNode {
  return (
    <g class="words" aria-hidden="true">
      {placed.map(({ wish, text, at }, index) => (
        <text
          key={index}
          x={c(at.x)}
          y={c(at.y)}
          text-anchor={at.anchor === "start" ? undefined : at.anchor}
          class={[wish.bold ? "bold" : "", wish.look ?? ""].join(" ").trim() || undefined}
          font-size={wish.size}
          data-of={wish.of}
        >
          {wish.letter !== undefined && <tspan class="letter">{`${wish.letter} `}</tspan>}
          {text}
        </text>
      ))}
    </g>
  );
}

/** Name of a band or a row, left of the axis; cut to its room, the whole name in its title. */
export function RowName(
  { name, full, y, bold }: { name: string; full: string; y: number; bold?: boolean },
): VNode {
  return (
    <text x={0} y={c(y)} class={bold ? "band-name" : "row-name"}>
      {name === full ? null : <title>{full}</title>}
      {name}
    </text>
  );
}

/** A figure that ends at the common right edge of the numbers. */
export function Figure(
  { text, y, x = 140, quiet }: { text: string; y: number; x?: number; quiet?: boolean },
): VNode {
  return <text x={x} y={c(y)} text-anchor="end" class={quiet ? "figure quiet" : "figure"}>{text}</text>;
}
