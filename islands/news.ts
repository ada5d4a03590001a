/** What the server says about a season. A changed `version` means that the year looks different now. */
export interface SeasonNews {
  readonly version: string;
  readonly planning: boolean;
  /** One sentence for the line that says how the plan stands. */
  readonly says: string;
  readonly done: number;
  readonly of: number;
  /** The goals of the best plan in the making, in words; empty while there is none. */
  readonly best: string;
  /** How far the looking for a better plan has come, in words; empty while nothing is looked for. */
  readonly looking: string;
  /** The better plan that is offered, by its number; 0 for none. */
  readonly offer: number;
  /** The season's revision, which grows by one at each edit. */
  readonly revision: number;
  /** The latest edit in a sentence, with who made it and when. */
  readonly latest: string;
}

/** Told when news have come, and when the connection has come back. */
type Listener = (news: SeasonNews) => void;

let listening: { season: string; listeners: Set<Listener> } | null = null;

/** Calls `listener` at each news of a season. All islands of a page share one connection; a browser allows few. */
export function followSeason(season: string, listener: Listener): void {
  if (listening?.season === season) {
    listening.listeners.add(listener);
    return;
  }
  const listeners = new Set([listener]);
  listening = { season, listeners };
  const source = new EventSource(`${season}/events`);
  source.addEventListener("plan", (event: MessageEvent<string>) => {
    const news = JSON.parse(event.data) as SeasonNews;
    listeners.forEach((one) => one(news));
  });
  // A page that is left must not hold its connection.
  addEventListener("pagehide", () => source.close());
  addEventListener("pageshow", (event) => (event as PageTransitionEvent).persisted && location.reload());
}
