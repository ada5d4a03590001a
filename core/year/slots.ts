import { minuteOfTime, monthOf } from "../calendar.ts";
import { type Stage, STAGES, type Vessel } from "../season/malthouse.ts";
import type { Crop } from "../season/quantity.ts";
import type { Season } from "../season/season.ts";
import { instant, instantOf } from "../zone.ts";
import type { Journal } from "./journal.ts";
import { type RunFact, stageTimes } from "./journal-runs.ts";
import { clipped, common, gapsBetween, joined, later, reaching, type Spans } from "./spans.ts";
import { longAbsences, type Staffed, staffedOf } from "./staffed.ts";

/** One way to malt one crop: what decides whether a start is legal. Minutes, month tables January first. */
interface Recipe {
  readonly crop: Crop;
  readonly hours: Readonly<Record<Stage, { readonly least: number; readonly greatest: number }>>;
  readonly extraKilnHours: readonly number[];
  readonly loadFactor: readonly number[];
}

type Chain = Readonly<Record<Stage, Vessel>>;

/** Whose time in the vessels counts: nobody's, that of all runs, of all but what lies in one vessel, or of that alone. */
export type Beside = "nothing" | "the runs" | { readonly without: string } | { readonly only: string };

/** Time of one vessel in which a run would have to have its load there, in minutes. */
export interface Inside {
  readonly vesselId: string;
  readonly from: number;
  readonly to: number;
}

/** One vessel's time taken by one run. */
interface Load {
  readonly vesselId: string;
  readonly crop: Crop;
  readonly from: number;
  readonly to: number;
}

/** Begins the name of a variant in which the loads of one vessel alone count; no id holds a blank. */
const ONLY = "only ";
const ALL_YEAR = new Array<number>(12).fill(1);
const NO_EXTRA = new Array<number>(12).fill(0);

/**
 * On which days a run could be started, in a malthouse that stands empty or beside the runs of a plan. A start is legal
 * when the roster, the profile's least and greatest hours, closures, look-ins and cleaning allow all four hand-overs at
 * some minutes. Loads, lots and the limit on night turns are not asked here.
 */
export class Slots {
  readonly #season: Season;
  readonly #from: number;
  readonly #to: number;
  readonly #staffed: Staffed;
  readonly #loads: readonly Load[];
  readonly #shut = new Map<string, Spans>();
  readonly #gaps = new Map<string, Spans>();

  constructor(journal: Journal) {
    this.#season = journal.season;
    // A run started on the last day still needs its hand-overs staffed, weeks later.
    this.#from = journal.firstDay - 30;
    this.#to = journal.planEnd + 40;
    this.#staffed = staffedOf(journal.season, this.#from, this.#to);
    this.#loads = journal.runs.flatMap((run) => loadsOf(journal.season, run));
  }

  /**
   * True when some recipe of these malts can be started on the day. `beside`: the runs stay where they are; or, with a
   * vessel's id, their time in that one vessel is thought away, or their time in all others. `inside`: only runs with their load there count.
   */
  canStart(
    day: number,
    maltIds: readonly string[],
    beside: Beside,
    inside?: Inside,
  ): boolean {
    const { zone, roster } = this.#season;
    const starts = roster.steepInTimes
      .map((time) => instantOf(zone, day, minuteOfTime(time)))
      .filter((minute) => clipped(this.#staffed.handOvers.steepIn, minute, minute).length > 0);
    if (starts.length === 0) return false;
    const variant = typeof beside === "string"
      ? beside
      : "only" in beside
      ? `${ONLY}${beside.only}`
      : beside.without;
    return this.#recipes(maltIds).some((recipe) =>
      this.#chains(recipe.crop).some((chain) =>
        (inside === undefined || passes(chain, inside.vesselId)) &&
        starts.some((start) => this.#chainFits(recipe, chain, start, monthOf(day) - 1, variant, inside))
      )
    );
  }

  /** Shortest and longest days from steep-in to strip over the recipes of these malts. */
  lengthDays(maltIds: readonly string[]): { least: number; greatest: number } {
    const recipes = this.#recipes(maltIds);
    const total = (recipe: Recipe, which: "least" | "greatest") =>
      recipe.hours.steep[which] + recipe.hours.bed[which] + recipe.hours.kiln[which];
    return {
      least: Math.min(...recipes.map((one) => total(one, "least"))) / 1440,
      greatest: Math.max(...recipes.map((one) => total(one, "greatest"))) / 1440,
    };
  }

  /** Least clean grain, in grams, with which some steep, bed and kiln that go together can all be run; 0 when none do. */
  leastLoadG(crop: Crop): number {
    const loads = this.#chains(crop).map(({ steep, bed, kiln }) => {
      const limits = [steep, bed, kiln].flatMap((one) =>
        one.loadLimits.filter((limit) => limit.crop === crop)
      );
      return {
        leastG: Math.max(...limits.map((one) => one.leastG)),
        greatestG: Math.min(...limits.map((one) => one.greatestG)),
      };
    }).filter(({ leastG, greatestG }) => leastG <= greatestG);
    return loads.length === 0 ? 0 : Math.min(...loads.map(({ leastG }) => leastG));
  }

  /** Over the recipes of these malts: fewest hours in a stage, and fewest and most hours from steep-in to its beginning. */
  stageHours(
    maltIds: readonly string[],
    stage: Stage,
  ): { least: number; leastBefore: number; mostBefore: number } {
    const recipes = this.#recipes(maltIds);
    const before = STAGES.slice(0, STAGES.indexOf(stage));
    const hours = (which: "least" | "greatest", stages: readonly Stage[]) =>
      recipes.map((one) => stages.reduce((sum, each) => sum + one.hours[each][which], 0) / 60);
    return {
      least: Math.min(...hours("least", [stage])),
      leastBefore: Math.min(...hours("least", before)),
      mostBefore: Math.max(...hours("greatest", before)),
    };
  }

  #chainFits(
    recipe: Recipe,
    chain: Chain,
    start: number,
    month: number,
    variant: string,
    inside: Inside | undefined,
  ): boolean {
    if (recipe.loadFactor[month]! <= 0) return false;
    const { hours } = recipe;
    const extra = recipe.extraKilnHours[month]! * 60;
    const casts = this.#next(
      [[start, start]],
      chain.steep,
      "steep",
      recipe,
      hours.steep,
      "castToBed",
      variant,
      inside,
    );
    const loadings = this.#next(casts, chain.bed, "bed", recipe, hours.bed, "kilnLoading", variant, inside);
    const kiln = { least: hours.kiln.least + extra, greatest: hours.kiln.greatest + extra };
    return this.#next(loadings, chain.kiln, "kiln", recipe, kiln, "strip", variant, inside).length > 0;
  }

  /** Minutes at which a stage begun at one of `begins` can end: staffed, inside its hours, the vessel free throughout. */
  #next(
    begins: Spans,
    vessel: Vessel,
    stage: Stage,
    recipe: Recipe,
    { least, greatest }: { least: number; greatest: number },
    ends: "castToBed" | "kilnLoading" | "strip",
    variant: string,
    inside: Inside | undefined,
  ): Spans {
    if (begins.length === 0) return begins;
    const found: (readonly [number, number])[] = [];
    const free = this.#freeTime(vessel, stage, recipe.crop, variant);
    const usable = inside?.vesselId === vessel.id ? clipped(free, inside.from, inside.to) : free;
    for (const gap of reaching(usable, begins[0]![0], begins.at(-1)![1])) {
      found.push(...clipped(later(common(begins, [gap]), least, greatest), gap[0], gap[1]));
    }
    return common(joined(found), this.#staffed.handOvers[ends]);
  }

  /** When a vessel can hold a load of the crop in a stage, cleaning before and after counted in. */
  #freeTime(vessel: Vessel, stage: Stage, crop: Crop, variant: string): Spans {
    const key = `${vessel.id} ${stage} ${crop} ${variant}`;
    const known = this.#gaps.get(key);
    if (known !== undefined) return known;
    const isFree = variant.startsWith(ONLY)
      ? variant !== `${ONLY}${vessel.id}`
      : variant === "nothing" || variant === vessel.id;
    const taken = isFree ? [] : this.#loads.filter((load) => load.vesselId === vessel.id);
    const busy = joined([
      ...this.#shutTime(vessel, stage),
      ...taken.map((load) =>
        [
          load.from - cleaningMinutes(vessel, crop, load.crop),
          load.to + cleaningMinutes(vessel, load.crop, crop),
        ] as const
      ),
    ]);
    const { zone } = this.#season;
    const gaps = gapsBetween(busy, instantOf(zone, this.#from, 0), instantOf(zone, this.#to, 0));
    this.#gaps.set(key, gaps);
    return gaps;
  }

  #shutTime(vessel: Vessel, stage: Stage): Spans {
    const key = `${vessel.id} ${stage}`;
    const known = this.#shut.get(key);
    if (known !== undefined) return known;
    const { zone } = this.#season;
    const first = instantOf(zone, this.#from, 0), last = instantOf(zone, this.#to, 0);
    const spans: (readonly [number, number])[] = vessel.closures.map((one) =>
      [instant(zone, one.from), instant(zone, one.to)] as const
    );
    if (stage === "bed" && vessel.turning?.by === "machine" && this.#season.people.length > 0) {
      spans.push(...longAbsences(this.#staffed, first, last, vessel.turning.lookInEveryHours));
    }
    if (stage === "kiln" && vessel.firedLookInEveryHours !== undefined) {
      for (let day = this.#from; day < this.#to; day++) {
        if (this.#staffed.maltsterDays.has(day)) continue;
        spans.push([instantOf(zone, day, 0), instantOf(zone, day + 1, 0)]);
      }
    }
    const shut = joined(spans);
    this.#shut.set(key, shut);
    return shut;
  }

  readonly #recipesKept = new Map<string, Recipe[]>();

  #recipes(maltIds: readonly string[]): Recipe[] {
    const key = maltIds.join(" ");
    const known = this.#recipesKept.get(key);
    if (known !== undefined) return known;
    const found = new Map<string, Recipe>();
    for (const malt of this.#season.maltTypes) {
      if (malt.made.from !== "grain" || !maltIds.includes(malt.id)) continue;
      const { crops, profiles, monthExtraKilnHours = NO_EXTRA, monthLoadFactor = ALL_YEAR } = malt.made;
      for (const crop of crops) {
        for (const profile of profiles) {
          const minutes = (stage: Stage) => ({
            least: profile[stage].least * 60,
            greatest: profile[stage].greatest * 60,
          });
          const recipe: Recipe = {
            crop,
            hours: { steep: minutes("steep"), bed: minutes("bed"), kiln: minutes("kiln") },
            extraKilnHours: monthExtraKilnHours,
            loadFactor: monthLoadFactor,
          };
          // Malts often share a programme; what cannot differ need not be tried twice.
          found.set(JSON.stringify(recipe), recipe);
        }
      }
    }
    const recipes = [...found.values()];
    this.#recipesKept.set(key, recipes);
    return recipes;
  }

  readonly #chainsKept = new Map<Crop, Chain[]>();

  #chains(crop: Crop): Chain[] {
    const known = this.#chainsKept.get(crop);
    if (known !== undefined) return known;
    const fits = (stage: Stage) =>
      this.#season.vessels.filter((one) =>
        one.stages.includes(stage) && one.loadLimits.some((limit) => limit.crop === crop)
      );
    const sameLine = (...vessels: Vessel[]) =>
      new Set(vessels.flatMap((one) => one.line === undefined ? [] : [one.line])).size <= 1;
    const chains = fits("steep").flatMap((steep) =>
      fits("bed").flatMap((bed) => fits("kiln").map((kiln) => ({ steep, bed, kiln })))
    ).filter((chain) => sameLine(chain.steep, chain.bed, chain.kiln));
    this.#chainsKept.set(crop, chains);
    return chains;
  }
}

function passes(chain: Chain, vesselId: string): boolean {
  return [chain.steep, chain.bed, chain.kiln].some((vessel) => vessel.id === vesselId);
}

function cleaningMinutes(vessel: Vessel, from: Crop, to: Crop): number {
  const change = vessel.changeOver.find((one) => one.from === from && one.to === to);
  return (change?.hours ?? vessel.cleaningHours) * 60;
}

function loadsOf(season: Season, run: RunFact): Load[] {
  const crop = season.lots.find((lot) => lot.id === run.draws[0]?.lotId)?.crop;
  if (crop === undefined) return [];
  return stageTimes(run).map(({ vesselId, from, to }) => ({
    vesselId,
    crop,
    from: instant(season.zone, from),
    to: instant(season.zone, to),
  }));
}
