import { holdFocus, holdOpen } from "./_focus.ts";
import { followSeason, type SeasonNews } from "./news.ts";
import { OfferPlace } from "./offer.ts";
import { PrintSheets } from "./print-sheets.ts";
import { wakeSection } from "./section-trace.ts";

/** The address of the season, such as /seasons/tern-and-furrow. */
export interface LiveYearProps {
  readonly season: string;
}

/**
 * Keeps the year page true while the planner works: shows how far it is, and draws the year anew at each better
 * plan. The last good plan stays on the page until the next one is there.
 */
export function wake(strip: HTMLElement, { season }: LiveYearProps): void {
  const year = document.getElementById("year");
  if (year === null) return;
  foldOnPhone(year);
  wakeSection(year);
  const sheets = new PrintSheets(year, season);
  sheets.renew();
  let drawing = false;
  let wanted = year.dataset.version ?? "";

  async function draw(): Promise<void> {
    if (drawing || year === null) return;
    drawing = true;
    while (year.dataset.version !== wanted) {
      const version = wanted;
      const answer = await fetch(`${season}/year`).catch(() => null);
      // The next news, at the latest a few seconds on, asks again.
      if (answer === null || !answer.ok) break;
      swap(year, await answer.text());
      year.dataset.version = version;
      sheets.renew();
    }
    drawing = false;
  }

  const place = document.getElementById("offer");
  const offers = place === null ? null : new OfferPlace(place, season, () => shownButton(strip));

  followSeason(season, (news) => {
    tell(strip, news);
    offers?.show(news.offer);
    wanted = news.version;
    draw();
  });

  strip.addEventListener("submit", (event) => {
    const form = event.target as HTMLFormElement;
    event.preventDefault();
    fetch(form.action, { method: "POST", body: new FormData(form), redirect: "manual" });
  });
}

/** On a phone what explains and what adds up waits folded, so that what is to be done is near. */
function foldOnPhone(year: Element): void {
  if (!matchMedia("(max-width: 700px)").matches) return;
  for (const part of year.querySelectorAll<HTMLDetailsElement>("details[data-fold]")) part.open = false;
}

function swap(year: Element, html: string): void {
  const focusAgain = holdFocus(year);
  const openAgain = holdOpen(year);
  year.innerHTML = html;
  foldOnPhone(year);
  wakeSection(year);
  openAgain();
  focusAgain();
}

function tell(strip: HTMLElement, plan: SeasonNews): void {
  const status = strip.querySelector("[role=status]");
  if (status !== null && status.textContent !== plan.says) status.textContent = plan.says;
  const bar = strip.querySelector("progress");
  if (bar !== null) {
    bar.hidden = !plan.planning;
    if (plan.of > 0) [bar.max, bar.value] = [plan.of, plan.done];
    else bar.removeAttribute("value");
  }
  put(strip.querySelector<HTMLElement>(".best"), plan.best, !plan.planning);
  const leaving = strip.querySelector<HTMLElement>("form:focus-within");
  for (const form of strip.querySelectorAll<HTMLElement>("form[data-when]")) {
    form.hidden = (form.dataset.when === "planning") !== plan.planning;
  }
  const looking = strip.querySelector<HTMLElement>("form.looking");
  put(looking?.querySelector("span") ?? null, plan.looking, false);
  if (looking !== null) looking.hidden = plan.looking === "";
  // The button that was pressed has gone; the keyboard goes on from the one in its place.
  if (leaving?.hidden) shownButton(strip)?.focus();
}

function put(element: HTMLElement | null, text: string, hidden: boolean): void {
  if (element === null) return;
  element.hidden = hidden;
  if (element.textContent !== text) element.textContent = text;
}

/** The button with which the plan is started or stopped. */
function shownButton(strip: Element): HTMLElement | null {
  return strip.querySelector("form[data-when]:not([hidden]) button");
}
