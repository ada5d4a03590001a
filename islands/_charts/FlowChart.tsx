import type { VNode } from "preact";
import type { Flow } from "../../core/year/flow.ts";
import { type FlowLayout, layoutFlow, NODE_WIDTH, type PlacedBand, type PlacedNode } from "./flow-layout.ts";
import { c, WIDTH } from "./frame.ts";
import { placeLabels } from "./label-placement.ts";
import { tonnes } from "./words.ts";
import { Words, type WordsWish } from "./Words.tsx";

/** The year's grain from field to glass. Bands are as wide as their dry matter; a loss is hatched, bought malt stays open. */
export function FlowChart({ flow }: { flow: Flow }): VNode {
  const layout = layoutFlow(flow, WIDTH);
  const { height } = layout;
  const bounds = { x: 0, y: 0, width: WIDTH, height };
  return (
    <div class="flow-scroll" role="region" aria-label="The year's grain, as a drawing" tabIndex={0}>
      <svg
        class="flow"
        viewBox={`0 0 ${WIDTH} ${height}`}
        width={WIDTH}
        height={height}
        role="img"
        aria-label="The year's flow of dry matter from field to glass; the table below holds every weight"
      >
        <defs>
          <pattern id="flow-loss" width="6" height="6" patternUnits="userSpaceOnUse">
            <path class="flow-hatch" d="M-1 7 7 -1M-1 1 1 -1M5 7 7 5" />
          </pattern>
        </defs>
        {layout.bands.map((band) => (
          <path key={`${band.from.id} ${band.to.id}`} class={`ribbon ${kindOf(band)}`} d={ribbon(band)}>
            <title>{`${band.from.label} to ${band.to.label}: ${tonnes(band.dryG)} dry matter`}</title>
          </path>
        ))}
        {layout.nodes.map((node) => (
          <rect
            key={node.id}
            class={`node ${node.kind}`}
            x={c(node.x)}
            y={c(node.top)}
            width={NODE_WIDTH}
            height={c(Math.max(1, node.bottom - node.top))}
          />
        ))}
        <Words placed={placeLabels(wishes(layout), bounds)} />
      </svg>
    </div>
  );
}

function kindOf({ from, to }: PlacedBand): string {
  if (to.kind === "loss") return "to-loss";
  if (to.kind === "end" && from.kind !== "grist") return "to-side";
  return from.id === "bought-malt" || from.id === "bound-water" ? "bought" : "";
}

function ribbon({ from, to, fromY, toY, width }: PlacedBand): string {
  const left = c(from.x + NODE_WIDTH),
    right = c(to.x),
    middle = c((left + right) / 2),
    half = Math.max(0.4, width / 2);
  return `M${left} ${c(fromY - half)}C${middle} ${c(fromY - half)} ${middle} ${c(toY - half)} ${right} ${
    c(toY - half)
  }` +
    `V${c(toY + half)}C${middle} ${c(toY + half)} ${middle} ${c(fromY + half)} ${left} ${c(fromY + half)}Z`;
}

function wishes({ nodes, columns }: FlowLayout): WordsWish[] {
  return nodes.toSorted((a, b) => b.dryG - a.dryG).map((node: PlacedNode): WordsWish => {
    const last = node.column === columns - 1;
    const x = last ? node.x - 5 : node.x + NODE_WIDTH + 5;
    const anchor = last ? "end" as const : "start" as const;
    const y = (node.top + node.bottom) / 2 + 4;
    const weight = node.dryG < 1e5 ? `${Math.round(node.dryG / 1000)} kg` : tonnes(node.dryG);
    return {
      text: `${node.label}, ${weight}`,
      shorter: [node.label],
      bold: node.kind === "end" || node.kind === "source",
      look: node.kind === "loss" ? "quiet halo" : "halo",
      spots: [0, -6, 6, -11, 11].map((shift) => ({ x, y: c(y + shift), anchor })),
    };
  });
}
