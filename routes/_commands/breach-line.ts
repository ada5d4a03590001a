import type { Breach } from "../../core/audit/breach.ts";

/** A breach as one line for the terminal: the rule, the thing, the day, and what is wrong. */
export function breachLine({ rule, thing, on, message }: Breach): string {
  return `breach of ${rule}: ${on === null ? thing : `${thing}, ${on}`}: ${message}`;
}
