/**
 * Work that can hurt. The program only reckons dates and weights; wherever a date or weight leads people to such work,
 * the line from this table stands beside it. The sentences say what the danger is and send the reader to their own site
 * rules and authority; none is an instruction to do the work, and none says that a thing is safe or allowed.
 */
export interface Caution {
  /** What can hurt. */
  readonly hazard: Hazard;
  /** Where it is met. */
  readonly where: string;
  /** The line that is shown. */
  readonly sentence: string;
  /** Who has the say, or where the rule stands. Marked when it is from memory. */
  readonly authority: string;
}

export type Hazard =
  | "grain engulfment"
  | "bridged grain"
  | "augers and drives"
  | "bed turner"
  | "grain dust"
  | "dryer and kiln fire"
  | "carbon dioxide"
  | "nitrosamines"
  | "mould toxins and ergot"
  | "fumigants and harvest intervals"
  | "treated seed"
  | "bulk bags and lifting"
  | "cleaning chemicals"
  | "lone and night work"
  | "by-products as feed"
  | "allergens"
  | "alcohol and food law";

/** Kinds of jobs and plan lines that carry cautions. */
export const HAZARDOUS_KINDS = [
  "harvest",
  "drying",
  "bin fill",
  "bin draw",
  "bin clean by",
  "move",
  "mix",
  "feed load",
  "grain sale",
  "seed",
  "screening",
  "steep",
  "bed",
  "hand turn",
  "night turn",
  "look-in",
  "kiln",
  "kiln night",
  "strip",
  "drum",
  "malt store",
  "order",
  "order lifting",
  "brew",
  "cellar",
  "cleaning",
  "spent grain",
  "malt sale",
] as const;
export type HazardousKind = (typeof HAZARDOUS_KINDS)[number];

const OWN_RULES = "your site rules and the authority for safety at work";

/** The table: hazard, where, sentence, authority. */
export const CAUTIONS: Readonly<Record<Hazard, Caution>> = {
  "grain engulfment": {
    hazard: "grain engulfment",
    where: "bins and silos",
    sentence:
      "Flowing grain buries a person in seconds. A date for an empty bin is no reason to go in: entry is a matter for site rules and trained people.",
    authority: `29 CFR 1910.272 for grain handling where it applies; ${OWN_RULES}`,
  },
  "bridged grain": {
    hazard: "bridged grain",
    where: "bins and bags that stop running",
    sentence: "Grain that has stopped running may hang as a crust over a hollow and give way under a person.",
    authority: `29 CFR 1910.272 for grain handling where it applies; ${OWN_RULES}`,
  },
  "augers and drives": {
    hazard: "augers and drives",
    where: "augers, conveyors, sieves and mills",
    sentence: "Augers and drives catch clothes and hands; guards and lock-out come before any clearing.",
    authority: OWN_RULES,
  },
  "bed turner": {
    hazard: "bed turner",
    where: "the germination bed",
    sentence:
      "A turner starts and travels by itself; people and the bed's machinery are kept apart by lock-out.",
    authority: OWN_RULES,
  },
  "grain dust": {
    hazard: "grain dust",
    where: "intake, screening, rootlets, mill",
    sentence:
      "Grain dust can explode and harms lungs: no flame or spark, layers swept away, breathing protected.",
    authority: "29 CFR 1910.272 for grain dust where it applies; the fire authority",
  },
  "dryer and kiln fire": {
    hazard: "dryer and kiln fire",
    where: "dryer and kiln",
    sentence:
      "Hot air on grain can start a fire and burners can leak gas or fumes. Burners are work for licensed people, and who stays near is the site's rule.",
    authority: "the fire and gas codes of the place",
  },
  "carbon dioxide": {
    hazard: "carbon dioxide",
    where: "steep, bed room, fermenters and cellar",
    sentence:
      "Steeping, sprouting and fermenting give off carbon dioxide, which gathers low, has no smell and kills: measured air and ventilation before anybody goes in.",
    authority: `workplace limits of the place, 5,000 ppm over 8 hours in the United Kingdom; ${OWN_RULES}`,
  },
  nitrosamines: {
    hazard: "nitrosamines",
    where: "kilns heated by flame or with fumes near the air inlet",
    sentence:
      "Burner gas in kiln air can leave nitrosamines in malt; clean air and a laboratory show whether it does.",
    authority: "FDA Compliance Policy Guide 578.500, or your food authority",
  },
  "mould toxins and ergot": {
    hazard: "mould toxins and ergot",
    where: "lots, screenings, feed",
    sentence:
      "Moulds and ergot leave poisons that neither drying nor malting takes out. A lot over a limit stays locked, its screenings, rootlets and spent grain with it; blending it down is not a way.",
    authority:
      "FDA advice on deoxynivalenol, July 2010; Regulation (EU) 2023/915; your food and feed authority",
  },
  "fumigants and harvest intervals": {
    hazard: "fumigants and harvest intervals",
    where: "treated fields and fumigated stores",
    sentence:
      "After spraying or fumigating, the label says how long nobody goes in and nothing is cut, eaten or fed.",
    authority: "the product's label, which is law; licensed applicators",
  },
  "treated seed": {
    hazard: "treated seed",
    where: "seed grain",
    sentence: "Dressed seed is poisonous: never food, malt or feed again, and kept apart from grain that is.",
    authority: "the product's label; your feed authority",
  },
  "bulk bags and lifting": {
    hazard: "bulk bags and lifting",
    where: "bags, pallets, lorries",
    sentence:
      "A bulk bag can fall, swing or burst: nobody under or beside a hanging load, and only rated gear.",
    authority: OWN_RULES,
  },
  "cleaning chemicals": {
    hazard: "cleaning chemicals",
    where: "vessels, tanks, lines",
    sentence:
      "Caustic and acid burn skin and eyes and must not meet each other or chlorine; the safety sheet comes first.",
    authority: `the product's safety data sheet; ${OWN_RULES}`,
  },
  "lone and night work": {
    hazard: "lone and night work",
    where: "night turns, kiln nights, look-ins",
    sentence:
      "Alone or tired people get hurt unseen: somebody should know where they are and when they check in.",
    authority: OWN_RULES,
  },
  "by-products as feed": {
    hazard: "by-products as feed",
    where: "screenings, rootlets, spent grain, rejected lots",
    sentence:
      "Each class of animal has its own toxin limits, and wet feed spoils within days; the buyer has to know the lot.",
    authority: "your feed authority; in the United States FDA, 21 CFR part 507 (the part from memory)",
  },
  allergens: {
    hazard: "allergens",
    where: "malt, raw grain, beer",
    sentence:
      "Barley, wheat, rye and oats are declared grains; a change of grist may change what a label has to say.",
    authority: "your food authority",
  },
  "alcohol and food law": {
    hazard: "alcohol and food law",
    where: "brews, sales, home-grown shares",
    sentence:
      "A share or volume reckoned here is arithmetic, not a licence or a tax return; check your authority.",
    authority: "your licensing, food and excise authorities; in the United States 27 CFR part 25",
  },
};

const BY_KIND: Readonly<Record<HazardousKind, readonly Hazard[]>> = {
  harvest: ["augers and drives", "fumigants and harvest intervals", "mould toxins and ergot"],
  drying: ["dryer and kiln fire", "grain dust", "lone and night work"],
  "bin fill": ["grain engulfment", "augers and drives", "grain dust"],
  "bin draw": ["grain engulfment", "bridged grain", "augers and drives"],
  "bin clean by": ["grain engulfment", "bridged grain", "grain dust", "fumigants and harvest intervals"],
  move: ["grain engulfment", "augers and drives", "grain dust", "bulk bags and lifting"],
  mix: ["grain engulfment", "augers and drives", "grain dust", "mould toxins and ergot"],
  "feed load": ["grain engulfment", "mould toxins and ergot", "by-products as feed", "augers and drives"],
  "grain sale": ["grain engulfment", "mould toxins and ergot", "augers and drives"],
  seed: ["treated seed", "grain dust", "bulk bags and lifting"],
  screening: ["augers and drives", "grain dust", "by-products as feed"],
  steep: ["carbon dioxide", "grain engulfment", "bridged grain", "augers and drives"],
  bed: ["bed turner", "carbon dioxide"],
  "hand turn": ["carbon dioxide", "bed turner"],
  "night turn": ["lone and night work", "carbon dioxide", "bed turner"],
  "look-in": ["lone and night work", "carbon dioxide"],
  kiln: ["dryer and kiln fire", "nitrosamines"],
  "kiln night": ["dryer and kiln fire", "lone and night work"],
  strip: ["dryer and kiln fire", "grain dust", "by-products as feed", "bulk bags and lifting"],
  drum: ["dryer and kiln fire", "augers and drives"],
  "malt store": ["bulk bags and lifting", "grain dust"],
  order: ["allergens", "bulk bags and lifting"],
  "order lifting": ["bulk bags and lifting"],
  brew: ["grain dust", "carbon dioxide", "cleaning chemicals", "allergens", "alcohol and food law"],
  cellar: ["carbon dioxide", "cleaning chemicals"],
  cleaning: ["cleaning chemicals", "carbon dioxide", "grain engulfment"],
  "spent grain": ["by-products as feed", "mould toxins and ergot"],
  "malt sale": ["bulk bags and lifting", "allergens", "alcohol and food law"],
};

/** The cautions of a kind of job or plan line, the gravest first. */
export function cautionsFor(kind: HazardousKind): readonly Caution[] {
  return BY_KIND[kind].map((hazard) => CAUTIONS[hazard]);
}
