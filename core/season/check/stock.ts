import { capacityKg, levelVolumeL } from "../../physics/bin-capacity.ts";
import type { Lot, Store } from "../grain.ts";
import type { Checking } from "./checking.ts";
import type { Path } from "./finding.ts";
import { type Account, type Ledger, ledger } from "./ledger.ts";

/** Part of what came in that book and scales may differ by before somebody has to say why. */
const BOOK_TOLERANCE = 0.001;
const G_PER_KG = 1000;

/** A store's contents: which lots, and how much of each. */
type Contents = readonly { readonly lotId: string; readonly massG: number }[];

/** What the stores hold at the opening position and at as-of: one lot a bin, no more than fits, no less than nothing. */
export function checkStock(checking: Checking): void {
  const { season, tell } = checking;
  const book = ledger(checking);
  const twice = new Set<string>();
  for (const [i, row] of season.opening.grain.entries()) {
    const path = ["opening", "grain", i];
    const earlier = season.opening.grain.slice(0, i).filter((other) => other.lotId === row.lotId);
    if (earlier.some((other) => other.storeId === row.storeId)) {
      twice.add(row.storeId);
      tell("lot-twice-in-store", path, {
        value: `lot ${row.lotId} in store ${row.storeId}`,
        limit: "one entry for a lot in a store",
        message: "This lot is entered twice in the same store.",
        wayOut: "Take one entry out, or add the two weights.",
      });
    } else if (earlier.some((other) => other.massG === row.massG && row.massG > 0)) {
      tell("same-weight-twice", [...path, "massG"], {
        limit: "the weight in this store alone",
        message:
          `Lot ${row.lotId} has exactly the same weight in two stores, as if all of it had been entered in both.`,
        wayOut:
          "Enter in each store only what lies there. If the two really are alike, weigh or estimate one anew: to the gram they are not.",
      });
    }
  }
  for (const [i, store] of season.stores.entries()) {
    // A lot entered twice is counted twice, and nothing about its store can be said before that is mended.
    if (twice.has(store.id)) continue;
    const opened = season.opening.grain.filter((row) => row.storeId === store.id);
    const now = contentsNow(book, store.id);
    const wrong = checkContents(checking, ["stores", i], store, opened, "at the opening position");
    if (!wrong) checkContents(checking, ["stores", i], store, now, "at as-of");
  }
  for (const account of [...book.grain.values(), ...book.malt.values()]) checkUse(checking, account);
}

function contentsNow(book: Ledger, storeId: string): Contents {
  return [...book.grain.values()].flatMap((account) =>
    account.storeId === storeId && account.balanceG > account.inG * BOOK_TOLERANCE
      ? [{ lotId: account.lotId, massG: account.balanceG }]
      : []
  );
}

/** True when something about the contents is wrong. */
function checkContents(
  { season, tell }: Checking,
  path: Path,
  store: Store,
  contents: Contents,
  when: string,
): boolean {
  const present = contents.filter((row) => row.massG > 0);
  const lotIds = [...new Set(present.map((row) => row.lotId))];
  if (store.kind === "bin" && lotIds.length > 1) {
    tell("two-lots-in-bin", path, {
      value: lotIds.join(" and "),
      limit: "one lot in a bin",
      message: `${store.name} holds more than one lot ${when}.`,
      wayOut:
        "If they were tipped together, record a mix: they are one lot now. Otherwise correct the store.",
    });
    return true;
  }
  const lots = new Map(season.lots.map((lot) => [lot.id, lot]));
  const used = present.reduce((sum, row) => {
    const lot = lots.get(row.lotId);
    return lot === undefined ? sum : sum + shareOfStore(store, lot, row.massG);
  }, 0);
  if (used <= (store.kind === "bags" ? store.places : 1)) return false;
  tell("store-over-capacity", path, {
    value: store.kind === "bags" ? `${used} places` : `${Math.round(used * 100)} % full`,
    limit: store.kind === "bags" ? `${store.places} places` : "100 %, at the lot's test weight",
    message: `${store.name} holds more than fits ${when}.`,
    wayOut: "Correct the weight, the size of the store, or the lot's test weight.",
  });
  return true;
}

/** Part of a bin, or number of bag places, that a weight of a lot takes. */
export function shareOfStore(store: Store, lot: Lot, massG: number): number {
  const volumeL = store.kind === "bags"
    ? store.placeVolumeL
    : store.shape.kind === "volume"
    ? store.shape.volumeL
    : levelVolumeL(store.shape.diameterM, store.shape.depthM);
  const oneG = capacityKg(volumeL, lot.testWeightKgPerHl) * G_PER_KG;
  // A store without volume is found by itself.
  if (oneG === 0) return 0;
  return store.kind === "bags" ? Math.ceil(massG / oneG) : massG / oneG;
}

function checkUse({ tell }: Checking, account: Account): void {
  if (account.balanceG >= -account.inG * BOOK_TOLERANCE || account.lastUse === undefined) return;
  const overKg = Math.round(-account.balanceG / G_PER_KG);
  tell("used-over-stock", account.lastUse, {
    value: `${overKg} kg too much of ${account.key}`,
    limit: "the book stock, to 0.1 %",
    message: `The records take ${overKg} kg more of ${account.key} than the book ever had.`,
    wayOut: "Record an adjustment with its reason, or correct the weights.",
  });
}
