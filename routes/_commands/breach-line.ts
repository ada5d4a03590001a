import type { Breach } from "../_stub.ts";

/** A breach as one line for the terminal. */
export function breachLine({ message }: Breach): string {
  return `breach: ${message}`;
}
