/** A form that was sent and has no answer yet, as the browser keeps it. */
export interface Unsent {
  /** The edit's own name: however often it is sent, it is made once. */
  readonly id: string;
  readonly action: string;
  /** The form's fields, URL-encoded. */
  readonly body: string;
  /** What it is, in a few words. */
  readonly what: string;
  /** True when the server has answered that a person has to look at it. */
  readonly look: boolean;
}

const KEY = "rickyard-unsent";

/** What this browser has not got rid of yet, the oldest first. Other pages of the same browser see the same. */
export function readUnsent(): Unsent[] {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(KEY) ?? "[]");
    return Array.isArray(kept) ? kept as Unsent[] : [];
  } catch {
    return [];
  }
}

/** Keeps a form until it is answered. One of the same name takes the place of the other. */
export function keepUnsent(one: Unsent): void {
  write([...readUnsent().filter(({ id }) => id !== one.id), one]);
}

export function dropUnsent(id: string): void {
  write(readUnsent().filter((one) => one.id !== id));
}

function write(list: readonly Unsent[]): void {
  localStorage.setItem(KEY, JSON.stringify(list));
  dispatchEvent(new Event("unsent"));
}

/** A form that was sent after its page had given up on it, and the page that the server leads to. */
export interface SentLater {
  readonly one: Unsent;
  readonly page: string;
}

/** What came of sending one. */
export type Sent =
  | { readonly kind: "done"; readonly page: string }
  /** The server says something that a person has to read. */
  | { readonly kind: "said"; readonly html: string; readonly status: number }
  | { readonly kind: "no answer" };

/**
 * Keeps a form, sends it and says what came of it; it is kept on only when there was no answer. Nothing else of this
 * browser sends anything meanwhile.
 */
export function sendKept(one: Unsent): Promise<Sent> {
  keepUnsent(one);
  return navigator.locks.request(KEY, async () => {
    const sent = await send(one);
    if (sent.kind !== "no answer") dropUnsent(one.id);
    return sent;
  });
}

/** Sends a form and says what came of it. Never rejects. A server that cannot store just now has not answered. */
export async function send({ action, body }: Pick<Unsent, "action" | "body">): Promise<Sent> {
  const headers = { "content-type": "application/x-www-form-urlencoded" };
  try {
    const answer = await fetch(action, { method: "POST", headers, body });
    if (answer.redirected && answer.ok) return { kind: "done", page: answer.url };
    if (answer.status >= 500) return { kind: "no answer" };
    return { kind: "said", html: await answer.text(), status: answer.status };
  } catch {
    return { kind: "no answer" };
  }
}

/** Sends what is waiting, one after the other in the order in which it was typed. Two pages never do so at once. */
export async function sendWaiting(): Promise<void> {
  await navigator.locks.request(KEY, { ifAvailable: true }, async (lock) => {
    if (lock === null) return;
    for (const one of readUnsent()) {
      if (one.look) continue;
      const sent = await send(one);
      if (sent.kind === "no answer") return;
      if (sent.kind === "done") {
        dropUnsent(one.id);
        dispatchEvent(new CustomEvent<SentLater>("sent-later", { detail: { one, page: sent.page } }));
      } else keepUnsent({ ...one, look: true });
    }
  });
}
