import { CROPS } from "../season/quantity.ts";
import type { Season } from "../season/season.ts";
import { type Attendance, attendanceOf } from "./attendance.ts";
import { legalSlots, openSlots, type Slot, withoutClosed } from "./slots.ts";

/** Who is there, and what may be started when. */
export interface Starts {
  attendance: Attendance;
  slots: readonly Slot[];
  /** By malt type. */
  slotsByMalt: readonly (readonly Slot[])[];
}

/** Works both out from `asOfDay` and `freeDay` on to `endDay`. */
export function startsOf(season: Season, asOfDay: number, freeDay: number, endDay: number): Starts {
  const attendance = attendanceOf(season, asOfDay - 1, endDay + 1);
  const slots = legalSlots(season, attendance, freeDay, endDay, CROPS);
  return { attendance, slots, slotsByMalt: byMalt(season, slots) };
}

function byMalt({ maltTypes }: Season, slots: readonly Slot[]): Slot[][] {
  const lists = maltTypes.map((): Slot[] => []);
  for (const slot of slots) lists[slot.malt]?.push(slot);
  return lists;
}

/**
 * Remembers the last season's attendance and slots, keyed by the text of all they depend on: most edits touch none of it. Closures are
 * left out of the key and looked at each time. What it returns is what `startsOf` returns, in objects that are shared: nobody may
 * change them.
 */
export class SlotCache {
  private key = "";
  private attendance: Attendance | null = null;
  private open: readonly Slot[] = [];
  private shut = "";
  private slots: readonly Slot[] = [];
  private slotsByMalt: Starts["slotsByMalt"] = [];

  /** As `startsOf`. */
  of(season: Season, asOfDay: number, freeDay: number, endDay: number): Starts {
    const { zone, weekStartsOn, people, roster, maltTypes, vessels } = season;
    const lasting = vessels.map(({ closures: _, ...lasts }) => lasts);
    const key = JSON.stringify([
      ...[asOfDay, freeDay, endDay, zone, weekStartsOn],
      ...[people, roster, maltTypes, lasting],
    ]);
    const shut = JSON.stringify(vessels.map((vessel) => vessel.closures));
    if (!this.attendance || key !== this.key) {
      this.attendance = attendanceOf(season, asOfDay - 1, endDay + 1);
      this.open = openSlots(season, this.attendance, freeDay, endDay, CROPS);
      this.key = key;
      this.shut = "";
    }
    if (shut !== this.shut) {
      this.slots = withoutClosed(season, this.open);
      this.slotsByMalt = byMalt(season, this.slots);
      this.shut = shut;
    }
    return { attendance: this.attendance, slots: this.slots, slotsByMalt: this.slotsByMalt };
  }
}
