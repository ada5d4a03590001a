import { followSeason } from "./news.ts";
import { dropUnsent, keepUnsent, readUnsent, send, sendWaiting, type Unsent } from "./unsent.ts";

/** The address of the season, such as /seasons/tern-and-furrow. */
export interface FollowProps {
  readonly season: string;
}

/** What waits is tried again after this many milliseconds, unless the browser says sooner that it is connected. */
const TRY_AGAIN_MS = 3000;

/**
 * Keeps a page true while others edit, and holds back what is typed while there is no connection: forms that change the
 * season are kept in the browser until the server has answered, and sent again until it does.
 */
export function wake(bar: HTMLElement, { season }: FollowProps): void {
  let shown: number | null = null;
  followSeason(season, (news) => {
    sendWaiting();
    if (shown !== null && news.revision !== shown) showNews(bar, season, news.latest);
    shown = news.revision;
  });
  document.addEventListener("submit", (event) => {
    const form = event.target as HTMLFormElement;
    if (form.dataset.edit === undefined) return;
    event.preventDefault();
    submit(form, event.submitter as HTMLButtonElement | null);
  });
  addEventListener("online", () => sendWaiting());
  addEventListener("unsent", () => tellUnsent(bar));
  // Another page of this browser has sent what was waiting.
  addEventListener("storage", () => tellUnsent(bar));
  setInterval(() => readUnsent().some((one) => !one.look) && sendWaiting(), TRY_AGAIN_MS);
  tellUnsent(bar);
  sendWaiting();
}

/** Sends a form; what the server does not answer is kept, and the form stays as it was typed. */
async function submit(form: HTMLFormElement, button: HTMLButtonElement | null): Promise<void> {
  const data = new FormData(form, button);
  const texts = [...data].filter((entry): entry is [string, string] => typeof entry[1] === "string");
  const one: Unsent = {
    id: String(data.get("edit") ?? data.get("id")),
    action: form.action,
    body: new URLSearchParams(texts).toString(),
    what: form.dataset.edit ?? "",
    look: false,
  };
  if (form.dataset.sending !== undefined) return;
  form.dataset.sending = "";
  // A step inside a form, such as one row more, changes nothing yet and is not worth keeping.
  const isStep = button?.value.includes(":") ?? false;
  if (!isStep) keepUnsent(one);
  const sent = await send(one);
  delete form.dataset.sending;
  if (sent.kind === "no answer") return;
  dropUnsent(one.id);
  if (sent.kind === "done") return goOn(sent.page);
  showMain(sent.html);
}

/** Goes to the page that the server leads to; a page that follows the season by itself stays where it is. */
function goOn(page: string): void {
  const there = new URL(page);
  const stays = there.pathname === location.pathname && document.getElementById("year") !== null;
  if (!stays) location.assign(page);
}

/** Puts what the server says in the place of the page's content, and leads the reader to its head. */
function showMain(html: string): void {
  const main = new DOMParser().parseFromString(html, "text/html").querySelector("main");
  if (main === null) return;
  document.querySelector("main")?.replaceWith(main);
  const head = main.querySelector<HTMLElement>("[role=alert], h1");
  head?.setAttribute("tabindex", "-1");
  head?.focus();
  scrollTo(0, 0);
}

/** Shows who has just changed what. A page on which nothing is being typed is drawn anew. */
async function showNews(bar: HTMLElement, season: string, latest: string): Promise<void> {
  const typing =
    document.querySelector("main form[data-edit] :is(input:not([type=hidden]), select, textarea)") !== null;
  const follows = document.getElementById("year") !== null;
  // What was just done here is no news any more.
  const here = new URL(location.href);
  here.searchParams.delete("done");
  const answer = await fetch(typing || follows ? `${season}/bar` : here)
    .catch(() => null);
  if (answer === null || !answer.ok) return;
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  const fresh = page.querySelector(".record-bar");
  if (fresh !== null) {
    for (const old of bar.querySelectorAll(":scope > :not(.unsent)")) old.remove();
    bar.prepend(...[...fresh.children].filter((one) => !one.matches(".unsent")));
  }
  const said = bar.querySelector(".latest");
  if (said !== null) {
    said.textContent = typing ? `${latest} What you are typing is kept; saving compares the two.` : latest;
    said.classList.add("fresh");
  }
  const main = page.querySelector("main");
  if (!typing && !follows && main !== null) document.querySelector("main")?.replaceWith(main);
}

/** Says what waits for the connection and what wants to be looked at. */
function tellUnsent(bar: HTMLElement): void {
  const place = bar.querySelector(".unsent");
  if (place === null) return;
  const kept = readUnsent();
  const waiting = kept.filter((one) => !one.look);
  place.replaceChildren();
  if (waiting.length > 0) {
    const number = waiting.length === 1 ? "1 change waits" : `${waiting.length} changes wait`;
    const what = waiting.map((one) => one.what).join("; ");
    place.append(
      line(`No answer from the server: ${number} in this browser and will be sent when it answers: ${what}.`),
    );
  }
  for (const one of kept.filter(({ look }) => look)) place.append(lookAt(one));
}

function line(text: string): HTMLParagraphElement {
  const paragraph = document.createElement("p");
  paragraph.textContent = text;
  return paragraph;
}

/** A change that the server could not simply make: opening it asks again, and shows what the server says. */
function lookAt(one: Unsent): HTMLParagraphElement {
  const open = document.createElement("button");
  open.textContent = "Look at it";
  open.addEventListener("click", async () => {
    const sent = await send(one);
    if (sent.kind === "no answer") return;
    dropUnsent(one.id);
    if (sent.kind === "done") location.assign(sent.page);
    else showMain(sent.html);
  });
  const paragraph = line(`This change was not made and wants a look: ${one.what}. `);
  paragraph.append(open);
  return paragraph;
}
