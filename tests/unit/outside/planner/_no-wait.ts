/** Days a job takes on each machine, in order. Nothing waits between machines, and each does one job at a time. */
export type Job = readonly number[];

/** How long after job `a` job `b` may begin, so that it finds every machine free the moment it gets there. */
export function delay(a: Job, b: Job): number {
  let least = 0, leavesA = 0, reachesB = 0;
  for (let machine = 0; machine < a.length; machine++) {
    leavesA += a[machine]!;
    least = Math.max(least, leavesA - reachesB);
    reachesB += b[machine]!;
  }
  return least;
}

const length = (job: Job) => job.reduce((sum, days) => sum + days, 0);

/** Least makespan of every set of jobs (bit i = job i) by dynamic programming over sets and last jobs, as for a travelling salesman. */
export function leastMakespans(jobs: readonly Job[]): number[] {
  const n = jobs.length;
  const starts = Array.from({ length: 1 << n }, () => new Array<number>(n).fill(Infinity));
  const makespans = new Array<number>(1 << n).fill(Infinity);
  makespans[0] = 0;
  for (let set = 1; set < 1 << n; set++) {
    for (let last = 0; last < n; last++) {
      if ((set & (1 << last)) === 0) continue;
      const before = set & ~(1 << last);
      let start = before === 0 ? 0 : Infinity;
      for (let other = 0; other < n; other++) {
        if (before & (1 << other)) {
          start = Math.min(start, starts[before]![other]! + delay(jobs[other]!, jobs[last]!));
        }
      }
      starts[set]![last] = start;
      makespans[set] = Math.min(makespans[set]!, start + length(jobs[last]!));
    }
  }
  return makespans;
}

/** The most jobs that can be done within `days`. */
export function mostJobs(jobs: readonly Job[], days: number): number {
  const bits = (set: number): number => set === 0 ? 0 : 1 + bits(set & (set - 1));
  return leastMakespans(jobs).reduce(
    (most, makespan, set) => makespan <= days ? Math.max(most, bits(set)) : most,
    0,
  );
}

/**
 * Least makespan of two-machine jobs by the rule of Gilmore and Gomory: "Sequencing a one state-variable machine: a solvable case of
 * the traveling salesman problem", Operations Research 12 (1964), 655-679. A job of no length closes the sequence to a tour
 * in which going from i to j costs max(0, b(i) - a(j)); the makespan is the tour's cost and all first stages. The rule: sort by
 * b, send each to the a of the same rank, join the cycles that makes by the cheapest exchanges of neighbours (a spanning
 * tree), and make the exchanges in the rule's order. From memory; the test beside it checks it against trying everything.
 */
export function gilmoreGomory(jobs: readonly (readonly [a: number, b: number])[]): number {
  const all = [...jobs, [0, 0] as const].sort((one, other) => one[1] - other[1]);
  const n = all.length;
  const a = all.map((job) => job[0]), b = all.map((job) => job[1]);
  const next = all.map((_, i) => i).sort((i, j) => a[i]! - a[j]!);
  const exchangeCost = (i: number) =>
    Math.max(0, Math.min(b[i + 1]!, a[next[i + 1]!]!) - Math.max(b[i]!, a[next[i]!]!));

  const cycle = all.map((_, i) => i);
  const root = (i: number): number => cycle[i] === i ? i : root(cycle[i]!);
  next.forEach((to, from) => cycle[root(from)] = root(to));
  const exchanges: number[] = [];
  const cheapestFirst = Array.from({ length: n - 1 }, (_, i) => i).sort((i, j) =>
    exchangeCost(i) - exchangeCost(j)
  );
  for (const i of cheapestFirst) {
    if (root(i) === root(i + 1)) continue;
    cycle[root(i)] = root(i + 1);
    exchanges.push(i);
  }
  // Where the a of the rank is the larger one, exchanges go from the last to the first; then the others from the first on.
  const rising = exchanges.filter((i) => a[next[i]!]! >= b[i]!).sort((i, j) => j - i);
  const falling = exchanges.filter((i) => a[next[i]!]! < b[i]!).sort((i, j) => i - j);
  const tour = [...next];
  for (const i of [...rising, ...falling]) [tour[i], tour[i + 1]] = [tour[i + 1]!, tour[i]!];
  const costs = tour.reduce((sum, to, from) => sum + Math.max(0, b[from]! - a[to]!), 0);
  return costs + a.reduce((sum, one) => sum + one, 0);
}
