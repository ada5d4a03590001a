import type { Candidate } from "../search/candidate.ts";
import { chooseRuns } from "../search/choose-runs.ts";
import type { Finishing } from "../search/finish.ts";
import { neighbours, signature } from "../search/polish.ts";

/** Exact weighings a small season may cost. */
const EXACT_TRIES = 600;
/** Sets of runs the allocation model proposes for a small season. */
const PROPOSALS = 2;

/** What is to be polished, and where better candidates go. */
export interface Polished {
  /** The best candidate so far. */
  best: () => Candidate;
  /** Weighs and audits a candidate; true where it is the best now. */
  offer: (candidate: Candidate) => boolean;
  stopped: () => boolean;
}

/** A small season is weighed exactly many times: first the candidates of the searches, then every step around the best, until none helps. */
export function polishSmall(
  { problem, evaluator, highs, tanks }: Finishing,
  found: readonly Candidate[],
  { best, offer, stopped }: Polished,
): void {
  const seen = new Set<string>();
  let left = EXACT_TRIES;
  const attempt = (candidate: Candidate) => {
    const name = signature(candidate);
    if (seen.has(name) || left <= 0 || stopped()) return false;
    seen.add(name);
    left--;
    return offer(candidate);
  };
  for (const one of found) attempt(one);
  const input = { problem, evaluator, evaluation: evaluator.evaluate(best(), 1), tanks };
  if (highs && !stopped()) {
    for (const candidate of chooseRuns(highs, input, best(), PROPOSALS)) attempt(candidate);
  }
  for (let improved = true; improved && left > 0;) {
    improved = false;
    for (const candidate of neighbours(problem, tanks, best())) if (attempt(candidate)) improved = true;
  }
}
