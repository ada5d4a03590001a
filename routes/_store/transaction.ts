import type { Store } from "./open.ts";

/** Runs `work` in one transaction: all of it is stored, or nothing when it throws. */
export function inTransaction<Result>(store: Store, work: () => Result): Result {
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
