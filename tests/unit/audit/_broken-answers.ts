import { of, pay, type Variant } from "./_variant.ts";

/** Ways to break what the plan answers: bookings, what is asked for, counts and money. */
export const BROKEN_ANSWERS: readonly Variant[] = [
  {
    what: "a booked run moved by half an hour",
    rules: ["booking-kept"],
    breaks: (_, plan) => {
      of(plan.runs, "r2").steepInAt = "2027-01-19T08:30";
    },
  },
  {
    what: "a booked order neither kept nor refused",
    rules: ["booking-kept"],
    breaks: (_, plan) => {
      plan.cannotKeep = [];
    },
  },
  {
    what: "a booking refused without a reason",
    rules: ["booking-kept"],
    breaks: (_, plan) => {
      plan.cannotKeep[0]!.why = " ";
    },
  },
  {
    what: "a booked brew both kept and refused",
    rules: ["booking-both"],
    breaks: (_, plan) => {
      plan.cannotKeep.push({ kind: "brew", id: "b1", why: "No tank." });
    },
  },
  {
    what: "a brew forgotten",
    rules: ["brew-missing"],
    breaks: (_, plan) => {
      plan.unbrewed = [];
    },
  },
  {
    what: "a brew made and unbrewed",
    rules: ["brew-twice"],
    breaks: (_, plan) => {
      plan.unbrewed.push({ id: "b2", beerId: "lager", cause: "no grain", why: "None." });
    },
  },
  {
    what: "a recorded brew planned again",
    rules: ["brew-not-asked"],
    breaks: (_, plan) => {
      plan.unbrewed.push({ id: "bx", beerId: "lager", cause: "no grain", why: "None." });
    },
  },
  {
    what: "a tail brew of a pilot",
    rules: ["brew-not-asked", "goal-tail"],
    breaks: (season) => {
      of(season.brews, "b0").pilot = true;
    },
  },
  {
    what: "a contract forgotten",
    rules: ["contract-missing"],
    breaks: (_, plan) => {
      plan.grainDeliveries = [];
      pay(plan, "salesCents", -45_000);
      pay(plan, "endGrainCents", plan.goals.money.endGrainCents - 15_000);
    },
  },
  {
    what: "a contract delivered and unsold",
    rules: ["contract-twice"],
    breaks: (_, plan) => {
      plan.unsold.push({ contractId: "sell-pale", cause: "no grain", why: "None." });
    },
  },
  {
    what: "one brew too many counted",
    rules: ["goal-counts"],
    breaks: (_, plan) => {
      plan.goals.made[2] = 1;
    },
  },
  {
    what: "one promise too few counted",
    rules: ["goal-promises"],
    breaks: (_, plan) => {
      plan.goals.promisesHeld = 3;
    },
  },
  {
    what: "one tail brew too many counted",
    rules: ["goal-tail"],
    breaks: (_, plan) => {
      plan.goals.tailMade = 2;
    },
  },
  {
    what: "money that does not add up",
    rules: ["money-total"],
    breaks: (_, plan) => {
      plan.goals.moneyCents += 1;
    },
  },
  ...([
    "runsCents",
    "ordersCents",
    "movesCents",
    "nightTurnsCents",
    "extraHoursCents",
    "feedCents",
    "salesCents",
  ] as const)
    .map((part): Variant => ({
      what: `another figure for ${part}`,
      rules: ["money-part"],
      breaks: (_, plan) => pay(plan, part, plan.goals.money[part] + 100),
    })),
  {
    what: "a day of the reserve left out",
    rules: ["money-part"],
    breaks: (_, plan) => pay(plan, "reserveCents", 760),
  },
  {
    what: "grain left at the end that is only held counted as fit for malting",
    rules: ["money-part"],
    breaks: (_, plan) => pay(plan, "endGrainCents", -77_925 - 12_000),
  },
  {
    what: "half a changed run",
    rules: ["money-part"],
    breaks: (_, plan) => pay(plan, "changedRunsCents", 500),
  },
];
