/** Bins and bag rows: one lot in a bin, clean before the next, and room. Judged on the days on which the plan puts grain in. */
import { dayNumber } from "../calendar.ts";
import { capacityKg, levelVolumeL } from "../physics/bin-capacity.ts";
import type { BagRow, Bin, Store } from "../season/grain.ts";
import { type Breach, breach } from "./breach.ts";
import type { Context } from "./context.ts";
import { heldG, type Holding } from "./grain-book.ts";
import { dayWords, massWords } from "./words.ts";

/** A millionth of a gram: room is a real number, weights are whole. */
const ROOM_TOLERANCE_G = 1e-6;

/** Grams of a lot that fill a volume. */
function roomG(ctx: Context, volumeL: number, lotId: string): number {
  const lot = ctx.lots.get(lotId);
  return lot === undefined ? Infinity : capacityKg(volumeL, lot.testWeightKgPerHl) * 1000;
}

function binVolumeL({ shape }: Bin): number {
  return shape.kind === "volume" ? shape.volumeL : levelVolumeL(shape.diameterM, shape.depthM);
}

/** Days on which the plan puts grain of a holding in. */
function entryDays(holding: Holding): number[] {
  return [
    ...new Set(
      holding.events.filter((event) => event.planned && event.deltaG > 0).map((event) => event.day),
    ),
  ];
}

function lotsBefore(bin: Bin, entering: Holding, others: readonly Holding[], day: number): Breach[] {
  const found: Breach[] = [];
  for (const other of others) {
    if (other === entering || !other.events.some((event) => event.day <= day && event.deltaG > 0)) continue;
    const left = heldG(other, day);
    if (left > 0) {
      const message = `Lot ${entering.lotId} is put into ${bin.name} on ${dayWords(day)}, which still holds ${
        massWords(left)
      } of lot ${other.lotId}.`;
      found.push(breach("bin-one-lot", bin.id, day, massWords(left), "nothing of another lot", message));
      continue;
    }
    const emptied = other.events.findLast((event) => event.day <= day)!.day;
    const free = emptied + bin.turnaroundDays;
    if (day < free) {
      const message =
        `Lot ${entering.lotId} is put into ${bin.name} on ${dayWords(day)}; lot ${other.lotId} ` +
        `left it on ${dayWords(emptied)}, so it is clean on ${dayWords(free)}.`;
      const limit = `${dayWords(free)} or later`;
      found.push(breach("bin-turnaround", bin.id, day, dayWords(day), limit, message));
    }
  }
  return found;
}

function binRoom(ctx: Context, bin: Bin, holdings: readonly Holding[], day: number): Breach[] {
  const volumeL = binVolumeL(bin);
  const lying = holdings.map((holding) => ({ lotId: holding.lotId, massG: heldG(holding, day) }))
    .filter((item) => item.massG > 0);
  // Several lots in one bin share its volume; that they do is a breach of its own.
  const first = lying[0];
  if (first === undefined) return [];
  const firstRoomG = roomG(ctx, volumeL, first.lotId);
  const massG = lying.reduce((sum, item) => {
    const asFirst = item === first ? 1 : firstRoomG / roomG(ctx, volumeL, item.lotId);
    return sum + item.massG * asFirst;
  }, 0);
  if (massG <= firstRoomG + ROOM_TOLERANCE_G) return [];
  const message = `${bin.name} holds ${massWords(massG)} of lot ${first.lotId} on ${dayWords(day)}, ` +
    `but at its test weight only ${massWords(firstRoomG)} fit.`;
  return [breach("bin-capacity", bin.id, day, massWords(massG), massWords(firstRoomG), message)];
}

function bags(ctx: Context, row: BagRow, holdings: readonly Holding[], day: number): Breach[] {
  const places = holdings.reduce((sum, holding) => {
    const massG = heldG(holding, day);
    return massG <= 0 ? sum : sum + Math.ceil(massG / roomG(ctx, row.placeVolumeL, holding.lotId) - 1e-9);
  }, 0);
  if (places <= row.places) return [];
  const message = `${row.name} needs ${places} bags on ${dayWords(day)}, but has ${row.places} places.`;
  return [breach("bag-places", row.id, day, `${places} bags`, `${row.places} places`, message)];
}

function store(ctx: Context, place: Store): Breach[] {
  const holdings = ctx.grain.inStore(place.id);
  const days = new Set<number>();
  const found: Breach[] = [];
  for (const holding of holdings) {
    for (const day of entryDays(holding)) {
      days.add(day);
      if (place.kind === "bin") found.push(...lotsBefore(place, holding, holdings, day));
    }
  }
  for (const day of [...days].sort((a, b) => a - b)) {
    found.push(
      ...(place.kind === "bin" ? binRoom(ctx, place, holdings, day) : bags(ctx, place, holdings, day)),
    );
  }
  return found;
}

function moves({ plan, season }: Context): Breach[] {
  const found: Breach[] = [];
  for (const move of plan.moves) {
    const day = dayNumber(move.on);
    if (move.fromStoreId === move.toStoreId) {
      const message = `Move ${move.id} ends in the store it starts from, ${move.fromStoreId}.`;
      found.push(breach("move-route", move.id, day, move.toStoreId, "another store", message));
    }
    const loss = season.costs.moveLoss * move.massG;
    // What a booked move loses was written by the people who booked it.
    const wrong = move.standing !== "booked" && Math.abs(move.lossG - loss) > 0.5 + ROOM_TOLERANCE_G;
    if (wrong || move.lossG > move.massG) {
      const should = massWords(Math.round(loss));
      const message =
        `Move ${move.id} of ${massWords(move.massG)} loses ${massWords(move.lossG)} in the plan; ` +
        `its loss is ${should}.`;
      found.push(breach("move-loss", move.id, day, massWords(move.lossG), should, message));
    }
  }
  return found;
}

/** All stores, and the moves between them. */
export function storesHold(ctx: Context): Breach[] {
  return [...ctx.season.stores.flatMap((place) => store(ctx, place)), ...moves(ctx)];
}
