import { dateOf, dayNumber } from "../../calendar.ts";
import { lotClock } from "../clocks.ts";
import type { Checking } from "./checking.ts";

/** Harvests and deliveries that should have come, and lots into which nothing comes. */
export function checkArrivals({ season, asOf, tell }: Checking): void {
  const today = dateOf(asOf), opened = dateOf(season.positionAt);
  const lots = new Map(season.lots.map((lot) => [lot.id, lot]));
  for (const [i, planting] of season.plantings.entries()) {
    if (planting.state !== "planned" && planting.state !== "sown") continue;
    const { likely } = planting.harvest;
    if (lots.get(planting.lotId)?.forecast === false) {
      tell("harvest-into-weighed-lot", ["plantings", i, "lotId"], {
        limit: "a forecast lot",
        message: `Lot ${planting.lotId} has been weighed already, and this planting is still to be cut.`,
        wayOut:
          "Set the planting to harvested, or give what still stands a planting and a forecast lot of its own.",
      });
    }
    if (likely >= today) continue;
    const beforePosition = likely < opened;
    tell(beforePosition ? "harvest-before-position" : "harvest-overdue", [
      "plantings",
      i,
      "harvest",
      "likely",
    ], {
      limit: beforePosition ? `not before positionAt, ${opened}` : `not before as-of, ${today}`,
      message: beforePosition
        ? "This harvest should have been in store when the stocks were counted, but it is still a forecast."
        : "This harvest should be in by now; the plan takes it as coming tomorrow.",
      wayOut: "Enter what was weighed and set the planting to harvested, or correct the date.",
    });
  }
  for (const [i, contract] of season.contracts.entries()) {
    if (contract.kind !== "buy-grain" || contract.on >= today || contract.on < opened) continue;
    if (season.records.fills.some((fill) => fill.lotId === contract.lotId)) continue;
    tell("delivery-overdue", ["contracts", i, "on"], {
      limit: `not before as-of, ${today}`,
      message: "This grain should have come, and nobody has recorded it; the plan does not count on it.",
      wayOut: "Record what came, or enter the new day.",
    });
  }
  for (const [i, lot] of season.lots.entries()) {
    if (!lot.forecast) continue;
    const planted = season.plantings.some((planting) => planting.lotId === lot.id);
    const bought = season.contracts.some((one) => one.kind === "buy-grain" && one.lotId === lot.id);
    if (planted || bought) continue;
    tell("forecast-without-source", ["lots", i, "forecast"], {
      limit: "a planting or a contract that brings it",
      message: `${lot.name} is a forecast, but no planting and no contract brings it.`,
      wayOut: "Name it in a planting or contract, or take it out.",
    });
  }
}

/** Brews, runs and other bookings whose day has gone by with nothing recorded, and runs booked too early. */
export function checkOverdue({ season, asOf, tell }: Checking): void {
  const today = dateOf(asOf), opened = dateOf(season.positionAt);
  const brewed = new Set(season.records.brews.map((brew) => brew.brewId));
  for (const [i, brew] of season.brews.entries()) {
    if (brew.latest >= today || brew.latest < opened || brewed.has(brew.id)) continue;
    tell("brew-not-recorded", ["brews", i, "latest"], {
      limit: "recorded when it was made",
      message: "The days for this brew are over, and nobody has recorded it; it is no longer planned.",
      wayOut: "Record it, move its window, or leave it if it was not made.",
    });
  }
  const { runs, brews, orders, feedLoads, moves } = season.bookings;
  const past = (list: string, i: number, field: string, when: string) => {
    if (when.length > 10 ? when >= asOf : when >= today) return;
    tell("booking-overdue", ["bookings", list, i, field], {
      limit: `not before as-of, ${asOf}`,
      message: "This was booked for a time that is past, and nothing is recorded.",
      wayOut: "Record it if it was done, otherwise book it anew or unbook it.",
    });
  };
  runs.forEach((run, i) => past("runs", i, "steepInAt", run.steepInAt));
  brews.forEach((brew, i) => past("brews", i, "on", brew.on));
  orders.forEach((order, i) => past("orders", i, "orderedOn", order.orderedOn));
  feedLoads.forEach((load, i) => past("feedLoads", i, "on", load.on));
  moves.forEach((move, i) => past("moves", i, "on", move.on));
}

/** No run is booked of a lot that awaits a result. The plan goes on and says that the booking cannot be kept. */
export function checkBookedRuns({ season, asOf, tell }: Checking): void {
  for (const [i, run] of season.bookings.runs.entries()) {
    for (const [j, draw] of run.draws.entries()) {
      const lot = season.lots.find((one) => one.id === draw.lotId);
      if (lot === undefined || lot.analyses.every((one) => one.resultOn !== undefined)) continue;
      const malt = season.maltTypes.find((one) => one.id === run.maltId);
      const until = malt && lotClock(season, lot, malt, asOf).awaitedUntil;
      tell("booked-run-awaiting", ["bookings", "runs", i, "draws", j, "lotId"], {
        limit: "a lot whose results have all come",
        message: `${lot.name} still awaits a result, so a run of it cannot be booked.`,
        wayOut: until !== undefined && until !== null && until <= dayNumber(dateOf(run.steepInAt))
          ? "Unbook it: the plan may propose it, and it can be booked when the result is in."
          : "Unbook it until the result is in.",
      });
    }
  }
}
