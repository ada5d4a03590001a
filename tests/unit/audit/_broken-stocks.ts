import { of, pay, type Variant } from "./_variant.ts";

/** Ways to break stores, lots, malt and drums. */
export const BROKEN_STOCKS: readonly Variant[] = [
  {
    what: "another lot is put into a bin that still holds one",
    rules: ["bin-one-lot", "bin-one-lot"],
    breaks: (season, plan) => {
      // Ten grams of lot C lie in a fourth bin when lot B is moved in beside them, twice.
      season.stores.push({ ...structuredClone(of(season.stores, "bin-1")), id: "bin-4", name: "Bin 4" });
      season.opening.grain.push({ lotId: "c", storeId: "bin-4", massG: 10 });
      plan.moves.push({ ...plan.moves[0]!, id: "mv2", massG: 1000, lossG: 5, toStoreId: "bin-4" });
      plan.moves.push({
        ...plan.moves[0]!,
        id: "mv3",
        on: "2027-02-08",
        massG: 1000,
        lossG: 5,
        toStoreId: "bin-4",
      });
      pay(plan, "movesCents", plan.goals.money.movesCents + 1002);
    },
  },
  {
    what: "a bin is refilled one day too early",
    rules: ["bin-turnaround"],
    breaks: (season) => {
      const bin = of(season.stores, "bin-2");
      if (bin.kind === "bin") bin.turnaroundDays = 4;
    },
  },
  {
    what: "a move one day too early into a bin that was emptied by a run",
    rules: ["bin-turnaround"],
    breaks: (_, plan) => {
      plan.moves[0]!.on = "2027-02-04";
    },
  },
  {
    what: "one gram over what a bin holds at the lot's test weight",
    rules: ["bin-capacity"],
    breaks: (_, plan) => {
      plan.fills[1]!.massG = 3_100_001;
      plan.leftOut[0]!.massG = 623_108;
      pay(plan, "endGrainCents", -79_425);
    },
  },
  {
    what: "a lighter lot needs one bag more",
    rules: ["bag-places"],
    breaks: (season) => {
      // 800 kg in bags of 1,000 L: two at 62 kg/hl, and a third at 39.9.
      of(season.lots, "g").testWeightKgPerHl = 39.9;
    },
  },
  {
    what: "a move loses a gram too little",
    rules: ["move-loss"],
    breaks: (_, plan) => {
      plan.moves[0]!.lossG = 4999;
    },
  },
  {
    what: "a move that goes nowhere",
    rules: ["move-route"],
    breaks: (_, plan) => {
      plan.moves[0]!.toStoreId = "bin-3";
    },
  },
  {
    what: "one gram more is taken than lies there",
    rules: ["lot-overdrawn"],
    breaks: (season) => {
      season.opening.grain[3]!.massG -= 1;
    },
  },
  {
    what: "grain is used on the day before it comes",
    rules: ["lot-overdrawn"],
    breaks: (season, plan) => {
      // Sold on 2 May, bought on 3 May.
      season.contracts.push({
        kind: "sell-grain",
        id: "sell-g",
        party: "A feed mill",
        lotId: "g",
        massG: 800_000,
        from: "2027-05-01",
        to: "2027-05-31",
        perTonneCents: 10_000,
      });
      plan.grainDeliveries.push({
        contractId: "sell-g",
        on: "2027-05-02",
        lotId: "g",
        storeId: "bags",
        massG: 800_000,
      });
      pay(plan, "salesCents", plan.goals.money.salesCents - 8000);
    },
  },
  {
    what: "one gram of the harvest goes missing",
    rules: ["lot-arrival"],
    breaks: (_, plan) => {
      plan.leftOut[0]!.massG -= 1;
    },
  },
  {
    what: "the harvest is binned on the day after it comes",
    rules: ["lot-arrival", "lot-arrival"],
    breaks: (_, plan) => {
      plan.leftOut[0]!.on = "2027-07-06";
    },
  },
  {
    what: "a fifth of the harvest goes missing",
    rules: ["lot-arrival", "dry-matter-lot", "dry-matter-season"],
    breaks: (_, plan) => {
      plan.leftOut[0]!.massG = 0;
    },
  },
  {
    what: "a batch that rests a day too short",
    rules: ["batch-dates"],
    breaks: (_, plan) => {
      of(plan.runs, "r3").outputs[0]!.readyOn = "2027-02-08";
    },
  },
  {
    what: "one gram more than a batch has",
    rules: ["batch-overdrawn"],
    breaks: (season, plan) => {
      season.opening.malt[0]!.massG = 190_000 + plan.brews[0]!.grist[0]!.massG - 1;
    },
  },
  {
    what: "malt brewed a day before it has rested",
    rules: ["malt-not-ready"],
    breaks: (season) => {
      season.opening.malt[0]!.readyOn = "2027-01-28";
    },
  },
  {
    what: "malt brewed a day after its last",
    rules: ["malt-stale"],
    breaks: (season) => {
      season.opening.malt[0]!.bestBefore = "2027-01-26";
    },
  },
  {
    what: "malt that is held",
    rules: ["malt-held"],
    breaks: (_, plan) => {
      // Its extract is that of lot A.
      const tail = of(plan.brews, "tail-b0");
      tail.grist = structuredClone(of(plan.brews, "b2").grist);
      tail.grist[0]!.from = { kind: "batch", batchId: "held-pale" };
    },
  },
  {
    what: "malt of a customer's grain in the farm's own beer",
    rules: ["malt-owner"],
    breaks: (season, plan) => {
      of(season.lots, "x").owner = "A neighbour";
      season.contracts.push({
        kind: "sell-malt",
        id: "sell-x",
        party: "A neighbour",
        maltId: "pale",
        massG: 1,
        from: "2026-01-01",
        to: "2026-02-01",
        perTonneCents: 0,
        class: 1,
        lotIds: ["x"],
      });
      of(plan.brews, "tail-b0").grist[0]!.from = { kind: "batch", batchId: "r6-pale" };
    },
  },
  {
    what: "one place too few in the malt store",
    rules: ["malt-places"],
    breaks: (season) => {
      season.maltStore.places = 15;
    },
  },
  {
    what: "a drum load of another malt",
    rules: ["drum-input"],
    breaks: (season, plan) => {
      season.opening.malt.push({
        ...structuredClone(season.opening.malt[0]!),
        id: "open-crystal",
        ingredient: { kind: "malt", maltId: "crystal" },
        massG: 100_000,
      });
      season.maltStore.places = 99;
      plan.drums[0]!.from[0]!.batchId = "open-crystal";
    },
  },
  {
    what: "a drum load a gram too heavy",
    rules: ["drum-load"],
    breaks: (_, plan) => {
      plan.drums[0]!.from[0]!.massG += 1;
    },
  },
  {
    what: "three grams too many out of the drum",
    rules: ["drum-weight"],
    breaks: (_, plan) => {
      plan.drums[0]!.massG += 3;
    },
  },
];
