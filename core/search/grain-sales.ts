import { type Book, openRunBookings } from "../book/book.ts";
import { dayNumber } from "../calendar.ts";
import type { Contract } from "../season/brewing.ts";
import type { Season } from "../season/season.ts";
import type { Booked } from "./booked.ts";

/** Grain sold under a contract: all that is still due, on the first day its lot has it; null when it has not in the contract's window and inside the plan. */
export interface GrainSale {
  contract: Extract<Contract, { kind: "sell-grain" }>;
  massG: number;
  day: number | null;
}

/** Grain contracts with something due, in order of day. Seed and what is booked go before them. */
export function grainSalesOf(
  season: Season,
  book: Book,
  booked: Booked,
  fills: readonly { lotId: string; day: number; massG: number }[],
  endDay: number,
): GrainSale[] {
  const { asOfDay } = book;
  const sold = new Map<string, number>();
  const contracts = season.contracts.flatMap((one) => one.kind === "sell-grain" ? [one] : [])
    .filter((one) => dayNumber(one.to) >= asOfDay && dayNumber(one.from) <= endDay)
    .sort((a, b) => dayNumber(a.from) - dayNumber(b.from) || dayNumber(a.to) - dayNumber(b.to));
  return contracts.flatMap((contract): GrainSale[] => {
    const { lotId } = contract;
    const massG = season.records.deliveries.filter((done) => done.contractId === contract.id)
      .reduce((leftG, done) => leftG - done.massG, contract.massG);
    if (massG <= 0) return [];
    const takenG = (sold.get(lotId) ?? 0) + bookedOutG(season, booked, lotId) +
      season.seedReserves.filter((seed) => seed.lotId === lotId && dayNumber(seed.on) >= asOfDay)
        .reduce((sum, seed) => sum + seed.massG, 0);
    const heldG = [...(book.grain.get(lotId)?.values() ?? [])].reduce((sum, one) => sum + one, 0);
    const coming = fills.filter((fill) => fill.lotId === lotId);
    const first = Math.max(dayNumber(contract.from), asOfDay + season.roster.heldDays);
    const last = Math.min(dayNumber(contract.to), endDay);
    const day = [Math.min(first, last), ...coming.map((fill) => fill.day).sort((a, b) => a - b)].find((on) =>
      on >= Math.min(first, last) && on <= last &&
      coming.reduce((sum, fill) => fill.day <= on ? sum + fill.massG : sum, heldG) - takenG >= massG
    );
    if (day !== undefined) sold.set(lotId, (sold.get(lotId) ?? 0) + massG);
    return [{ contract, massG, day: day ?? null }];
  });
}

/** Grain of a lot that bookings take out of the farm's stores: feed loads, runs, and what moves lose. */
function bookedOutG(season: Season, { loads, moves }: Booked, lotId: string): number {
  const of = (list: readonly { lotId: string; massG: number }[]) =>
    list.reduce((sum, one) => one.lotId === lotId ? sum + one.massG : sum, 0);
  return of(loads.flatMap((load) => load.items)) + of(openRunBookings(season).flatMap((run) => run.draws)) +
    of(moves.map((move) => ({ lotId: move.lotId, massG: move.lossG })));
}
