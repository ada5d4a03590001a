import { Fragment, type VNode } from "preact";
import type { Placed, Wish } from "./label-placement.ts";
import { c } from "./frame.ts";
import { TYPE } from "./label-placement.ts";

/** A label of the drawing: how it looks beside where it wants to stand. */
export interface WordsWish extends Wish {
  /** Class of its look, such as "quiet" or "lack". */
  readonly look?: string;
  /** Mark it belongs to, so that it stays when that mark is traced. */
  readonly of?: string;
  /** Where it belongs and what it says in full, for the list of what found no room. */
  readonly place?: string;
  readonly full?: string;
}

/** Labels at the places they were given. They repeat what the marks say, so a screen reader skips them. */
export function Words({ placed }: { placed: readonly Placed<WordsWish>[] }): VNode {
  return (
    <g class="words" aria-hidden="true">
      {placed.map((label, index) => (
        <Fragment key={index}>
          {isCleared(label) && <Clear label={label} />}
          {label.leader !== null && <path class="leader" d={leaderLine(label.leader)} />}
          <Label label={label} />
        </Fragment>
      ))}
    </g>
  );
}

/** Words on bare paper or on sleeping grain break what runs behind them, as a draughtsman leaves it out there. */
function isCleared({ wish, at }: Placed<WordsWish>): boolean {
  return /\bhalo\b|\bon-asleep\b/.test(at.look ?? wish.look ?? "");
}

function Clear({ label: { x, y, width, height, at } }: { label: Placed<WordsWish> }): VNode {
  const ground = at.look?.startsWith("on-asleep") ? `clear grain asleep ${at.look.split(" ")[1]}` : "clear";
  return <rect class={ground} x={c(x - 1.5)} y={c(y + 0.8)} width={c(width + 3)} height={c(height - 1)} />;
}

function Label({ label: { wish, text, after, letter, at, counts } }: { label: Placed<WordsWish> }): VNode {
  const look = counts.length > 0 ? "count halo" : at.look ?? wish.look ?? "";
  const kind = [wish.bold || counts.length > 0 ? "bold" : "", look].join(" ").trim();
  return (
    <text
      x={c(at.x)}
      y={c(at.y)}
      text-anchor={at.anchor === "start" ? undefined : at.anchor}
      class={kind === "" ? undefined : kind}
      font-size={counts.length > 0 ? TYPE : wish.size}
      data-of={wish.of}
    >
      {letter !== "" && <tspan class="letter">{text === "" ? letter : `${letter} `}</tspan>}
      {text}
      {after !== "" && <tspan class="after">{after}</tspan>}
    </text>
  );
}

/** A thin line with a dot at the mark, as a draughtsman leads words to a part. */
function leaderLine({ from, to }: NonNullable<Placed["leader"]>): string {
  return `M${c(from.x)} ${c(from.y)}L${c(to.x)} ${c(to.y)}m-1 0h2`;
}

/** Name of a band or a row, left of the axis, in as many lines as it was given; the last one stands on `y`. */
export function RowName({ lines, full, y, bold }: {
  lines: readonly string[];
  /** The whole name, for where the lines had to be cut. */
  full: string;
  y: number;
  bold?: boolean;
}): VNode {
  const cut = lines.at(-1)?.endsWith("…") ?? false;
  return (
    <text y={c(y - (lines.length - 1) * LINE)} class={bold ? "band-name" : "row-name"}>
      {cut && <title>{full}</title>}
      {lines.map((line, index) => <tspan key={index} x={0} dy={index === 0 ? undefined : LINE}>{line}
      </tspan>)}
    </text>
  );
}

/** Height of a line of a row's name. */
export const LINE = 12;

/** A figure that ends at the common right edge of the numbers. */
export function Figure(
  { text, y, x = 140, quiet, bold }: { text: string; y: number; x?: number; quiet?: boolean; bold?: boolean },
): VNode {
  const kind = ["figure", quiet ? "quiet" : "", bold ? "bold" : ""].join(" ").trim();
  return <text x={x} y={c(y)} text-anchor="end" class={kind}>{text}</text>;
}
