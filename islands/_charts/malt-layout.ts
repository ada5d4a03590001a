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

const LEAST_HEIGHT = 9;

/** Where each malt's base line stands: all on one kilogram scale, none stacked on another. */
export function layoutMalt({ malt }: Year, top: number, allMalts: number): MaltLayout {
  const made = malt.rows.filter(({ made, mostG, lacks }) =>
    made !== "bought" && (mostG > 0 || lacks.length > 0)
  );
  const bought = malt.rows.filter(({ made, orders }) => made === "bought" && orders.length > 0);
  const tonnes = made.reduce((sum, row) => sum + row.mostG / 1e6, 0);
  const perTonne = tonnes === 0 ? 10 : Math.min(20, Math.max(1.5, allMalts / tonnes));
  let ground = top;
  const places = made.map((row, index): MaltPlace => {
    const height = Math.max(LEAST_HEIGHT, row.mostG / 1e6 * perTonne);
    const above = made[index - 1];
    const hangs = above === undefined ? 8 : hanging(above, perTonne);
    ground += hangs + height;
    return { row, ground: Math.round(ground), height };
  });
  const last = made.at(-1);
  const end = last === undefined ? top : ground + hanging(last, perTonne);
  const boughtGround = bought.length > 0 ? Math.round(end + 10) : null;
  return {
    top,
    bottom: boughtGround === null ? Math.max(end, top + 24) : boughtGround + 4,
    places,
    perTonne,
    bought: boughtGround === null ? null : { rows: bought, ground: boughtGround },
  };
}

/** Room below a base line: what is lacking hangs there with a line of words under it, and orders stand there. */
function hanging(row: MaltRow, perTonne: number): number {
  if (row.lacks.length > 0) return Math.max(17, deepest(row, perTonne) + 14);
  return row.orders.some(({ standing }) => standing !== "done") ? 15 : row.orders.length > 0 ? 12 : 5;
}

/** Depth of the deepest notch, which grows through its episode. */
export function deepest({ lacks }: MaltRow, perTonne: number): number {
  return Math.max(0, ...lacks.map(({ massG }) => massG / 1e6 * perTonne));
}
