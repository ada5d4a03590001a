import type { Store } from "./open.ts";

/** Runs `work` in one transaction: all of it is stored, or nothing when it throws. One that runs already is joined. */
export function inTransaction<Result>(store: Store, work: () => Result): Result {
  if (store.isTransaction) return work();
  store.exec("BEGIN IMMEDIATE");
  try {
    const result = work();
    store.exec("COMMIT");
    return result;
  } catch (error) {
    if (store.isTransaction) store.exec("ROLLBACK");
    throw error;
  }
}
