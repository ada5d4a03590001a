import { dayNumber } from "../calendar.ts";
import { forecastMassG } from "../season/forecast.ts";
import type { BookedRun } from "../season/records.ts";
import type { Season } from "../season/season.ts";
import { bookWeights } from "./journal-runs.ts";

/** A weight or a day as it was expected and as it came. */
export interface Compared {
  readonly kind: "weight" | "day";
  /** Grams, or days counted as `dayNumber` does. */
  readonly expected: number;
  readonly came: number;
}

/** One thing whose forecast a fact has replaced; both are kept. */
export interface ExpectedAndCome {
  readonly kind: "harvest" | "run" | "brew" | "order" | "waking";
  readonly id: string;
  /** What it is, in words. */
  readonly thing: string;
  readonly values: readonly (Compared & { readonly what: string })[];
}

/**
 * Forecasts beside the facts that replaced them: harvests, malting runs, brews, orders and the waking of lots, of each
 * kind in order of what came. `booked` holds runs as they were booked before they were recorded, by id.
 */
export function expectedAndCome(season: Season, booked: ReadonlyMap<string, BookedRun>): ExpectedAndCome[] {
  const told = [
    ...harvests(season),
    ...runs(season, booked),
    ...brews(season),
    ...orders(season),
    ...wakings(season),
  ];
  return told.filter(({ values }) => values.length > 0);
}

function weight(what: string, expected: number, came: number) {
  return { what, kind: "weight" as const, expected, came };
}

function day(what: string, expected: string, came: string) {
  return { what, kind: "day" as const, expected: dayNumber(expected), came: dayNumber(came) };
}

/** Plantings that were weighed, against their likely yield and day, both as put into store. */
function harvests(season: Season): ExpectedAndCome[] {
  return season.plantings.flatMap((planting) => {
    const tickets = season.weighTickets.filter((one) => one.plantingId === planting.id);
    const last = tickets.map(({ on }) => on).sort().at(-1);
    if (last === undefined || planting.state !== "harvested") return [];
    const cutG = tickets.reduce((sum, one) => sum + one.massG, 0);
    const expectedCutG = planting.areaM2 / 10_000 * planting.yieldKgPerHa.likely * 1000;
    const storedShare = expectedCutG === 0 ? 0 : forecastMassG(planting) / expectedCutG;
    const name = season.lots.find((one) => one.id === planting.lotId)?.name ?? planting.lotId;
    return [{
      ...{ kind: "harvest" as const, id: planting.id, thing: name },
      values: [
        weight("cut", Math.round(expectedCutG), cutG),
        weight("in store", forecastMassG(planting), Math.round(cutG * storedShare)),
        day("last load", planting.harvest.likely, last),
      ],
    }];
  });
}

/** Runs that gave malt, against the book's losses and against what was booked. */
function runs(season: Season, booked: ReadonlyMap<string, BookedRun>): ExpectedAndCome[] {
  return season.records.runs.filter((run) => run.stripAt !== undefined && run.outputs.length > 0)
    .sort((a, b) => a.steepInAt < b.steepInAt ? -1 : 1)
    .map((run) => {
      const malt = season.maltTypes.find((one) => one.id === run.maltId)?.name ?? run.maltId;
      const wanted = booked.get(run.id);
      const gaveG = run.outputs.reduce((sum, one) => sum + one.massG, 0);
      const bookG = Math.round(bookWeights(season, run.maltId, run.draws).maltG);
      return {
        ...{ kind: "run" as const, id: run.id, thing: `${malt}, run ${run.id}` },
        values: [
          weight("malt", bookG, gaveG),
          ...(wanted === undefined ? [] : [
            day("steep-in", wanted.steepInAt.slice(0, 10), run.steepInAt.slice(0, 10)),
            day("strip", wanted.stripAt.slice(0, 10), run.stripAt!.slice(0, 10)),
          ]),
        ],
      };
    });
}

/** Brews made, against the day they were wanted on. */
function brews(season: Season): ExpectedAndCome[] {
  return [...season.records.brews].sort((a, b) => a.on < b.on ? -1 : 1).flatMap((made) => {
    const brew = season.brews.find((one) => one.id === made.brewId);
    if (brew === undefined) return [];
    const beer = season.beers.find((one) => one.id === brew.beerId)?.name ?? brew.beerId;
    return [{
      ...{ kind: "brew" as const, id: brew.id, thing: beer },
      values: [day("brewed", brew.on, made.on)],
    }];
  });
}

/** Orders that have arrived, against the offer's own days. */
function orders(season: Season): ExpectedAndCome[] {
  return season.records.orders.filter((one) => one.arrivesOn <= season.asOf.slice(0, 10)).flatMap((order) => {
    const offer = season.supplyOffers.find((one) => one.id === order.offerId);
    if (offer === undefined) return [];
    const expected = dayNumber(order.orderedOn) + offer.leadDays;
    const arrived = { what: "arrived", kind: "day" as const, expected, came: dayNumber(order.arrivesOn) };
    return [{
      kind: "order" as const,
      id: order.id,
      thing: `${offer.supplier}, order ${order.id}`,
      values: [arrived],
    }];
  });
}

/** Lots whose waking was judged and then measured. */
function wakings(season: Season): ExpectedAndCome[] {
  return season.lots.flatMap((lot) => {
    const measured = lot.analyses.filter((one) =>
      one.resultOn !== undefined && one.germinativeEnergy !== undefined
    )
      .sort((a, b) => a.resultOn! < b.resultOn! ? -1 : 1);
    const least = Math.min(
      ...season.maltTypes.flatMap(({ made }) =>
        made.from === "grain" && made.crops.includes(lot.crop) ? [made.acceptance.germinativeEnergyLeast] : []
      ),
    );
    const awake = measured.find((one) => one.germinativeEnergy! >= least)?.resultOn;
    if (awake === undefined || lot.wakesOn === undefined) return [];
    const values = [day("awake", lot.wakesOn.likely, awake)];
    return [{ kind: "waking" as const, id: lot.id, thing: lot.name, values }];
  });
}
