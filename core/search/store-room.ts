/** Places of the malt store that are free for one material's orders, by day from `from`. */
export interface StoreRoom {
  readonly from: number;
  readonly free: Int32Array;
  readonly placeG: number;
}

/** Fewest places free on any day from `first` to before `end`; Infinity for none of the room's days. */
export function fewestFree({ from, free }: StoreRoom, first: number, end: number): number {
  let fewest = Infinity;
  const last = Math.min(end - from, free.length);
  for (let d = Math.max(0, first - from); d < last; d++) fewest = Math.min(fewest, free[d] as number);
  return fewest;
}

/** Whether so much may lie there on every day from `first` to before `end`, `besideG` of it in other bags. */
export function hasRoom(room: StoreRoom, first: number, end: number, massG: number, besideG = 0): boolean {
  const places = Math.ceil(Math.max(0, massG) / room.placeG) + Math.ceil(Math.max(0, besideG) / room.placeG);
  return places === 0 || places <= fewestFree(room, first, end);
}
