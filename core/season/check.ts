import { dateOf, dayNumber, isLocalTime } from "../calendar.ts";
import { checkLotCycles, checkMaltCycles } from "./check/ancestry.ts";
import { checkBins } from "./check/bins.ts";
import type { Checking } from "./check/checking.ts";
import { checkHorizon, checkOpeningDates, checkRecordDates, checkSpan, checkYears } from "./check/dates.ts";
import { checkDeliveries } from "./check/deliveries.ts";
import { type Finding, finding, shown, type Tell } from "./check/finding.ts";
import { checkGaps } from "./check/gaps.ts";
import { checkIds } from "./check/ids.ts";
import { checkLots } from "./check/lots.ts";
import { checkOrder } from "./check/order.ts";
import { checkArrivals, checkBookedRuns, checkOverdue } from "./check/overdue.ts";
import { checkReferences, checkRunVessels } from "./check/references.ts";
import { checkAreas, checkRotation } from "./check/rotation.ts";
import { salvage } from "./check/salvage.ts";
import { tellShape } from "./check/shape.ts";
import { checkSeed } from "./check/seed.ts";
import { checkStock } from "./check/stock.ts";
import * as values from "./check/values.ts";
import { type Season, seasonSchema } from "./season.ts";

export type { Finding } from "./check/finding.ts";

/** Settings of a check. */
export interface CheckOptions {
  /** The minute to check for, local on the farm; left out, the file's `fixedAsOf`, else its `asOf`. */
  readonly asOf?: string;
}

/** What a check gives. */
export interface SeasonCheck {
  /** The season, if it may be planned: null as soon as one finding is an error. */
  readonly season: Season | null;
  readonly findings: readonly Finding[];
}

/**
 * Checks whether a value is a season that can be planned, and gives all findings at once, errors first. Never throws. When
 * the shape of some rows is wrong, the others are still checked row by row; what asks for the whole season waits.
 */
export function checkSeason(input: unknown, options: CheckOptions = {}): SeasonCheck {
  const findings: Finding[] = [];
  const tell: Tell = (code, path, words) => findings.push(finding(input, code, path, words));
  try {
    const season = judge(input, options, tell);
    findings.sort((a, b) => Number(a.level === "warning") - Number(b.level === "warning"));
    return { season: findings.some((one) => one.level === "error") ? null : season, findings };
  } catch (error) {
    // Only a value that is no plain data gets here, such as one whose fields throw when they are read.
    const words = {
      value: "cannot be read",
      limit: "a season file",
      message: `This cannot be read as a season: ${error instanceof Error ? error.message : shown(error)}.`,
      wayOut: "Choose a season file.",
    };
    return { season: null, findings: [finding(null, "not-a-season", [], words)] };
  }
}

function judge(input: unknown, options: CheckOptions, tell: Tell): Season | null {
  if (typeof input !== "object" || input === null || Array.isArray(input)) {
    tell("not-a-season", [], {
      limit: "a group of fields in braces",
      message: "This is not a season.",
      wayOut: "Choose a season file.",
    });
    return null;
  }
  if (!isThisFormat(input, tell)) return null;
  const parsed = seasonSchema.safeParse(input);
  if (!parsed.success) {
    tellShape(input, parsed.error.issues, tell);
    const rest = salvage(input, parsed.error.issues);
    if (rest !== null) {
      const tellInFile: Tell = (code, path, words) => tell(code, rest.inFile(path), words);
      checkRows(checkingOf(rest.season, options, tellInFile), rest.lost);
    }
    return null;
  }
  const season = parsed.data;
  const checking = checkingOf(season, options, tell);
  if (!checkYears(season, checking.tell)) return null;
  checkRows(checking, new Set());
  checkWhole(checking);
  return season;
}

function checkingOf(season: Season, options: CheckOptions, tell: Tell): Checking {
  const asked = options.asOf ?? season.fixedAsOf ?? season.asOf;
  const asOf = isLocalTime(asked) ? asked : season.asOf;
  return { season, asOf, today: dayNumber(dateOf(asOf)), tell };
}

/** What can be said of a row by itself, or of a name and what it names. */
function checkRows(checking: Checking, lost: ReadonlySet<string>): void {
  checkIds(checking);
  checkReferences(checking, lost);
  checkRunVessels(checking);
  checkOrder(checking);
  values.checkShares(checking);
  values.checkImpossible(checking);
  values.checkShelfLife(checking);
  values.checkAdjustments(checking);
  values.checkCrops(checking);
  checkDeliveries(checking);
  values.checkPlausible(checking);
}

/** What can be said only of a season that is complete. */
function checkWhole(checking: Checking): void {
  checkSpan(checking);
  checkHorizon(checking);
  checkOpeningDates(checking);
  checkRecordDates(checking);
  checkLotCycles(checking);
  checkMaltCycles(checking);
  checkStock(checking);
  checkSeed(checking);
  checkRotation(checking);
  checkAreas(checking);
  checkLots(checking);
  checkArrivals(checking);
  checkOverdue(checking);
  checkBookedRuns(checking);
  checkGaps(checking);
  checkBins(checking);
}

/** Format and version come first: of another kind of file nothing else is worth saying. */
function isThisFormat(input: object, tell: Tell): boolean {
  const { format, version } = input as { format?: unknown; version?: unknown };
  if (format !== "rickyard-season") {
    tell("wrong-format", ["format"], {
      limit: "rickyard-season",
      message: format === "rickyard-plan" ? "This is a plan, not a season." : "This is not a season file.",
      wayOut: 'Choose a season file; it says "format": "rickyard-season" at its top.',
    });
    return false;
  }
  if (typeof version !== "number" || version === 1) return true;
  const newer = version > 1;
  tell(newer ? "newer-version" : "older-version", ["version"], {
    limit: "1",
    message: newer
      ? "This season was written by a newer version of the program."
      : "No version of the program ever wrote this.",
    wayOut: newer
      ? "Update the program, or export the season from there as version 1."
      : "Choose a file of version 1.",
  });
  return false;
}
