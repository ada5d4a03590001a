import type { VNode } from "preact";
import { fromTo, malt } from "../../islands/_charts/words.ts";
import { Part } from "./tables.tsx";
import type { YearView } from "./view.ts";

/** What the year falls short of: when, how much, and the first cause. */
export function Shortfalls({ view }: { view: YearView }): VNode {
  const { shortfalls, year } = view;
  return (
    <Part
      title="What falls short"
      wide
      columns={[{ name: "When" }, { name: "Missing", number: true }, {
        name: "What, and the first cause",
        prose: true,
      }]}
      rows={shortfalls.map((one) => [
        fromTo(one.fromDay, one.toDay),
        one.massG > 0
          ? malt(one.massG, year.units)
          : `${one.brewIds.length} ${one.brewIds.length === 1 ? "brew" : "brews"}`,
        one.sentence,
      ])}
      none="Nothing: every brew is made, and home malt lasts."
    />
  );
}
