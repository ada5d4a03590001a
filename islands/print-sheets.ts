/** How long a year has to stand unchanged before its sheets are fetched. */
const SETTLED_MS = 1500;

/**
 * Keeps the two sheets of the year beside it, unseen, so that printing the page prints them. They are fetched when the
 * year has settled, because a drawing for paper is as large as the one on the screen and most people never print.
 */
export class PrintSheets {
  readonly #year: Element;
  readonly #season: string;
  #timer: ReturnType<typeof setTimeout> | undefined;

  constructor(year: Element, season: string) {
    this.#year = year;
    this.#season = season;
  }

  /** The year looks different now: sheets of the one before would be wrong, so they go at once. */
  renew(): void {
    clearTimeout(this.#timer);
    this.#old()?.remove();
    this.#timer = setTimeout(() => this.#fetch(), SETTLED_MS);
  }

  async #fetch(): Promise<void> {
    const answer = await fetch(`${this.#season}/print`).catch(() => null);
    // Without them the printed page says where they stand.
    if (answer === null || !answer.ok) return;
    const sheets = new DOMParser().parseFromString(await answer.text(), "text/html").querySelector(".sheets");
    if (sheets === null) return;
    sheets.classList.add("for-print");
    this.#old()?.remove();
    this.#year.after(document.adoptNode(sheets));
  }

  #old(): Element | null {
    return document.querySelector(".for-print");
  }
}
