import type { VNode } from "preact";
import { type Caution, cautionsFor, type HazardousKind } from "../../core/cautions.ts";
import type { NextJob } from "../../core/year/next.ts";

/** The cautions that belong to some kinds of work, each once, the gravest first; they defer to the site's own rules. */
export function Cautions({ kinds, title }: { kinds: readonly HazardousKind[]; title: string }): VNode | null {
  const all = [
    ...new Map(kinds.flatMap((kind) => cautionsFor(kind)).map((one) => [one.hazard, one])).values(),
  ];
  if (all.length === 0) return null;
  return (
    <aside class="cautions" aria-label={title}>
      <h3>{title}</h3>
      <ul>{all.map((one) => <Line key={one.hazard} caution={one} />)}</ul>
    </aside>
  );
}

function Line({ caution }: { caution: Caution }): VNode {
  return (
    <li>
      {caution.sentence} <span class="quiet">{`Who has the say: ${caution.authority}.`}</span>
    </li>
  );
}

/** The gravest caution of a kind of work, for the line it belongs to. */
export function gravest(kind: HazardousKind): string {
  return cautionsFor(kind)[0]?.sentence ?? "";
}

const JOBS: Readonly<Record<NextJob["kind"], HazardousKind>> = {
  steepIn: "steep",
  castToBed: "bed",
  kilnLoading: "kiln",
  strip: "strip",
  order: "order",
  "feed load": "feed load",
  move: "move",
};

/** What kind of hazardous work a next job is. */
export function hazardOf({ kind }: NextJob): HazardousKind {
  return JOBS[kind];
}
