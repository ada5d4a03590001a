import { isReservePriced } from "./reserve-price.ts";
import type { Source } from "./weigh-sources.ts";
import type { Use, Weighing } from "./weighing.ts";

/** Batches that lines need not tell apart: of one material, extract and origin. What is ready first goes bad first. */
export interface Pool extends Source {
  /** The first ready first. */
  readonly members: readonly Source[];
}

/** What goes bad of a pool's batches on a day, as a column in tonnes of extract. */
export interface Spoilt {
  readonly pool: Pool;
  readonly day: number;
  readonly column: number;
}

/**
 * The sources of each material with all that need not be told apart as one: a season of many runs has a tenth of the uses then. What is taken
 * of a pool is shared out among its batches, first in, first out, by `sharedOut`.
 */
export function pooledSources(
  { sources, problem: { asOfDay } }: Pick<Weighing, "sources" | "problem">,
): Weighing["sourcesFor"] {
  const usable = sources.filter((source) => Number.isFinite(source.ready));
  // A batch that is past its last day stands alone: it is no reserve, and must not spoil out of one.
  const groups = [
    ...Map.groupBy(usable, (source) => source.last > asOfDay ? nameOf(source) : source).values(),
  ];
  const of = Map.groupBy(groups.flatMap(poolsOf), (source) => source.material);
  return (_, material) => of.get(material) ?? [];
}

/** Sources of one name are alike in all that a line or a row asks of them but the day. */
function nameOf({ material, home, perG, share, offer }: Source): string {
  const lots = share === null ? "?" : [...share].sort(([a], [b]) => a - b).flat().join(" ");
  return [material, home, perG, offer >= 0, lots].join("|");
}

/** One pool of sources that are alike; those that go bad before an earlier one stand alone. */
function poolsOf(alike: readonly Source[]): (Source | Pool)[] {
  const members: Source[] = [], alone: Source[] = [];
  for (const source of alike.toSorted((a, b) => a.ready - b.ready || a.last - b.last)) {
    (source.last >= (members.at(-1)?.last ?? -Infinity) ? members : alone).push(source);
  }
  const first = members[0] as Source, last = members.at(-1) as Source;
  return members.length === 1 ? [first, ...alone] : [{ ...first, last: last.last, members }, ...alone];
}

export function isPool(source: Source): source is Pool {
  return "members" in source;
}

/**
 * The stock of a pool from event to event, something coming in or going bad: stock(k+1) = stock(k) + what comes in - what is used - what spoils.
 * Of the stock before an event no more is good than has come in and is not past its last day, as what came first is used first.
 */
export function drawPool(
  { model, problem, spoilt, pools }: Pick<Weighing, "model" | "problem" | "spoilt" | "pools">,
  pool: Pool,
  uses: readonly Use[],
): void {
  const { members } = pool;
  pools.push(pool);
  const lastUse = uses.reduce((last, { day }) => Math.max(last, day), -Infinity);
  const priced = isReservePriced(problem, pool.material);
  const until = Math.max(lastUse, priced ? problem.horizonDay : -Infinity);
  const spoils = new Set(members.map((member) => member.last + 1).filter((day) => day <= until));
  const events = [...new Set([...members.map((member) => member.ready), ...spoils])].sort((a, b) => a - b);
  const byTurn = Map.groupBy(uses, ({ day }) => events.findLastIndex((event) => event <= day));
  const mostT = members.reduce(
    (sum, { column, perColumn, fixedT }) =>
      sum + Math.max(0, fixedT) + (column < 0 ? 0 : perColumn * (model.upper[column] as number)),
    0,
  );
  const heldBy = (ofMembers: readonly Source[]) => ({
    fixedT: ofMembers.reduce((sum, one) => sum + (one.column < 0 ? Math.max(0, one.fixedT) : one.fixedT), 0),
    entries: ofMembers.flatMap(({ column, perColumn }): [number, number][] =>
      column < 0 ? [] : [[column, perColumn]]
    ),
  });
  let stock = -1;
  events.forEach((event, turn) => {
    const { fixedT, entries } = heldBy(members.filter((member) => member.ready === event));
    if (stock >= 0) entries.push([stock, 1]);
    if (stock >= 0 && spoils.has(event)) {
      const good = heldBy(members.filter(({ ready, last }) => ready < event && last >= event));
      const bad = model.column(0, 0, mostT);
      spoilt.push({ pool, day: event, column: bad });
      model.row(-Infinity, good.fixedT, [
        [stock, 1],
        [bad, -1],
        ...good.entries.map(([column, perColumn]): [number, number] => [column, -perColumn]),
      ]);
      entries.push([bad, -1]);
    }
    for (const { column } of byTurn.get(turn) ?? []) entries.push([column, -1]);
    stock = model.column(0, 0, mostT);
    model.row(-fixedT, -fixedT, [...entries, [stock, -1]]);
  });
}

/** A use with what it takes, tonnes of extract. */
export interface Taken {
  use: Use;
  massT: number;
}

/**
 * What is taken of pools as taken of their batches: in order of day, each from what came in first and is not used up. `heldT` is what a
 * batch holds.
 */
export function sharedOut(taken: readonly Taken[], heldT: (source: Source) => number): Taken[] {
  const pools = Map.groupBy(taken, ({ use }) => use.source);
  return [...pools].flatMap(([pool, ofPool]) => {
    if (!isPool(pool)) return ofPool;
    const left = pool.members.map(heldT);
    const byDay = ofPool.toSorted((a, b) => a.use.day - b.use.day || a.use.line - b.use.line);
    return byDay.flatMap(({ use, massT }) => {
      const parts: Taken[] = [];
      let open = massT;
      for (const [i, source] of pool.members.entries()) {
        if (open <= 0 || source.ready > use.day) break;
        const part = Math.min(open, left[i] as number);
        if (part <= 0 || source.last < use.day) continue;
        left[i] = (left[i] as number) - part;
        open -= part;
        parts.push({ use: { ...use, source }, massT: part });
      }
      // What rounding leaves open stays with the batch that gave last.
      const last = parts.at(-1);
      if (last) last.massT += Math.max(0, open);
      return parts;
    });
  });
}
