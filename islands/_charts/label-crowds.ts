import type { Placed, Spot, Wish } from "./label-placement.ts";

/** Words nearer to each other than this are counted together when they fit nowhere. */
const CROWD_WIDTH = 110;

/** Wishes of one crowd that would have stood near one another. */
export function crowdsOf<W extends Wish>(lost: readonly W[]): W[][] {
  const crowds: W[][] = [];
  const inOrder = lost.filter(({ crowd }) => crowd !== undefined)
    .toSorted((a, b) => placeOf(a) - placeOf(b));
  for (const wish of inOrder) {
    const near = crowds.find((those) =>
      those[0]!.crowd === wish.crowd && placeOf(wish) - placeOf(those[0]!) <= CROWD_WIDTH
    );
    if (near === undefined) crowds.push([wish]);
    else near.push(wish);
  }
  return crowds;
}

/** Where on the axis a wish would like to stand. */
function placeOf({ spots }: Wish): number {
  return spots[0]?.x ?? 0;
}

/** How far a count may step aside. */
const ASIDE = [-14, 14, -28, 28, -45, 45, -75, 75, -110, 110, -150, 150];

/** Where a count may stand: where its words would have stood, or near by. */
export function spotsOf(wishes: readonly Wish[]): Spot[] {
  const spots = wishes.flatMap(({ spots }) => [...spots]);
  const near = (dx: number, dy: number) => spots.map((spot) => ({ ...spot, x: spot.x + dx, y: spot.y + dy }));
  return [
    ...spots,
    ...ASIDE.flatMap((dx) => [0, 8, -8, 13].flatMap((dy) => near(dx, dy))),
  ];
}

/** The label of the same crowd that stands nearest and matters least. */
export function nearest<W extends Wish>(
  crowd: readonly W[],
  placed: readonly Placed<W>[],
): Placed<W> | undefined {
  const at = placeOf(crowd[0]!);
  return placed.filter(({ wish }) =>
    wish.crowd === crowd[0]!.crowd && Math.abs(placeOf(wish) - at) <= CROWD_WIDTH
  )
    .toSorted((a, b) =>
      (b.wish.rank ?? 5) - (a.wish.rank ?? 5) ||
      Math.abs(placeOf(a.wish) - at) - Math.abs(placeOf(b.wish) - at)
    )[0];
}
