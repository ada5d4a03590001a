import type { VNode } from "preact";
import { c, type Frame } from "./frame.ts";

/** What will stand in a band that has nothing in it yet. */
export function Empty({ words, y, frame }: { words: string; y: number; frame: Frame }): VNode {
  return <text class="quiet" x={frame.left + 8} y={c(y)}>{words}</text>;
}
