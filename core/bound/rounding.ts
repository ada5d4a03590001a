/**
 * A row that all plans meet: sum of size x whole + sum of rest + sum of need x (1 - made) >= wanted, with whole-number columns
 * `whole`, columns `rest` that are never negative, and columns `made` of 0 to 1.
 */
export interface Wanted {
  readonly wholes: readonly (readonly [column: number, size: number])[];
  readonly rest: readonly (readonly [column: number, coefficient: number])[];
  readonly made: readonly (readonly [column: number, need: number])[];
  readonly wanted: number;
}

/** A row `lower <= sum of entries`. */
export interface CutRow {
  readonly lower: number;
  readonly entries: readonly (readonly [column: number, coefficient: number])[];
}

/** A remainder nearer to nothing, or to all, than this gives no row worth having, or one that rounding errors could spoil. */
const LEAST_REMAINDER = 1e-3;

/** What is left of `wanted` behind the last whole step, as a share of a step; null where that is too near to none or to all. */
export function remainderOf(wanted: number, step: number): { remainder: number; steps: number } | null {
  const steps = Math.ceil(wanted / step);
  const remainder = wanted / step - (steps - 1);
  return steps < 1 || remainder < LEAST_REMAINDER || remainder > 1 - LEAST_REMAINDER / 100
    ? null
    : { remainder, steps };
}

/** How many steps a whole thing of a size counts for: whole ones, and of the part left over as much as the remainder asks for. */
export function stepsOf(size: number, step: number, remainder: number, steps: number): number {
  const parts = size / step;
  const whole = Math.floor(parts + 1e-9);
  return Math.min(steps, whole + Math.min(1, Math.max(0, parts - whole) / remainder));
}

/**
 * Mixed-integer rounding (Nemhauser and Wolsey, Integer and Combinatorial Optimization, 1988, II.1.7): with f what is left of wanted /
 * step, sum of step x f x steps(size) x whole + sum of rest >= step x f x ceil(wanted / step). No plan is cut off, as a plan's whole
 * numbers are whole; where they are not, the row asks for more than the one it comes from.
 */
export function rounded({ wholes, rest, made, wanted }: Wanted, step: number): CutRow | null {
  const left = remainderOf(wanted, step);
  if (!left) return null;
  const { remainder, steps } = left;
  const needs = made.reduce((sum, [, need]) => sum + need, 0);
  return {
    lower: step * remainder * steps - needs,
    entries: [
      ...wholes.map(([column, size]) =>
        [column, step * remainder * stepsOf(size, step, remainder, steps)] as const
      ),
      ...rest,
      ...made.map(([column, need]) => [column, -need] as const),
    ],
  };
}
