/**
 * Guards for physics: an impossible input is refused with a sentence a person can act on, so that a slip such
 * as 18 for 18 % never travels on as a number.
 */

/** Passes a fraction from 0 to below 1 (a loss, a moisture on wet basis); otherwise throws a RangeError. */
export function requireFraction(what: string, value: number): void {
  if (!(value >= 0 && value < 1)) {
    throw new RangeError(
      `The ${what} must be a fraction from 0 to below 1 (0.12 for 12 %), but it is ${value}.`,
    );
  }
}

/** Passes a finite number of zero or more; otherwise throws a RangeError. */
export function requireNotNegative(what: string, value: number): void {
  if (!(value >= 0 && value < Infinity)) {
    throw new RangeError(`The ${what} must be a number of zero or more, but it is ${value}.`);
  }
}

/** Passes a finite number above zero; otherwise throws a RangeError. */
export function requirePositive(what: string, value: number): void {
  if (!(value > 0 && value < Infinity)) {
    throw new RangeError(`The ${what} must be a number above zero, but it is ${value}.`);
  }
}

/** Passes a number from `low` to `high`, both included; otherwise throws a RangeError naming the unit. */
export function requireBetween(what: string, value: number, low: number, high: number, unit: string): void {
  if (!(value >= low && value <= high)) {
    throw new RangeError(`The ${what} must lie from ${low} to ${high} ${unit}, but it is ${value}.`);
  }
}
