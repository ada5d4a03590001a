/** Version of the program that stands in a plan file. */
export const PROGRAM = "0.1.0";
