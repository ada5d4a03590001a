/** What bookings leave of the grain in store: each takes its own grain on its own day, and what is moved lies in its new store from then on. */
export class GrainLedger {
  /** lot and store -> grams as of now, then changes by day. */
  private readonly changes = new Map<string, { day: number; deltaG: number }[]>();

  /** `grain` by lot id and store id, grams as in bin on `today`. */
  constructor(grain: ReadonlyMap<string, ReadonlyMap<string, number>>, private readonly today: number) {
    for (const [lotId, stores] of grain) {
      for (const [storeId, massG] of stores) this.put(lotId, storeId, today, massG);
    }
  }

  clone(): GrainLedger {
    const copy = new GrainLedger(new Map(), this.today);
    for (const [key, list] of this.changes) copy.changes.set(key, [...list]);
    return copy;
  }

  /** Grain comes in. */
  put(lotId: string, storeId: string, day: number, massG: number): void {
    const key = `${lotId} ${storeId}`;
    this.changes.set(key, [...(this.changes.get(key) ?? []), { day, deltaG: massG }]);
  }

  /** Takes grain out if it is there on that day and nothing that is already taken on a later day needs it. */
  take(lotId: string, storeId: string, day: number, massG: number): boolean {
    const list = this.changes.get(`${lotId} ${storeId}`) ?? [];
    const days = [day, ...list.map((one) => one.day).filter((one) => one > day)];
    const leastG = Math.min(
      ...days.map((on) => list.reduce((sum, one) => one.day <= on ? sum + one.deltaG : sum, 0)),
    );
    if (leastG < massG) return false;
    this.put(lotId, storeId, day, -massG);
    return true;
  }
}
