import type { VNode } from "preact";
import { type Cell, Part } from "./tables.tsx";
import type { YearView } from "./view.ts";

/** What the season check warns of; errors never get this far with a plan. */
export function Warnings({ view }: { view: YearView }): VNode {
  const { findings, season, plan } = view;
  const broken = (plan?.cannotKeep ?? []).map((
    one,
  ): Cell[] => [`${one.kind} ${one.id} cannot be kept`, one.why, ""]);
  return (
    <Part
      title="Look at this in the season"
      fold
      {...(season.bookValues.length === 0 ? {} : {
        about:
          `${season.bookValues.length} of the values behind this page are book values: published figures that the farm has not replaced yet.`,
      })}
      columns={[{ name: "What", prose: true }, { name: "Why it matters", prose: true }, {
        name: "What to do",
        prose: true,
      }]}
      rows={[...broken, ...findings.map((one): Cell[] => [one.thing, one.message, one.wayOut])]}
      none="The season check found nothing to warn of."
    />
  );
}
