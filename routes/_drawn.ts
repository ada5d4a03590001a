import { renderToString } from "preact-render-to-string";
import { renderYear } from "./_pages/year.tsx";
import type { YearProps } from "./_pages/view.ts";
import type { Standing } from "./_standing.ts";
import type { Store } from "./_store/open.ts";

/** A drawn year is shown again for so many minutes of the farm's clock, as long as nothing else has changed. */
const KEPT_MINUTES = 5;

interface Drawn {
  readonly key: string;
  readonly html: string;
}

const drawn = new WeakMap<Store, Map<string, Drawn>>();

/**
 * The year of a season as HTML. Drawing it takes a moment and the same drawing is asked for by every page that follows the
 * season, so the last one of each season is kept.
 */
export function drawYear(
  store: Store,
  { row, version }: Standing,
  props: () => YearProps,
  asOf: string,
): string {
  const kept = drawn.get(store) ?? new Map<string, Drawn>();
  drawn.set(store, kept);
  const key = `${version} ${row.hash} ${rounded(asOf)}`;
  const last = kept.get(row.id);
  if (last?.key === key) return last.html;
  const html = renderToString(renderYear(props()));
  kept.set(row.id, { key, html });
  return html;
}

/** A local minute, rounded down to the minutes for which a drawing is kept. */
function rounded(asOf: string): string {
  const minute = Number(asOf.slice(14));
  return asOf.slice(0, 14) + (minute - minute % KEPT_MINUTES);
}
