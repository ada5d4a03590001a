import type { VNode } from "preact";
import type { OfferView } from "../_offers.ts";

/** What the place for offers holds. */
export interface OfferPartProps {
  /** The address of the season, such as /seasons/tern-and-furrow. */
  readonly season: string;
  readonly offer: OfferView | null;
}

/**
 * The place for a better plan that was found, below the line about the plan; empty while there is none. Its forms work without
 * scripts; with them the island LiveYear puts in what is offered next.
 */
export function OfferPart({ season, offer }: OfferPartProps): VNode {
  return (
    <div id="offer" data-offer={offer?.id ?? 0} aria-live="polite">
      {offer !== null && <Offer season={season} offer={offer} />}
    </div>
  );
}

function Offer({ season, offer }: { season: string; offer: OfferView }): VNode {
  const { id, gain, moves, summary, lines } = offer;
  return (
    <section class="offer" aria-label="A better plan">
      <p>
        <b>{gain}</b> {moves}
      </p>
      <Decision action={`${season}/offer/take`} id={id} label="Take it" />
      <Decision action={`${season}/offer/leave`} id={id} label="Leave it" />
      <details>
        <summary>What it would change</summary>
        <p>{summary.join(" ")}</p>
        <ul>{lines.map((line) => <li key={line}>{line}</li>)}</ul>
      </details>
    </section>
  );
}

function Decision({ action, id, label }: { action: string; id: number; label: string }): VNode {
  return (
    <form method="post" action={action}>
      <input type="hidden" name="offer" value={id} />
      <button type="submit">{label}</button>
    </form>
  );
}
