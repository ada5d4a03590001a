import type { Season } from "../season/season.ts";
import type { Stopped } from "../year/stopped.ts";

/** Extra hours, closed days, absences and closures that are not over yet. */
export function withoutDaysOver(
  { season, at, date }: Stopped,
): Pick<Season, "roster" | "people" | "vessels" | "tanks" | "brewhouse"> {
  const isToCome = (one: { readonly to: string }) => one.to >= date;
  // A closure ends with the minute from which the thing can be used again.
  const closuresToCome = <T extends { readonly closures: readonly { readonly to: string }[] }>(
    one: T,
  ): T => ({
    ...one,
    closures: one.closures.filter((closure) => closure.to > at),
  });
  const { roster, brewhouse } = season;
  return {
    roster: {
      ...roster,
      extra: roster.extra.filter((one) => one.on >= date),
      closed: roster.closed.filter(isToCome),
    },
    people: season.people.map((one) => ({ ...one, away: one.away.filter(isToCome) })),
    vessels: season.vessels.map(closuresToCome),
    tanks: season.tanks.map(closuresToCome),
    brewhouse: { ...brewhouse, closed: brewhouse.closed.filter(isToCome) },
  };
}
