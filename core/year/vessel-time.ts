import type { GapCause, VesselRow } from "./malthouse-band.ts";
import type { Year } from "./year.ts";

/** Shares of a vessel's time from as-of to the last day shown; together they are one. */
export interface VesselTime {
  /** A load lies in it. */
  readonly loaded: number;
  /** Between two loads, where no further run would fit, by what keeps it out. */
  readonly blocked: Readonly<Record<GapCause, number>>;
  /** A further run could lie there. */
  readonly open: number;
}

/** How the time of a vessel is spent that lies ahead; null when nothing lies ahead, or when its gaps are not told. */
export function vesselTime({ malthouse, asOf, lastDay }: Year, vessel: VesselRow): VesselTime | null {
  const to = lastDay + 1;
  const whole = to - asOf;
  if (whole <= 0 || vessel.gaps.length === 0) return null;
  const inside = (start: number, end: number) => Math.max(0, Math.min(end, to) - Math.max(start, asOf));
  const loads = malthouse.runs.flatMap(({ stages }) =>
    stages.filter(({ vesselId }) => vesselId === vessel.id)
  );
  const loaded = loads.reduce((sum, { start, end }) => sum + inside(start, end), 0) / whole;
  const blocked = (cause: GapCause) =>
    vessel.gaps.filter((gap) => gap.cause === cause).reduce(
      (sum, gap) => sum + inside(gap.start, gap.end),
      0,
    ) /
    whole;
  const causes = {
    "too short": blocked("too short"),
    "nobody there": blocked("nobody there"),
    closed: blocked("closed"),
    taken: blocked("taken"),
  };
  const rest = Object.values(causes).reduce((sum, share) => sum - share, 1 - loaded);
  return { loaded, blocked: causes, open: Math.max(0, rest) };
}
