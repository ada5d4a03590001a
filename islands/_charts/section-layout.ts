import type { Year } from "../../core/year/year.ts";
import { AXIS_Y } from "./Axis.tsx";
import { type BrewsLayout, layoutBrews } from "./brews-layout.ts";
import { type FieldsLayout, layoutFields } from "./fields-layout.ts";
import { type Frame, frameOf, TIME_LEFT } from "./frame.ts";
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

/** Puts the five bands under one another, in the order in which grain moves. */
export function layoutSection(year: Year, width: number): SectionLayout {
  const toDay = Math.max(year.lastDay + 1, year.firstDay + 7);
  const frame = frameOf(year.firstDay, toDay, Math.floor(year.asOf), TIME_LEFT, width);
  const fields = layoutFields(year, frame, AXIS_Y);
  const stores = layoutStores(year, fields.bottom + 9);
  const malthouse = layoutMalthouse(year, frame, stores.bottom + 10);
  const malt = layoutMalt(year, malthouse.bottom + 8);
  const brews = layoutBrews(year, frame, malt.bottom + 4);
  return { frame, fields, stores, malthouse, malt, brews, height: Math.ceil(brews.bottom + 2) };
}
