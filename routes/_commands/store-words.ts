import { folderTrouble, inWords } from "../_store/trouble.ts";
import { EXIT, Stop } from "./exit.ts";

/** Does `work`; what the disk or the store has against it stops the command, in words. `where` is told too. */
export async function toldInWords<Result>(where: string, work: () => Promise<Result>): Promise<Result> {
  try {
    return await work();
  } catch (error) {
    const found = folderTrouble(error, where);
    if (found === null) throw error;
    throw new Stop(EXIT.storeTrouble, inWords(found.trouble));
  }
}
