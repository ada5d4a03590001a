/** How the commands end. Scripts rely on these numbers; README.md lists them. */
export const EXIT = {
  /** The plan is made, or holds. */
  clean: 0,
  /** `plan`: the season has errors, which are printed. */
  seasonErrors: 1,
  /** `verify`: the plan breaks rules, which are printed. */
  breaches: 1,
  /** `backup`, `restore`: the store, the file or the disk is in trouble, or a server is running. It is printed. */
  storeTrouble: 1,
  /** `plan`: the auditor refused the plan, so none was written. */
  refused: 2,
  /** `verify`: the plan holds, but what another version proved about better plans cannot be recomputed by this one. */
  unchecked: 2,
  /** A file cannot be read, the command was used wrongly, or the plan is not of this season. */
  wrongUse: 3,
  /** The command was stopped, or failed through its own fault. */
  broken: 4,
} as const;

/** Ends the command with a number of EXIT and a reason for a person. */
export class Stop extends Error {
  constructor(readonly exit: number, message: string) {
    super(message);
  }
}

/**
 * Runs a command, prints why it ended on standard error, and ends the process with its number. `stopped` is said when
 * somebody stops it.
 */
export async function runCommand(
  command: (args: string[]) => Promise<number>,
  stopped = "Stopped. Nothing was written.",
): Promise<never> {
  for (const signal of ["SIGINT", "SIGTERM"] as const) {
    Deno.addSignalListener(signal, () => {
      console.error(stopped);
      Deno.exit(EXIT.broken);
    });
  }
  try {
    Deno.exit(await command(Deno.args));
  } catch (error) {
    if (error instanceof Stop) {
      console.error(error.message);
      Deno.exit(error.exit);
    }
    console.error("The program made a mistake of its own. Please report what follows.");
    console.error(error);
    Deno.exit(EXIT.broken);
  }
}
