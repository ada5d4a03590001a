import type { Year } from "../../core/year/year.ts";
import { AXIS_Y } from "./Axis.tsx";
import { type BrewsLayout, layoutBrews } from "./brews-layout.ts";
import { type FieldsLayout, layoutFields } from "./fields-layout.ts";
import { type Frame, frameOf } from "./frame.ts";
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

/** Days a shorter window shows, and how many of them lie before today. */
const WINDOW = { days: 18 * 7, before: 4 * 7 };

/**
 * Puts the five bands under one another, in the order in which grain moves. `window` is the whole year, or for a
 * narrow screen the eighteen weeks around today.
 */
export function layoutSection(year: Year, window: "year" | "weeks" = "year", right?: number): SectionLayout {
  const today = Math.floor(year.asOf);
  const last = year.lastDay + 1;
  const from = window === "year" ? year.firstDay : Math.max(year.firstDay, Math.min(today - WINDOW.before, last - WINDOW.days));
  const to = window === "year" ? last : Math.min(last, from + WINDOW.days);
  const frame = frameOf(from, Math.max(to, from + 7), today, undefined, right);
  const fields = layoutFields(year, frame, AXIS_Y);
  const stores = layoutStores(year, fields.bottom + 9);
  const malthouse = layoutMalthouse(year, frame, stores.bottom + 10);
  const malt = layoutMalt(year, malthouse.bottom + 8);
  const brews = layoutBrews(year, frame, malt.bottom + 4);
  return { frame, fields, stores, malthouse, malt, brews, height: Math.ceil(brews.bottom + 2) };
}
