import type { BrewMark } from "./brews-band.ts";
import { nodeId } from "./graph.ts";
import type { Journal } from "./journal.ts";
import { brewVolumeL } from "./journal-brews.ts";

/** The brews band, by day. */
export function brewMarks(journal: Journal): BrewMark[] {
  return journal.brews.map((fact) => ({
    id: fact.brew.id,
    node: nodeId("brew", fact.brew.id),
    beerId: fact.beer.id,
    beerName: fact.beer.name,
    letter: fact.beer.letter,
    day: fact.day,
    wantedDay: fact.wantedDay,
    class: fact.brew.class as 1 | 2 | 3,
    pilot: fact.brew.pilot,
    standing: fact.standing,
    tail: fact.tail,
    homeShare: fact.homeShare,
    promise: fact.beer.homeSharePromise,
    promiseHeld: fact.promiseHeld,
    gristG: fact.grist.reduce((sum, use) => sum + use.massG, 0),
    volumeL: brewVolumeL(fact),
    packagedDay: fact.day + fact.beer.tankDays,
    tanks: fact.tanks,
    unbrewed: fact.unbrewed,
  }));
}
