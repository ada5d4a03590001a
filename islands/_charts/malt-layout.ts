import type { MaltRow, Year } from "../../core/year/year.ts";

/** A malt with the line it stands on. */
export interface MaltPlace {
  readonly row: MaltRow;
  readonly ground: number;
  readonly height: number;
}

export interface MaltLayout {
  readonly top: number;
  readonly bottom: number;
  readonly places: readonly MaltPlace[];
  /** One scale for all malts and for what is lacking: units of a tonne. */
  readonly perTonne: number;
  /** Malts that are only bought share this line, where their orders stand. */
  readonly bought: { readonly rows: readonly MaltRow[]; readonly ground: number } | null;
}

const ALL_MALTS = 72;
const LEAST_HEIGHT = 9;

/** Where each malt's base line stands: all on one kilogram scale, none stacked on another. */
export function layoutMalt({ malt }: Year, top: number): MaltLayout {
  const made = malt.rows.filter(({ made, mostG, lacks }) => made !== "bought" && (mostG > 0 || lacks.length > 0));
  const bought = malt.rows.filter(({ made, orders }) => made === "bought" && orders.length > 0);
  const tonnes = made.reduce((sum, row) => sum + row.mostG / 1e6, 0);
  const perTonne = tonnes === 0 ? 10 : Math.min(20, Math.max(1.5, ALL_MALTS / tonnes));
  let ground = top;
  const places = made.map((row, index): MaltPlace => {
    const height = Math.max(LEAST_HEIGHT, row.mostG / 1e6 * perTonne);
    const above = made[index - 1];
    // What is lacking hangs below the line above, and its words need a line of their own.
    const hangs = above === undefined
      ? 8
      : above.lacks.length > 0 || above.orders.length > 0
      ? Math.max(17, deepest(above, perTonne) + 4)
      : 5;
    ground += hangs + height;
    return { row, ground: Math.round(ground), height };
  });
  const last = made.at(-1);
  const end = last !== undefined && (last.lacks.length > 0 || last.orders.length > 0)
    ? ground + Math.max(17, deepest(last, perTonne) + 4)
    : ground + 4;
  const boughtGround = bought.length > 0 ? Math.round(end + 11) : null;
  return {
    top,
    bottom: boughtGround === null ? Math.max(end, top + 24) : boughtGround + 4,
    places,
    perTonne,
    bought: boughtGround === null ? null : { rows: bought, ground: boughtGround },
  };
}

/** Depth of the deepest notch, which grows through its episode. */
export function deepest({ lacks }: MaltRow, perTonne: number): number {
  return Math.max(0, ...lacks.map(({ massG }) => massG / 1e6 * perTonne));
}
