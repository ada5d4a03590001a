/** Stretches of minutes, put together and cut against one another. */

/** A stretch of epoch minutes, both ends included. */
export type Span = readonly [from: number, to: number];

/** The same minutes in as few stretches as will do, in order. */
export function joined(spans: readonly Span[]): Span[] {
  const all: Span[] = [];
  for (const span of spans.filter(([from, to]) => from <= to).sort((a, b) => a[0] - b[0])) {
    const last = all.at(-1);
    if (last === undefined || span[0] > last[1] + 1) all.push(span);
    else all[all.length - 1] = [last[0], Math.max(last[1], span[1])];
  }
  return all;
}

/** The minutes that lie in both. */
export function common(some: readonly Span[], others: readonly Span[]): Span[] {
  return joined(
    some.flatMap(([from, to]) =>
      others.map((other): Span => [Math.max(from, other[0]), Math.min(to, other[1])])
    ),
  );
}

/**
 * Minutes at which a stage may end that begins in a minute of `from` and lies in one free stretch. With lengths below
 * nothing, minutes at which a stage may begin that ends in one of `from`.
 */
export function across(from: readonly Span[], [least, greatest]: Span, free: readonly Span[]): Span[] {
  return joined(
    free.flatMap((stretch) =>
      common(common(from, [stretch]).map(([a, b]): Span => [a + least, b + greatest]), [stretch])
    ),
  );
}
