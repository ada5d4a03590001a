import { extractKg } from "../physics/extract.ts";
import { spentGrainDmKg, wetFromDmKg } from "../physics/spent-grain.ts";
import type { YearParts } from "./draw.ts";
import type { FlowMaker, FlowVolume } from "./flow.ts";
import { batchDry, batchNode } from "./flow-malt.ts";
import { brewVolumeL } from "./journal-brews.ts";

/**
 * Water that starch binds on becoming sugar, part of the wort's extract. All maltose would be 0.053 (18.015 / 342.30 by
 * the standard atomic weights), unchanged starch 0; wort is mostly maltose with dextrins and protein. 0.04 is from memory.
 */
const BOUND_WATER_FRACTION = 0.04;

/** Grist to wort and spent grain, by beer, in dry matter; then volumes from wort to package. */
export function flowBeer(parts: YearParts, maker: FlowMaker): FlowVolume[] {
  const { journal } = parts;
  const { season, firstDay, lastDay } = journal;
  const moisture = new Map(season.lots.map((lot) => [lot.id, lot.moistureWb]));
  const bound = maker.node("bound-water", "water bound by the starch", "source");
  const wort = maker.node("wort", "extract in the wort", "end");
  const spent = maker.node("spent-grain", "spent grain", "end");
  const volumes: FlowVolume[] = [];
  for (const beer of season.beers) {
    const brews = journal.brews.filter((fact) =>
      fact.beer.id === beer.id && fact.made && fact.grist.length > 0 && fact.day >= firstDay &&
      fact.day <= lastDay
    );
    if (brews.length === 0) continue;
    const grist = maker.node(`grist:${beer.id}`, beer.name, "grist");
    let gristDryG = 0;
    for (const use of brews.flatMap((fact) => fact.grist)) {
      if (use.from.kind === "lot") {
        const dryG = use.massG * (1 - (moisture.get(use.from.lotId) ?? 0));
        gristDryG += dryG;
        maker.link(`lot:${use.from.lotId}`, grist, dryG, use.massG);
        continue;
      }
      const batch = journal.batches.get(use.from.batchId);
      if (batch === undefined) continue;
      const dryG = batchDry(parts, batch, use.massG);
      gristDryG += dryG;
      maker.link(batchNode(parts, maker, batch), grist, dryG, use.massG);
    }
    const wortL = brews.reduce((sum, fact) => sum + brewVolumeL(fact), 0);
    // A record may name less grist than its wort needs. The balance then shows what the grist can have given, no more.
    const mostG = gristDryG / (1 - BOUND_WATER_FRACTION);
    const extractG = Math.min(mostG, extractKg(wortL, beer.gravityP) * 1000);
    const boundG = extractG * BOUND_WATER_FRACTION;
    maker.link(bound, grist, boundG, boundG);
    maker.link(grist, wort, extractG, extractG);
    const spentDryG =
      spentGrainDmKg(gristDryG / 1000, boundG / 1000, Math.min(extractG, gristDryG + boundG) / 1000) * 1000;
    maker.link(grist, spent, spentDryG, wetFromDmKg(spentDryG / 1000) * 1000);
    volumes.push(volumeOf(beer, wortL));
  }
  return volumes;
}

function volumeOf(
  beer: { id: string; name: string; losses: readonly { name: string; share: number }[] },
  wortL: number,
): FlowVolume {
  let volumeL = wortL;
  const losses = beer.losses.map(({ name, share }) => {
    const lostL = volumeL * share;
    volumeL -= lostL;
    return { name, volumeL: lostL };
  });
  return { beerId: beer.id, beerName: beer.name, wortL, losses, packagedL: volumeL };
}
