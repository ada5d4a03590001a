import { uniformInt } from "pure-rand/distribution/uniformInt";
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";

/** Seeded choices for the search: the same seed makes the same choices in the same order, everywhere. */
export interface Chance {
  /** A whole number from `least` to `greatest`, both included. */
  int(least: number, greatest: number): number;
  /** A number in [0, 1). */
  fraction(): number;
  pick<T>(from: readonly T[]): T;
}

const WARM_UP = 16;

export function chance(seed: number): Chance {
  const source = xoroshiro128plus(seed);
  for (let i = 0; i < WARM_UP; i++) source.next();
  const int = (least: number, greatest: number) => uniformInt(source, least, greatest);
  return {
    int,
    fraction: () => (source.next() >>> 0) / 0x1_0000_0000,
    pick: (from) => from[int(0, from.length - 1)] as never,
  };
}
