import { of, type Variant } from "./_variant.ts";

/** Ways to break ids and standings, brews and tanks. */
export const BROKEN_BREWS: readonly Variant[] = [
  {
    what: "another season's plan",
    rules: ["plan-season"],
    breaks: (_, plan) => {
      plan.seasonId = "other";
    },
  },
  {
    what: "a plan made before the last records",
    rules: ["plan-as-of"],
    breaks: (season) => {
      season.asOf = "2027-01-18T09:01";
    },
  },
  {
    what: "a recorded move's id used again",
    rules: ["duplicate-id"],
    breaks: (season, plan) => {
      const { standing: _standing, ...move } = structuredClone(plan.moves[0]!);
      season.records.moves.push({ ...move, on: "2027-01-11", massG: 0, lossG: 0 });
    },
  },
  {
    // The second batch of an id is in no book, so its malt is missed from the season's sums as well.
    what: "a batch id used twice",
    rules: ["duplicate-id", "dry-matter-season"],
    breaks: (_, plan) => {
      of(plan.runs, "r6").outputs[0]!.batchId = "r3-pale";
    },
  },
  {
    what: "a recorded batch id used again",
    rules: ["duplicate-id", "dry-matter-season"],
    breaks: (_, plan) => {
      of(plan.runs, "r6").outputs[0]!.batchId = "held-pale";
    },
  },
  {
    what: "a vessel nobody has",
    rules: ["unknown-id"],
    breaks: (_, plan) => {
      of(plan.runs, "r6").vesselIds.kiln = "nowhere";
    },
  },
  {
    what: "a booked run called not booked",
    rules: ["standing", "first-free-day"],
    breaks: (_, plan) => {
      of(plan.runs, "r2").standing = "not booked";
    },
  },
  {
    what: "a free run called booked",
    rules: ["standing"],
    breaks: (_, plan) => {
      of(plan.runs, "r5").standing = "booked";
    },
  },
  {
    what: "another beer than the calendar's",
    rules: ["brew-beer"],
    breaks: (season, _) => {
      season.beers.push({ ...structuredClone(of(season.beers, "lager")), id: "twin" });
      of(season.brews, "b2").beerId = "twin";
    },
  },
  {
    what: "a brew on a weekday without brewing",
    rules: ["brew-day"],
    breaks: (season) => {
      season.brewhouse.closed.push({ from: "2027-04-14", to: "2027-04-14", reason: "holiday" });
    },
  },
  {
    what: "a brew a day after its window",
    rules: ["brew-window"],
    breaks: (season) => {
      of(season.brews, "b2").latest = "2027-02-09";
    },
  },
  {
    what: "a tail brew a day before its window, which starts after the horizon",
    rules: ["brew-window"],
    breaks: (season) => {
      of(season.brews, "b0").earliest = "2026-06-11";
    },
  },
  {
    what: "two brews on one day",
    rules: ["brews-per-day"],
    breaks: (season, plan) => {
      of(season.brews, "b2").latest = "2027-02-17";
      of(season.tanks, "t3").closures = [];
      of(plan.brews, "b2").on = "2027-02-17";
    },
  },
  {
    what: "a malt that the line does not know",
    rules: ["brew-ingredient"],
    breaks: (season) => {
      of(season.beers, "half").substitutes = [];
    },
  },
  {
    what: "two grams too little for a line of one use",
    rules: ["brew-extract"],
    breaks: (_, plan) => {
      of(plan.brews, "b2").grist[0]!.massG -= 2;
    },
  },
  {
    what: "two grams too little for a line of one use, with uses of nothing beside it",
    rules: ["brew-extract"],
    breaks: (_, plan) => {
      const { grist } = of(plan.brews, "b2");
      grist[0]!.massG -= 2;
      grist.push({ ...grist[0]!, massG: 0 }, { ...grist[0]!, massG: 0 });
    },
  },
  {
    what: "three grams too much of a substitute, with uses of nothing beside it",
    rules: ["brew-substitute"],
    breaks: (_, plan) => {
      const { grist } = of(plan.brews, "b3");
      const toasted = grist.find(({ from }) => from.kind === "batch" && from.batchId === "toasted-1")!;
      const crystal = grist.find(({ from }) => from.kind === "batch" && from.batchId === "crystal-1")!;
      toasted.massG += 3;
      crystal.massG -= 3;
      grist.push(...Array(3).fill(0).map(() => ({ ...toasted, massG: 0 })));
    },
  },
  {
    what: "book extract taken for the lot's own",
    rules: ["brew-extract"],
    breaks: (_, plan) => {
      const [use] = of(plan.brews, "b2").grist;
      use!.massG = Math.round(use!.massG * 0.779 / 0.76);
    },
  },
  {
    what: "a substitute over its share",
    rules: ["brew-substitute"],
    breaks: (season) => {
      of(season.beers, "half").substitutes[0]!.mostShare = 0.499;
    },
  },
  {
    what: "raw grain from a lot for feed",
    rules: ["brew-raw-lot", "brew-raw-lot"],
    breaks: (season) => {
      of(season.lots, "w").use = "feed";
    },
  },
  {
    what: "a customer's raw grain in the farm's own beer",
    rules: ["brew-raw-lot", "brew-raw-lot"],
    breaks: (season) => {
      of(season.lots, "w").owner = "A neighbour";
    },
  },
  {
    what: "raw grain a shade over the limit for toxin",
    rules: ["brew-raw-lot", "brew-raw-lot"],
    breaks: (season) => {
      of(season.lots, "w").analyses[0]!.donPpm = 1.01;
    },
  },
  {
    what: "bought malt counted as home-grown",
    rules: ["brew-home-share"],
    breaks: (_, plan) => {
      of(plan.brews, "b5").homeShare = 1;
    },
  },
  {
    what: "a broken promise called held",
    rules: ["brew-promise", "brew-promise", "goal-promises"],
    breaks: (season) => {
      of(season.beers, "half").homeSharePromise = 0.99;
    },
  },
  {
    what: "too little grain of the named field",
    rules: ["brew-requires"],
    breaks: (season) => {
      // 40 % of the pale malt of b5 comes from there, so about a quarter of its grist.
      of(season.beers, "half").requires[0]!.leastShare = 0.3;
    },
  },
  {
    what: "grain of the named field mixed with other grain",
    rules: ["brew-requires"],
    breaks: (season) => {
      of(season.beers, "half").requires[0]!.unmixed = true;
    },
  },
  {
    what: "more wort than the tank holds",
    rules: ["tank-volume"],
    breaks: (season) => {
      of(season.tanks, "t3").volumeL = 399.999;
    },
  },
  {
    what: "two millilitres of wort without a tank",
    rules: ["tank-shares"],
    breaks: (_, plan) => {
      of(plan.brews, "b2").tanks[1]!.volumeL -= 0.002;
    },
  },
  {
    what: "a tank filled a day before it is clean",
    rules: ["tank-taken"],
    breaks: (season) => {
      // b1 leaves it on 16 February, clean on the 17th.
      of(season.tanks, "t2").turnaroundDays = 2;
    },
  },
  {
    what: "a tank filled a day before older beer leaves it",
    rules: ["tank-taken"],
    breaks: (season) => {
      season.opening.tanks[0]!.freeOn = "2027-01-28";
    },
  },
  {
    what: "a tank closed on its cleaning day",
    rules: ["tank-closed"],
    breaks: (season) => {
      of(season.tanks, "t3").closures[0]!.from = "2027-03-02T23:59";
    },
  },
];
