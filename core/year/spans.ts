/** Lists of closed intervals of minutes, in order and apart. Where a run's hand-overs may fall is a question about such lists. */
export type Spans = readonly (readonly [from: number, to: number])[];

/** Sorts and joins what touches. */
export function joined(spans: readonly (readonly [number, number])[]): Spans {
  const sorted = spans.filter(([from, to]) => from <= to).sort((a, b) => a[0] - b[0]);
  const result: [number, number][] = [];
  for (const [from, to] of sorted) {
    const last = result.at(-1);
    if (last !== undefined && from <= last[1]) last[1] = Math.max(last[1], to);
    else result.push([from, to]);
  }
  return result;
}

/** What is left of `from` to `to` when the busy spans are taken out; the ends of a busy span stay free. */
export function gapsBetween(busy: Spans, from: number, to: number): Spans {
  const gaps: [number, number][] = [];
  let free = from;
  for (const [start, end] of busy) {
    if (start >= free) gaps.push([free, Math.min(start, to)]);
    free = Math.max(free, end);
    if (free >= to) break;
  }
  if (free <= to) gaps.push([free, to]);
  return gaps;
}

/** The spans that reach into `from` to `to`, whole. */
export function reaching(spans: Spans, from: number, to: number): Spans {
  // Windows are many and questions short, so the first one is searched by halving.
  let low = 0, high = spans.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (spans[middle]![1] < from) low = middle + 1;
    else high = middle;
  }
  let end = low;
  while (end < spans.length && spans[end]![0] <= to) end++;
  return spans.slice(low, end);
}

/** The spans that reach into `from` to `to`, cut to it. */
export function clipped(spans: Spans, from: number, to: number): Spans {
  return reaching(spans, from, to).map(([start, end]) => [Math.max(from, start), Math.min(to, end)] as const);
}

/** Every minute that lies `least` to `greatest` after some minute of the spans. */
export function later(spans: Spans, least: number, greatest: number): Spans {
  return joined(spans.map(([from, to]) => [from + least, to + greatest] as const));
}

/** Minutes in both lists. */
export function common(a: Spans, b: Spans): Spans {
  return a.flatMap(([from, to]) => [...clipped(b, from, to)]);
}
