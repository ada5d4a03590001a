import { describe, expect, test } from "vitest";
import { addDays, dayNumber, isoDate, minuteOf, weekday } from "../../../core/calendar.ts";
import { addElapsedHours } from "../../../core/zone.ts";
import { MICRO_THEMES } from "../../../core/generate/micro-frame.ts";
import { microSeason } from "../../../core/generate/micro.ts";
import { canonicalJson } from "../../../core/season/canonical.ts";
import { checkSeason } from "../../../core/season/check.ts";
import { lotClock } from "../../../core/season/clocks.ts";
import { forecastFills } from "../../../core/season/forecast.ts";
import type { HandOver, Profile } from "../../../core/season/malthouse.ts";
import type { Season } from "../../../core/season/season.ts";

const SEEDS = Array.from({ length: 200 }, (_, seed) => seed);
const seasons = SEEDS.map((seed) => microSeason(seed));
const themed = (theme: (typeof MICRO_THEMES)[number]) =>
  SEEDS.slice(0, 60).map((seed) => microSeason(seed, theme));

/** True when a hand-over may happen at a minute, by the season's roster: a naive reading of the rule. */
function staffed(season: Season, handOver: HandOver, local: string): boolean {
  const date = local.slice(0, 10), time = local.slice(11);
  if (
    season.roster.closed.some((row) => row.handOvers.includes(handOver) && row.from <= date && date <= row.to)
  ) {
    return false;
  }
  return season.roster.weekly.some((row) =>
    row.handOvers.includes(handOver) && row.weekdays.includes(weekday(dayNumber(date))) &&
    row.from <= time && time <= row.to
  );
}

/** Days on which a steep may start. */
function startDays(season: Season): string[] {
  const first = dayNumber(season.asOf.slice(0, 10)) + season.roster.heldDays;
  return Array.from({ length: 126 }, (_, index) => isoDate(first + index))
    .filter((date) =>
      season.roster.steepInTimes.some((time) => staffed(season, "steepIn", `${date}T${time}`))
    );
}

/** True when some whole hours inside a profile's limits meet staffed minutes from a start to the strip. */
function canFinish(season: Season, profile: Profile, steepIn: string): boolean {
  const reach = (from: string, { least, greatest }: Profile["steep"], handOver: HandOver) =>
    Array.from(
      { length: Math.floor(greatest - least) + 1 },
      (_, more) => addElapsedHours(season.zone, from, least + more),
    )
      .filter((local) => staffed(season, handOver, local));
  return reach(steepIn, profile.steep, "castToBed").some((cast) =>
    reach(cast, profile.bed, "kilnLoading").some((load) => reach(load, profile.kiln, "strip").length > 0)
  );
}

describe("micro seasons", () => {
  test("can all be planned, and say that they are made", () => {
    for (const season of seasons) {
      expect(checkSeason(season).findings.filter((one) => one.level === "error")).toEqual([]);
      expect(checkSeason(season).findings.map((one) => one.code)).not.toContain("implausible");
      expect(season.about).toContain("invented");
    }
  });

  test("are the same for the same seed and differ between seeds", () => {
    expect(canonicalJson(microSeason(5))).toBe(canonicalJson(microSeason(5)));
    expect(new Set(seasons.map(canonicalJson)).size).toBe(seasons.length);
  });

  test("are small enough to try every plan", () => {
    for (const season of seasons) {
      expect(season.lots).toHaveLength(2);
      expect(season.maltTypes).toHaveLength(2);
      expect(season.brews).toHaveLength(4);
      expect(season.vessels.map((vessel) => vessel.stages)).toEqual([["steep"], ["bed"], ["kiln"]]);
      expect(dayNumber(season.horizonEnd) - dayNumber(season.asOf.slice(0, 10))).toBe(42);
      expect(startDays(season).length).toBeGreaterThanOrEqual(1);
      expect(startDays(season).length).toBeLessThanOrEqual(5);
      for (const brew of season.brews) {
        const days = dayNumber(brew.latest) - dayNumber(brew.earliest) + 1;
        expect(days).toBeGreaterThanOrEqual(1);
        expect(days).toBeLessThanOrEqual(3);
        expect(season.brewhouse.brewWeekdays).toContain(weekday(dayNumber(brew.on)));
        expect(brew.latest <= season.horizonEnd).toBe(true);
      }
    }
  });

  test("let home malt reach a brew in most seasons", () => {
    const reaching = seasons.filter((season) =>
      season.maltTypes.some((malt) => {
        if (malt.made.from !== "grain") return false;
        const { profiles } = malt.made;
        return startDays(season).some((date) => {
          const profile = profiles.find((one) => canFinish(season, one, `${date}T08:00`));
          if (profile === undefined) return false;
          const hours = profile.steep.usual + profile.bed.usual + profile.kiln.usual;
          const ready = addDays(date, Math.ceil(hours / 24) + malt.restDays);
          return season.brews.some((brew) => ready <= brew.latest);
        });
      })
    );
    expect(reaching.length).toBeGreaterThan(0.9 * seasons.length);
  });

  test("start on a clock minute that the roster knows", () => {
    for (const season of seasons) expect(minuteOf(season.asOf)).toBe(360);
  });

  test("come in every theme, and each theme has its limit", () => {
    expect(new Set(seasons.map((season) => /limit "(.*)"/.exec(season.about)?.[1]))).toEqual(
      new Set(MICRO_THEMES),
    );
    const first = (season: Season) => lotClock(season, season.lots[0]!, season.maltTypes[0]!, season.asOf);
    const now = (season: Season) => dayNumber(season.asOf.slice(0, 10));
    for (const season of themed("too old")) expect(first(season).lastDay - now(season)).toBeLessThan(40);
    for (const season of themed("awaiting")) expect(first(season).firstDay! - now(season)).toBeGreaterThan(3);
    for (const season of themed("asleep")) {
      const second = lotClock(season, season.lots[1]!, season.maltTypes[1]!, season.asOf);
      expect(second.firstDay! - now(season)).toBeGreaterThan(4);
    }
    for (const season of themed("bins")) {
      expect(forecastFills(season, season.asOf)).toHaveLength(1);
      expect(new Set(season.opening.grain.map((row) => row.storeId)).size).toBe(season.stores.length);
    }
    for (const season of themed("tanks")) expect(season.tanks).toHaveLength(1);
    for (const season of themed("malt store")) expect(season.maltStore.places).toBeLessThan(4);
    for (const season of themed("grain")) {
      expect(season.opening.grain[0]!.massG).toBeLessThanOrEqual(
        1.7 * season.vessels[1]!.loadLimits[0]!.greatestG,
      );
    }
  });
});
