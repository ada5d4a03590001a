import { HAND_OVERS, type HandOver } from "../malthouse.ts";
import type { Checking } from "./checking.ts";
import type { FindingCode } from "./codes.ts";
import type { Path } from "./finding.ts";

type Step = readonly [name: string, value: string | number | undefined];

/** Names in time order of the fields that hold a run's four hand-overs. */
const RUN_MINUTES: Readonly<Record<HandOver, "steepInAt" | "castAt" | "kilnAt" | "stripAt">> = {
  steepIn: "steepInAt",
  castToBed: "castAt",
  kilnLoading: "kilnAt",
  strip: "stripAt",
};

/** Whatever has a least and a greatest, or a first and a last, has them in that order. */
export function checkOrder({ season, tell }: Checking): void {
  /** Steps that are left out are passed over; equal ones are in order unless `apart`. */
  const inOrder = (code: FindingCode, path: Path, steps: readonly Step[], apart = false) => {
    const known = steps.filter(([, value]) => value !== undefined) as [string, string | number][];
    for (const [index, [name, value]] of known.entries()) {
      const before = known[index - 1];
      if (before === undefined || before[1] < value || (before[1] === value && !apart)) continue;
      tell(code, [...path, name], {
        value,
        limit: `${apart ? "after" : "not before"} ${before[0]}, ${before[1]}`,
        message: `"${name}" (${value}) comes before "${before[0]}" (${before[1]}).`,
        wayOut: "Correct one of the two.",
      });
    }
  };
  const window = (path: Path, row: { from: string; to: string }, apart = false) =>
    inOrder("window-upside-down", path, [["from", row.from], ["to", row.to]], apart);
  const pick = <K extends string>(row: { readonly [P in K]?: Step[1] }, ...names: K[]) =>
    names.map((name): Step => [name, row[name]]);

  season.plantings.forEach((planting, i) => {
    const path = ["plantings", i];
    inOrder("spread-upside-down", [...path, "harvest"], pick(planting.harvest, "early", "likely", "late"));
    inOrder(
      "window-upside-down",
      path,
      [["drillOn", planting.drillOn], ["harvest", planting.harvest.early]],
      true,
    );
    inOrder(
      "spread-upside-down",
      [...path, "restAfterHarvestDays"],
      pick(planting.restAfterHarvestDays, "early", "likely", "late"),
    );
    inOrder(
      "spread-upside-down",
      [...path, "yieldKgPerHa"],
      pick(planting.yieldKgPerHa, "bad", "likely", "good"),
    );
  });
  season.lots.forEach((lot, i) => {
    if (lot.wakesOn !== undefined) {
      inOrder("spread-upside-down", ["lots", i, "wakesOn"], pick(lot.wakesOn, "early", "likely", "late"));
    }
    lot.analyses.forEach((analysis, j) => {
      const path = ["lots", i, "analyses", j];
      inOrder("window-upside-down", path, pick(analysis, "sampledOn", "resultOn"));
      inOrder("window-upside-down", path, pick(analysis, "sampledOn", "expectedOn"));
    });
  });
  season.vessels.forEach((vessel, i) => {
    vessel.closures.forEach((row, j) => window(["vessels", i, "closures", j], row, true));
    vessel.loadLimits.forEach((row, j) =>
      inOrder("load-limits-upside-down", ["vessels", i, "loadLimits", j], pick(row, "leastG", "greatestG"))
    );
  });
  season.tanks.forEach((tank, i) =>
    tank.closures.forEach((row, j) => window(["tanks", i, "closures", j], row, true))
  );
  season.people.forEach((person, i) =>
    person.away.forEach((row, j) => window(["people", i, "away", j], row))
  );
  season.roster.weekly.forEach((row, i) => window(["roster", "weekly", i], row));
  season.roster.extra.forEach((row, i) => window(["roster", "extra", i], row));
  season.roster.closed.forEach((row, i) => window(["roster", "closed", i], row));
  season.brewhouse.closed.forEach((row, i) => window(["brewhouse", "closed", i], row));
  season.supplyOffers.forEach((row, i) => window(["supplyOffers", i], row));
  season.maltTypes.forEach((malt, i) => {
    const path = ["maltTypes", i, "made"];
    if (malt.made.from === "malt") {
      inOrder("load-limits-upside-down", path, pick(malt.made, "leastG", "greatestG"));
    }
    if (malt.made.from !== "grain") return;
    malt.made.profiles.forEach((profile, j) => {
      for (const stage of ["steep", "bed", "kiln"] as const) {
        const steps = pick(profile[stage], "least", "usual", "greatest");
        inOrder("profile-upside-down", [...path, "profiles", j, stage], steps);
      }
    });
  });
  season.brews.forEach((brew, i) =>
    inOrder("window-upside-down", ["brews", i], pick(brew, "earliest", "on", "latest"))
  );
  season.contracts.forEach((row, i) => {
    if (row.kind !== "buy-grain") window(["contracts", i], row);
  });
  season.feedPickups.forEach((row, i) => {
    window(["feedPickups", i], row);
    inOrder("load-limits-upside-down", ["feedPickups", i], pick(row, "leastG", "greatestG"));
  });
  season.opening.malt.forEach((batch, i) =>
    inOrder("window-upside-down", ["opening", "malt", i], pick(batch, "madeOn", "readyOn", "bestBefore"))
  );
  for (const part of ["records", "bookings"] as const) {
    season[part].runs.forEach((run, i) =>
      inOrder(
        "window-upside-down",
        [part, "runs", i],
        pick(run, ...HAND_OVERS.map((one) => RUN_MINUTES[one])),
        true,
      )
    );
    season[part].orders.forEach((order, i) =>
      inOrder("window-upside-down", [part, "orders", i], pick(order, "orderedOn", "arrivesOn"))
    );
  }
}
