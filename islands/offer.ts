import { holdFocus, holdOpen } from "./_focus.ts";

/** The place on the year page in which a better plan is offered. It follows the offers by their numbers. */
export class OfferPlace {
  private wanted: string;
  private fetching = false;

  /** `season`: its address. `next`: who has the keyboard once an offer that had it is gone. */
  constructor(
    private readonly place: HTMLElement,
    private readonly season: string,
    private readonly next: () => HTMLElement | null,
  ) {
    this.wanted = place.dataset.offer ?? "0";
    place.addEventListener("submit", (event) => {
      const form = event.target as HTMLFormElement;
      event.preventDefault();
      // An offer that no longer stands is refused; the news that it has gone come by themselves.
      fetch(form.action, { method: "POST", body: new FormData(form), redirect: "manual" });
    });
  }

  /** Shows the offer with this number; 0 for none. */
  async show(offer: number): Promise<void> {
    this.wanted = String(offer);
    if (this.fetching) return;
    this.fetching = true;
    while (this.place.dataset.offer !== this.wanted) {
      const answer = await fetch(`${this.season}/offer`).catch(() => null);
      // The next news, at the latest a few seconds on, asks again.
      if (answer === null || !answer.ok) break;
      this.swap(await answer.text());
    }
    this.fetching = false;
  }

  private swap(html: string): void {
    const { place } = this;
    const fresh = new DOMParser().parseFromString(html, "text/html").getElementById("offer");
    if (fresh === null) return;
    const hadFocus = place.contains(document.activeElement);
    const focusAgain = holdFocus(place);
    const openAgain = holdOpen(place);
    place.replaceChildren(...fresh.children);
    place.dataset.offer = fresh.dataset.offer ?? "0";
    openAgain();
    if (hadFocus && place.childElementCount === 0) this.next()?.focus();
    else focusAgain();
  }
}
