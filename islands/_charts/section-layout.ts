import type { Year } from "../../core/year/year.ts";
import { AXIS_Y } from "./Axis.tsx";
import { type BrewsLayout, layoutBrews } from "./brews-layout.ts";
import { type FieldsLayout, layoutFields } from "./fields-layout.ts";
import { type Frame, frameOf, TIME_LEFT, WIDTH } from "./frame.ts";
import { layoutMalt, type MaltLayout } from "./malt-layout.ts";
import { layoutMalthouse, type MalthouseLayout } from "./malthouse-layout.ts";
import { layoutStores, type StoresLayout } from "./stores-layout.ts";

/** Where everything of the section stands. */
export interface SectionLayout {
  readonly frame: Frame;
  readonly fields: FieldsLayout;
  readonly stores: StoresLayout;
  readonly malthouse: MalthouseLayout;
  readonly malt: MaltLayout;
  readonly brews: BrewsLayout;
  readonly height: number;
}

/** Height at which the drawing stands whole in the first view of a laptop, under the sentence and above what is next. */
export const FIRST_VIEW = 632;
/** Heights that all bins and all malts together take when there is room, and what they may shrink to. */
const USUAL = { bins: 95, malts: 72 };
const LEAST = { bins: 58, malts: 38 };
/** They give way a little further where much is said: to the strip of what one more run is worth, or to many shortages. */
const LEAST_OF_ALL = { bins: 52, malts: 26 };

/** Puts the five bands under one another, in the order in which grain moves, and inside `height` while that can be. */
export function layoutSection(year: Year, width: number, height = FIRST_VIEW): SectionLayout {
  const usual = layoutWith(year, width, USUAL);
  const excess = usual.height - height;
  if (excess <= 0) return usual;
  const above = (least: typeof LEAST) =>
    layoutWith(year, width, {
      bins: Math.max(least.bins, USUAL.bins - excess * 0.55),
      malts: Math.max(least.malts, USUAL.malts - excess * 0.45),
    });
  const layout = above(LEAST);
  return layout.height <= height ? layout : above(LEAST_OF_ALL);
}

/**
 * The measures with which a year fills a sheet. What is too high for it is drawn on a wider ground of the same
 * proportion: all of it smaller, but the axis as long as the sheet.
 */
export function fitSheet(year: Year, width: number, height: number): { width: number; height: number } {
  const needs = layoutSection(year, width, height).height;
  if (needs <= height) return { width, height };
  // On the wider ground words need fewer lines, so what it needs is asked once more.
  const again = layoutSection(year, Math.round(width * needs / height), height).height;
  return { width: Math.round(width * Math.max(1, again / height)), height };
}

/** Most units across on a screen: more would make the type of a laptop's drawing smaller than eleven pixels. */
const WIDEST_VIEW = 1370;

/** The measures with which a year stands whole in the first view of a laptop, as far as its type allows. */
export function fitView(year: Year): { width: number; height: number } {
  const { width, height } = fitSheet(year, WIDTH, FIRST_VIEW);
  return { width: Math.min(width, WIDEST_VIEW), height };
}

function layoutWith(year: Year, width: number, heights: typeof USUAL): SectionLayout {
  const toDay = Math.max(year.lastDay + 1, year.firstDay + 7);
  const frame = frameOf(year.firstDay, toDay, Math.floor(year.asOf), TIME_LEFT, width);
  const fields = layoutFields(year, frame, AXIS_Y);
  const stores = layoutStores(year, frame, fields.bottom + 6, heights.bins);
  const malthouse = layoutMalthouse(year, frame, stores.bottom + 7);
  const malt = layoutMalt(year, frame, malthouse.bottom + 5, heights.malts);
  const brews = layoutBrews(year, frame, malt.bottom + 3);
  return { frame, fields, stores, malthouse, malt, brews, height: Math.ceil(brews.bottom + 2) };
}
