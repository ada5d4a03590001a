import type { Assets } from "./_shell/assets.ts";
import type { Asker } from "./_solver/asker.ts";
import type { Bell } from "./_solver/bell.ts";
import type { Looker } from "./_solver/looking.ts";
import type { Explainer } from "./_solver/explainer.ts";
import type { Solver } from "./_solver/solver.ts";
import type { CopyKeeper } from "./_store/copy-keeper.ts";
import type { Store } from "./_store/open.ts";

/** What the addresses are given to work with. Only _main.ts opens these, and tests open their own. */
export interface Parts {
  readonly store: Store;
  /** The copies of the store. */
  readonly copies: CopyKeeper;
  readonly solver: Solver;
  /** Looks for better plans while the solver has nothing to do. */
  readonly looker: Looker;
  /** Works out what limits a plan and what would help. */
  readonly explainer: Explainer;
  /** Answers questions that take planning another season. */
  readonly asker: Asker;
  /** Rings when something about a season's plan has changed. */
  readonly bell: Bell;
  readonly assets: Assets;
  readonly now: () => Date;
}
