import type { Highs } from "highs";
import * as highsModule from "highs";

/** A HiGHS instance. The package's types describe a namespace where run time has the loader. */
export function loadHighs(): Promise<Highs> {
  const load = highsModule.default as unknown as typeof highsModule.default.default;
  return load();
}
