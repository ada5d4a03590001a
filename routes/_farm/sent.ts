import { createHash } from "node:crypto";
import type { Context } from "hono";
import type { Entries } from "../../core/form/node.ts";
import { Refusal } from "../_shell/errors.tsx";

/** What a form of the farm sends. */
export interface SentForm {
  readonly place: string;
  /** The pressed button and what stands behind its colon: `save`, `take-out`, `add:/analyses`, `show:/kind`. */
  readonly act: string;
  readonly about: string;
  readonly seen: unknown;
  readonly editId: string;
  readonly who: string;
  readonly why: string;
  /** The fields of the value; those of which the other person's word is to stand are left out. */
  readonly entries: Entries;
}

/** Longest name and reason that are kept. */
const LONGEST = { who: 60, why: 200 };

/** Reads a sent form. Refuses one that no page of this program could have sent. */
export async function sentForm(c: Context): Promise<SentForm> {
  const data = await c.req.formData().catch(() => {
    throw unreadable(c);
  });
  const all = new Map<string, string[]>();
  for (const [name, value] of data) {
    if (typeof value === "string") all.set(name, [...all.get(name) ?? [], value]);
  }
  const one = (name: string) => all.get(name)?.[0] ?? "";
  const theirs = [...all].filter(([name, [value]]) => name.startsWith("choose:") && value === "theirs")
    .map(([name]) => name.slice("choose:".length));
  const gone = (name: string) =>
    theirs.some((at) => name === at || name.startsWith(`${at}/`) || name.startsWith(`${at}:`));
  const [act = "", about = ""] = (one("do") || "save").split(/:(.*)/s);
  return {
    place: one("at"),
    act,
    about,
    seen: one("seen") === "" ? undefined : parsed(c, one("seen")),
    editId: sentName(one("edit"), data),
    who: one("who").trim().slice(0, LONGEST.who),
    why: one("why").trim().slice(0, LONGEST.why),
    entries: new Map([...all].filter(([name]) => name.startsWith("/") && !gone(name))),
  };
}

/**
 * The name of the edit that a form asks for: that of the form and of what stands in it. Sent again it is the same edit;
 * with anything else typed it is another.
 */
function sentName(form: string, data: FormData): string {
  const texts = [...data].filter(([name, value]) => name !== "edit" && typeof value === "string");
  const digest = createHash("sha256").update(JSON.stringify(texts)).digest("hex");
  return `${form.replace(/[^A-Za-z0-9-]/g, "").slice(0, 40)}-${digest.slice(0, 16)}`;
}

function parsed(c: Context, text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    throw unreadable(c);
  }
}

function unreadable(c: Context): Refusal {
  return new Refusal(400, { ...UNREADABLE, where: c.req.path });
}

/** What is said of a form that no page of this program sent. */
export const UNREADABLE = {
  what: "This form cannot be read.",
  whatToDo: "Open the form anew and send it from there.",
};
