import type { Path } from "./finding.ts";

/** What a row of each list is called on the farm. Lists that are named alike in different parts have their part before them. */
const ROW_NAMES: Readonly<Record<string, string>> = {
  fields: "field",
  plantings: "planting",
  weighTickets: "weigh ticket",
  seedReserves: "seed reserve",
  lots: "lot",
  stores: "store",
  dryers: "dryer",
  vessels: "vessel",
  people: "person",
  maltTypes: "malt",
  beers: "beer",
  brews: "brew",
  tanks: "tank",
  supplyOffers: "supply offer",
  contracts: "contract",
  feedPickups: "feed pick-up",
  analyses: "analysis",
  parents: "parent",
  profiles: "profile",
  grist: "grist line",
  substitutes: "substitute",
  requires: "requirement",
  cropHistory: "crop history",
  loadLimits: "load limits",
  changeOver: "change-over",
  closures: "closure",
  away: "absence",
  weekly: "weekly window",
  extra: "extra window",
  closed: "closed days",
  lookIns: "look-in",
  alsoGives: "by-malt",
  losses: "loss",
  draws: "draw",
  items: "item",
  outputs: "output",
  runs: "run",
  orders: "order",
  feedLoads: "feed load",
  moves: "move",
  mixes: "mix",
  fills: "fill",
  deliveries: "delivery",
  maltDeliveries: "malt delivery",
  adjustments: "adjustment",
  bookValues: "book value",
  steepInTimes: "time",
  at: "time",
  "opening.grain": "grain in store",
  "opening.malt": "malt batch",
  "opening.tanks": "filled tank",
};

const PARTS: Readonly<Record<string, string>> = {
  roster: "the roster",
  maltStore: "the malt store",
  brewhouse: "the brewhouse",
  costs: "the costs",
  opening: "the opening position",
  records: "the records",
  bookings: "the bookings",
};

const PART_WORDS: Readonly<Record<string, string>> = { records: "recorded ", bookings: "booked " };

/** The thing a path is about, as a person knows it: `lot "Lower barley" (lot-b), analysis test-2`. */
export function thingAt(root: unknown, path: Path): string {
  const names: string[] = [];
  let value: unknown = root;
  for (const [depth, step] of path.entries()) {
    value = typeof value === "object" && value !== null
      ? (value as Record<string | number, unknown>)[step]
      : null;
    if (typeof step === "number" && typeof value === "object" && value !== null) {
      names.push(rowName(path, depth, value as Record<string, unknown>));
    }
  }
  if (names.length > 0) return names.join(", ");
  return PARTS[String(path[0])] ?? "the season";
}

/** "the roster" for the part of that name, or null where there is none. */
export function partWord(name: string): string | null {
  return PARTS[name] ?? null;
}

/** What one row of a list is called; `names` are the fields from the top of the season to the list. */
export function rowWord(names: readonly string[]): string {
  const list = names.at(-1) ?? "", part = names[0] ?? "";
  const kind = ROW_NAMES[`${part}.${list}`] ?? ROW_NAMES[list] ?? list;
  return `${names.length === 2 ? PART_WORDS[part] ?? "" : ""}${kind}`;
}

function rowName(path: Path, depth: number, row: Record<string, unknown>): string {
  const kind = rowWord(path.slice(0, depth).filter((step) => typeof step === "string"));
  const key = [row.id, row.brewId, row.tankId, row.lotId].find((one) => typeof one === "string");
  const name = typeof row.name === "string" && row.name !== "" ? `"${row.name}"` : "";
  const bracketed = name !== "" && key !== undefined ? `${name} (${key})` : name || key;
  return `${kind} ${bracketed ?? Number(path[depth]) + 1}`;
}
