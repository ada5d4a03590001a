import { holdFocus, holdOpen } from "./_focus.ts";
import { followSeason } from "./news.ts";

/** The address of the season, such as /seasons/tern-and-furrow. */
export interface LivePageProps {
  readonly season: string;
}

/** Keeps a page true that grows while something is worked out: it is fetched anew at news, unless somebody is filling in a form on it. */
export function wake(live: HTMLElement, { season }: LivePageProps): void {
  let version: string | null = null;
  let fetching = false, again = false;

  async function renew(): Promise<void> {
    again = true;
    if (fetching) return;
    fetching = true;
    while (again) {
      again = false;
      const answer = await fetch(location.href).catch(() => null);
      if (answer === null || !answer.ok) break;
      const anew = new DOMParser().parseFromString(await answer.text(), "text/html").getElementById("live");
      if (anew !== null && !isFilledIn(live)) swap(live, anew);
    }
    fetching = false;
  }

  followSeason(season, (news) => {
    const isNews = version !== null && version !== news.version;
    version = news.version;
    if (isNews || live.dataset.busy !== undefined) renew();
  });
}

/** Something was typed or chosen that has not been sent. */
function isFilledIn(live: HTMLElement): boolean {
  return [...live.querySelectorAll<HTMLInputElement>("input:not([type=hidden])")].some((one) =>
    one.value !== one.defaultValue
  ) ||
    [...live.querySelectorAll("option")].some((one) =>
      one.selected && !one.defaultSelected && hasDefault(one)
    );
}

/** Without a default the browser chooses the first option by itself. */
function hasDefault(option: HTMLOptionElement): boolean {
  const all = [...option.closest("select")?.options ?? []];
  return all.some((one) => one.defaultSelected) || option !== all[0];
}

function swap(live: HTMLElement, anew: HTMLElement): void {
  if (anew.dataset.busy === undefined) delete live.dataset.busy;
  else live.dataset.busy = "";
  if (live.innerHTML === anew.innerHTML) return;
  const focusAgain = holdFocus(live);
  const openAgain = holdOpen(live);
  live.innerHTML = anew.innerHTML;
  openAgain();
  focusAgain();
}
