import { uniformInt } from "pure-rand/distribution/uniformInt";
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";

/** Seeded choices: the same seed makes the same choices in the same order. */
export interface Chance {
  /** A whole number from `least` to `greatest`, both included. */
  int(least: number, greatest: number): number;
  pick<T>(from: readonly T[]): T;
  /** True once in so many times. */
  oneIn(times: number): boolean;
}

/** Neighbouring seeds begin alike; after a few draws they have nothing in common. */
const DRAWS_THROWN_AWAY = 16;

/** A source of choices from a whole-number seed. */
export function chance(seed: number): Chance {
  const source = xoroshiro128plus(seed);
  for (let draw = 0; draw < DRAWS_THROWN_AWAY; draw++) source.next();
  const int = (least: number, greatest: number) => uniformInt(source, least, greatest);
  return {
    int,
    pick: (from) => from[int(0, from.length - 1)]!,
    oneIn: (times) => int(1, times) === 1,
  };
}
