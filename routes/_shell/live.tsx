import type { ComponentChildren, VNode } from "preact";

/**
 * A part of a page that grows while something is worked out. The island LivePage fetches it anew when there is news; without
 * scripts the page is asked for again (see `againAfter`).
 */
export function Live({ season, isBusy, children }: {
  /** Such as /seasons/tern-and-furrow. */
  season: string;
  /** While something is being worked out, each news of the season may be what is waited for. */
  isBusy: boolean;
  children: ComponentChildren;
}): VNode {
  return (
    <div
      id="live"
      data-island="LivePage"
      data-props={JSON.stringify({ season })}
      data-busy={isBusy ? "" : undefined}
    >
      {children}
    </div>
  );
}
