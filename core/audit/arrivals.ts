/** Grain still to come: harvests of plantings that stand or will stand, and grain bought under contract. */
import { dayNumber } from "../calendar.ts";
import type { Planting } from "../season/land.ts";
import type { Season } from "../season/season.ts";

const M2_PER_HA = 10_000;

/** One arrival of a lot. Dry matter from field to bin is kept with it, so that the losses on the way can be named. */
export interface Arrival {
  readonly lotId: string;
  readonly day: number;
  readonly massG: number;
  /** Set for a harvest; a purchase comes without a field. */
  readonly planting: Planting | undefined;
  readonly cutDmG: number;
  readonly handlingDmG: number;
  readonly intakeDmG: number;
  /** Moisture on arrival, wet basis. */
  readonly moistureWb: number;
}

function harvest(planting: Planting, asOfDay: number): Arrival {
  const likely = dayNumber(planting.harvest.likely);
  const cutG = planting.areaM2 / M2_PER_HA * planting.yieldKgPerHa.likely * 1000;
  const cutDmG = cutG * (1 - planting.moistureAtHarvestWb);
  const handlingDmG = cutDmG * planting.handlingLoss;
  const moistureWb = Math.min(planting.moistureAtHarvestWb, planting.dryToWb);
  const driedDmG = cutDmG - handlingDmG;
  const intakeDmG = driedDmG * planting.intakeCleaningLoss;
  const massG = moistureWb < 1 ? Math.round((driedDmG - intakeDmG) / (1 - moistureWb)) : 0;
  return {
    lotId: planting.lotId,
    day: likely < asOfDay ? asOfDay + 1 : likely,
    massG,
    planting,
    cutDmG,
    handlingDmG,
    intakeDmG,
    moistureWb,
  };
}

/** Everything that comes from the day of as-of to the end of the plan; grain of past contracts is a matter of records. */
export function arrivals(season: Season, asOfDay: number, planEnd: number): Arrival[] {
  const lots = new Map(season.lots.map((lot) => [lot.id, lot]));
  const coming = season.plantings
    .filter(({ state, lotId }) =>
      (state === "planned" || state === "sown") && lots.get(lotId)?.forecast === true
    )
    .map((planting) => harvest(planting, asOfDay));
  for (const contract of season.contracts) {
    if (contract.kind !== "buy-grain") continue;
    const day = dayNumber(contract.on);
    const came = season.records.fills.some((fill) =>
      fill.lotId === contract.lotId && dayNumber(fill.on) >= day
    );
    if (day < asOfDay || came) continue;
    const moistureWb = lots.get(contract.lotId)?.moistureWb ?? 0;
    const dmG = contract.massG * (1 - moistureWb);
    const none = { planting: undefined, handlingDmG: 0, intakeDmG: 0 };
    coming.push({ lotId: contract.lotId, day, massG: contract.massG, cutDmG: dmG, moistureWb, ...none });
  }
  return coming.filter((arrival) => arrival.day <= planEnd);
}
