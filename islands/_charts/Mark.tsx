import type { ComponentChildren, VNode } from "preact";

/**
 * A thing of the drawing that can be pointed at or stepped to. `node` is its id in the trace; `says` is its whole
 * name, which is also what stands where a label had to be cut short. Only one mark of the section is a tab stop; the
 * arrow keys lead to the others.
 */
export function Mark({ node, says, kind, children }: {
  node: string;
  says: string;
  /** Class that tells how the mark looks: its kind and its state. */
  kind?: string;
  children?: ComponentChildren;
}): VNode {
  return (
    <g
      class={kind === undefined ? "mark" : `mark ${kind}`}
      data-node={node}
      role="button"
      tabindex={-1}
      aria-label={says}
    >
      {children}
    </g>
  );
}
