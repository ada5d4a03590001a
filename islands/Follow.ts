import { followSeason } from "./news.ts";
import { holdFocus } from "./_focus.ts";
import {
  dropUnsent,
  readUnsent,
  send,
  sendKept,
  sendWaiting,
  type SentLater,
  type Unsent,
} from "./unsent.ts";

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
  document.addEventListener("input", (event) => {
    const form = (event.target as HTMLElement).closest<HTMLFormElement>("main form[data-edit]");
    if (form !== null) form.dataset.typed = "";
  });
  addEventListener("beforeunload", (event) => {
    if (isTyping() && document.querySelector("form[data-sending]") === null) event.preventDefault();
  });
  addEventListener("sent-later", (event) => leadOn((event as CustomEvent<SentLater>).detail));
  addEventListener("online", () => sendWaiting());
  addEventListener("unsent", () => tellUnsent(bar));
  // Another page of this browser has sent what was waiting.
  addEventListener("storage", () => tellUnsent(bar));
  setInterval(() => readUnsent().some((one) => !one.look) && sendWaiting(), TRY_AGAIN_MS);
  tellUnsent(bar);
  sendWaiting();
}

/** A form as it would be sent now. */
function unsentOf(form: HTMLFormElement, button: HTMLButtonElement | null): Unsent {
  const data = new FormData(form, button);
  const texts = [...data].filter((entry): entry is [string, string] => typeof entry[1] === "string");
  return {
    id: String(data.get("edit") ?? data.get("id")),
    action: form.action,
    body: new URLSearchParams(texts).toString(),
    what: form.dataset.edit ?? "",
    look: false,
  };
}

/** Sends a form; what the server does not answer is kept, and the form stays as it was typed. */
async function submit(form: HTMLFormElement, button: HTMLButtonElement | null): Promise<void> {
  if (form.dataset.sending !== undefined) return;
  form.dataset.sending = "";
  const one = unsentOf(form, button);
  // A step inside a form, such as one row more, changes nothing yet and is not worth keeping.
  const isStep = button?.value.includes(":") ?? false;
  const sent = await (isStep ? send(one) : sendKept(one));
  delete form.dataset.sending;
  if (sent.kind === "no answer") {
    form.dataset.kept = isStep ? "" : one.body;
    return;
  }
  delete form.dataset.typed;
  if (sent.kind === "done") return goOn(sent.page);
  showMain(sent.html, isStep);
}

/** A form that has been sent after all leads on, unless something else was typed into it since. */
function leadOn({ one, page }: SentLater): void {
  const form = [...document.querySelectorAll<HTMLFormElement>("main form[data-edit]")]
    .find((each) => each.dataset.kept === one.body);
  if (form === undefined) return;
  const button = form.querySelector<HTMLButtonElement>("button[name=do]");
  if (inOrder(unsentOf(form, button).body) !== inOrder(one.body)) return;
  delete form.dataset.typed;
  goOn(page);
}

/** The fields of a form in order of their names: the pressed button stands among them where it stands on the page. */
function inOrder(body: string): string {
  const fields = new URLSearchParams(body);
  fields.sort();
  return String(fields);
}

/** Goes to the page that the server leads to; a page that follows the season by itself stays where it is. */
function goOn(page: string): void {
  const there = new URL(page);
  const stays = there.pathname === location.pathname && document.getElementById("year") !== null;
  if (!stays) location.assign(page);
}

/**
 * Puts what the server says in the place of the page's content, and leads the reader to its head. What was typed into the
 * form stays typed.
 */
function showMain(html: string, typed: boolean): void {
  const main = new DOMParser().parseFromString(html, "text/html").querySelector("main");
  if (main === null) return;
  document.querySelector("main")?.replaceWith(main);
  const form = main.querySelector<HTMLFormElement>("form[data-edit]");
  if (typed && form !== null) form.dataset.typed = "";
  const head = main.querySelector<HTMLElement>("[role=alert]") ?? main.querySelector<HTMLElement>("h1");
  head?.setAttribute("tabindex", "-1");
  head?.focus();
  scrollTo(0, 0);
}

/** True while something has been typed into a form of the page and not been sent. */
function isTyping(): boolean {
  return document.querySelector("main form[data-typed]") !== null;
}

/** Shows who has just changed what. A page on which nothing has been typed is drawn anew. */
async function showNews(bar: HTMLElement, season: string, latest: string): Promise<void> {
  const said = bar.querySelector(".latest");
  const typing = isTyping();
  if (said !== null) {
    said.textContent = typing ? `${latest} What you have typed is kept; saving compares the two.` : latest;
    said.classList.add("fresh");
  }
  const follows = document.getElementById("year") !== null;
  // What was just done here is no news any more.
  const here = new URL(location.href);
  here.searchParams.delete("done");
  const answer = await fetch(typing || follows ? `${season}/bar` : here).catch(() => null);
  if (answer === null || !answer.ok) return;
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  const fresh = page.querySelector(".record-bar");
  if (fresh !== null) {
    for (const old of bar.querySelectorAll(":scope > :not(.notices)")) old.remove();
    bar.prepend(...[...fresh.children].filter((one) => !one.matches(".notices")));
  }
  const main = page.querySelector("main");
  if (!typing && !isTyping() && !follows && main !== null) {
    const old = document.querySelector("main");
    const focusAgain = old === null ? () => {} : holdFocus(old, main);
    old?.replaceWith(main);
    focusAgain();
  }
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
    if (sent.kind === "done") return location.assign(sent.page);
    // The address is that of the form that is shown now.
    const at = new URLSearchParams(one.body).get("at");
    if (at !== null) history.pushState(null, "", `${one.action}?at=${encodeURIComponent(at)}`);
    showMain(sent.html, true);
  });
  const paragraph = line(`This change was not made and wants a look: ${one.what}. `);
  paragraph.append(open);
  return paragraph;
}
