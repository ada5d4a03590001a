/**
 * Version of the program that stands in a plan file. A proof in a plan names rows of the bound's model by number, so it is raised
 * whenever these change: only the version that wrote a proof can recompute it.
 */
export const PROGRAM = "0.2.0";
