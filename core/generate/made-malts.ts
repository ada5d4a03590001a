import type { Crop } from "../season/quantity.ts";
import type { Chance } from "./chance.ts";
import type { MadeFrame } from "./made-frame.ts";
import { rosterKind } from "./made-people.ts";
import type { Row } from "./micro-frame.ts";

/** A malt the generator may put into a season. */
interface Recipe {
  readonly id: string;
  readonly name: string;
  /** What it is made from; a drum malt names the malt it is made from. */
  readonly from: Crop | "bought" | { readonly maltId: string };
  /** Hours on the kiln beyond a day. */
  readonly moreKilnHours: number;
  readonly extractDb: number;
}

/** In the order in which a season takes them up. Extracts lie in the trade's ranges; see the data dictionary. */
const MADE: readonly Recipe[] = [
  { id: "pale", name: "Pale malt", from: "barley", moreKilnHours: 0, extractDb: 0.81 },
  { id: "wheat-malt", name: "Wheat malt", from: "wheat", moreKilnHours: 0, extractDb: 0.83 },
  { id: "kilned", name: "High-kilned malt", from: "barley", moreKilnHours: 24, extractDb: 0.8 },
  { id: "rye-malt", name: "Rye malt", from: "rye", moreKilnHours: 0, extractDb: 0.82 },
  { id: "lager-malt", name: "Lager malt", from: "barley", moreKilnHours: 0, extractDb: 0.815 },
  { id: "mild-malt", name: "Mild malt", from: "barley", moreKilnHours: 24, extractDb: 0.795 },
  { id: "oat-malt", name: "Oat malt", from: "oats", moreKilnHours: 0, extractDb: 0.68 },
  { id: "short-malt", name: "Short-grown malt", from: "barley", moreKilnHours: 0, extractDb: 0.77 },
];
const OTHERS: readonly Recipe[] = [
  { id: "sweet-malt", name: "Sweet caramel malt", from: "bought", moreKilnHours: 0, extractDb: 0.76 },
  { id: "roast-malt", name: "Roast malt", from: "bought", moreKilnHours: 0, extractDb: 0.7 },
  { id: "drum-malt", name: "Brown drum malt", from: { maltId: "pale" }, moreKilnHours: 0, extractDb: 0.74 },
  { id: "small-corn", name: "Small-corn malt", from: "bought", moreKilnHours: 0, extractDb: 0.75 },
];

/** The recipes of a season: mostly malts that are made here. */
export function recipesOf({ size, spec, limit, luck }: MadeFrame): readonly Recipe[] {
  const bought = { micro: 0, small: luck("recipes").int(0, 1), typical: 1, large: 3, coop: 4 }[size];
  const made = MADE.slice(0, spec.malts - bought);
  // Two lots cannot be of two crops where one of them lies in store and the other is to come.
  const oneCrop = size === "micro" && (limit === "bins" || luck("recipes").oneIn(2));
  const chosen = made.map((recipe) => oneCrop && recipe.id === "wheat-malt" ? MADE[2]! : recipe);
  return [...chosen, ...OTHERS.slice(0, bought)];
}

/** Every malt of the season, with two or three profiles each that fit the farm's staffed hours. */
export function madeMalts(frame: MadeFrame): Row<"maltTypes">[] {
  const { limit, luck } = frame;
  const recipes = recipesOf(frame);
  return recipes.map((recipe, index) => {
    const chances = luck(`malt ${recipe.id}`);
    const common = {
      id: recipe.id,
      name: recipe.name,
      maltMoistureWb: chances.int(42, 52) / 1000,
      extractCoarseDb: recipe.extractDb,
      restDays: restDays(frame, chances),
      shelfLifeDays: chances.pick([300, 365, 400]),
      ...(chances.oneIn(4) && index > 0 ? { reserveFloorG: 50_000 * chances.int(1, 4) } : {}),
    };
    if (recipe.from === "bought") return { ...common, restDays: 0, made: { from: "bought" } };
    if (typeof recipe.from === "object") {
      const drum = {
        from: "malt" as const,
        maltId: recipe.from.maltId,
        weightLoss: 0.12,
        leastG: 40_000,
        greatestG: 120_000,
        drumHours: 3,
        runCents: 9000,
      };
      return { ...common, restDays: 7, made: drum };
    }
    const byMalt = recipes.find((one) => one.id === "small-corn");
    return {
      ...common,
      made: {
        from: "grain",
        crops: [recipe.from],
        acceptance: chances.oneIn(2) ? { proteinDbMost: 0.135, plumpLeast: 0.8 } : {},
        profiles: profiles(frame, recipe),
        screeningLoss: chances.int(20, 60) / 1000,
        steepLossDm: chances.int(8, 13) / 1000,
        respirationLossDm: chances.int(45, 58) / 1000,
        rootletLossDm: chances.int(32, 44) / 1000,
        ...(chances.oneIn(5) ? { monthLoadFactor: [1, 1, 1, 1, 1, 0.95, 0.9, 0.9, 0.95, 1, 1, 1] } : {}),
        ...(limit !== "kiln" && chances.oneIn(5)
          ? { monthExtraKilnHours: [2, 2, 1, 0, 0, 0, 0, 0, 0, 0, 1, 2] }
          : {}),
        alsoGives: byMalt !== undefined && index === 0 ? [{ maltId: byMalt.id, share: 0.03 }] : [],
        runCents: 100 * chances.int(150, 450),
        perTonneCents: 100 * chances.int(0, 60),
      },
    };
  });
}

/** Malt that rests long fills the store: 21 days is the trade custom. */
function restDays({ size, limit }: MadeFrame, chances: Chance): number {
  if (size === "micro") return limit === "store" ? 12 : chances.int(3, 5);
  return limit === "store" ? chances.int(22, 27) : chances.int(14, 24);
}

/** Two days of steep, four to six in the bed, one or two on the kiln, each stretchable by a few hours. */
function profiles(frame: MadeFrame, recipe: Recipe) {
  const { limit } = frame;
  const slowKiln = limit === "kiln";
  const roster = rosterKind(frame);
  // With hand-overs on three days only a kiln is fired from one of them to the next.
  const kilnHours = slowKiln || roster === "three days" ? 48 : 24 + recipe.moreKilnHours;
  const stage = (usual: number, give: number) => ({ least: usual - give, usual, greatest: usual + give });
  const profile = (name: string, bedHours: number) => ({
    id: `${recipe.id}-${name}`,
    name: `${bedHours / 24} days in the bed`,
    steep: limit === "steep" ? { least: 48, usual: 50, greatest: 54 } : stage(48, 4),
    bed: stage(bedHours, 6),
    kiln: stage(kilnHours, 4),
  });
  const shortGrown = recipe.id === "short-malt" ? [profile("three", 72)] : [];
  return [profile("five", 120), profile("four", 96), profile("six", 144), ...shortGrown];
}
