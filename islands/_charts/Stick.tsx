import type { VNode } from "preact";
import type { BrewMark } from "../../core/year/brews-band.ts";
import type { ReaderUnits } from "../../core/units.ts";
import { STICK, type Stick as StickPlace } from "./brews-layout.ts";
import { c } from "./frame.ts";
import { standingClass } from "./Leaving.tsx";
import { Mark } from "./Mark.tsx";
import { beer, homePercent, malt, percent, shortDay } from "./words.ts";

/** A brew as a dipstick: its home share inked from the foot, a second rim when it is promised; `old`: what has moved. */
export function Stick(
  { stick, ground, units, old }: { stick: StickPlace; ground: number; units: ReaderUnits; old: string },
): VNode {
  const { brew, left, width } = stick;
  const top = ground - STICK;
  const inked = c(STICK * brew.homeShare);
  return (
    <Mark
      node={brew.node}
      says={says(brew, units) + (old === "" ? "" : `; ${old}`)}
      kind={`stick ${standingClass(brew.standing)}${isShort(brew) ? " short" : ""}`}
    >
      {inked > 0 && <rect class="inked" x={left} y={c(ground - inked)} width={width} height={inked} />}
      <path
        class="rim"
        d={`M${left} ${ground}V${top}h${width}${brew.standing === "under way" ? "" : `V${ground}`}`}
      />
      {brew.class === 1 && <path class="promise" d={`M${c(left - 0.6)} ${top - 1.8}h${c(width + 1.2)}`} />}
      {brew.standing === "unbrewed" && (
        <path class="missing" d={`M${c(left - 1)} ${top + 5}l${c(width + 2)} 7m0 -7l${c(-width - 2)} 7`} />
      )}
      <rect class="hit" x={c(left - 1)} y={top - 4} width={c(width + 2)} height={STICK + 4} />
    </Mark>
  );
}

/** A brew that is not made, or made below the home share it was promised with. Without a grist nothing is known yet. */
export function isShort({ standing, promiseHeld, gristG }: BrewMark): boolean {
  if (standing === "unbrewed") return true;
  return (standing === "booked" || standing === "not booked") && gristG > 0 && !promiseHeld;
}

function says(brew: BrewMark, units: ReaderUnits): string {
  const promised = brew.class === 1 ? ", promised" : "";
  const day = brew.day === brew.wantedDay
    ? shortDay(brew.day)
    : `${shortDay(brew.day)} (wanted ${shortDay(brew.wantedDay)})`;
  const head = `${brew.beerName}, ${day}, ${beer(brew.volumeL, units)}${promised}`;
  if (brew.standing === "awaited") return `${head}; not planned yet`;
  if (brew.unbrewed !== null) return `${head}; not made: ${brew.unbrewed.why}`;
  const held = brew.promiseHeld ? "" : `, below the ${percent(brew.promise)} promised`;
  return `${head}; ${malt(brew.gristG, units)} of grist, ${homePercent(brew.homeShare)} home-grown${held}; ` +
    `out of the tank ${shortDay(brew.packagedDay)}; ${brew.standing}`;
}
