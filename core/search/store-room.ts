/** Places of the malt store that are free for one material's orders, by day from `from`. */
export interface StoreRoom {
  readonly from: number;
  readonly free: Int32Array;
  readonly placeG: number;
}

/** Whether so much may lie there on every day from `first` to before `end`, `besideG` of it in other bags. */
export function hasRoom(
  { from, free, placeG }: StoreRoom,
  first: number,
  end: number,
  massG: number,
  besideG = 0,
): boolean {
  const places = Math.ceil(Math.max(0, massG) / placeG) + Math.ceil(Math.max(0, besideG) / placeG);
  if (places === 0) return true;
  const last = Math.min(end - from, free.length);
  for (let d = Math.max(0, first - from); d < last; d++) if (places > (free[d] as number)) return false;
  return true;
}
