import type { VNode } from "preact";
import { wordsOf } from "../../core/form/form-words.ts";
import { makeForm } from "../../core/form/make.ts";
import { type FormView, TakeOutPage } from "../_pages/form.tsx";
import type { Wrong } from "../_pages/form-notes.tsx";
import { type Desk, viewOf } from "./desk.ts";
import { whyNeeded } from "./save.ts";
import type { SentForm } from "./sent.ts";

/** Who sends a form, why, and under which id. */
export type Signed = Pick<SentForm, "editId" | "who" | "why">;

/** What the page of a form shows. */
export function formView(
  desk: Desk,
  { editId, who, why }: Signed,
  made: Pick<FormView, "form"> & Partial<Pick<FormView, "wrongs" | "clashes" | "notice">>,
): FormView {
  const { source, place, fresh, verbs } = desk;
  return {
    ...viewOf(desk),
    seen: source.seen === undefined ? "" : JSON.stringify(source.seen),
    editId,
    person: who,
    why,
    whyNeeded: whyNeeded(place, fresh, "save"),
    wrongs: [],
    clashes: [],
    notice: "",
    saveWord: fresh ? verbs.add : "Save",
    ...made,
  };
}

/** The page that asks before something is taken out. */
export function takeOutPage(desk: Desk, { editId, who, why }: Signed, wrongs: readonly Wrong[]): VNode {
  const { source, verbs, thing } = desk;
  const form = makeForm(source);
  const fields = form.kind === "kinds"
    ? [form.choice, ...form.fields]
    : form.kind === "group"
    ? form.fields
    : [];
  const view = {
    ...viewOf(desk),
    title: `${verbs.takeOut} ${thing}?`,
    seen: JSON.stringify(source.seen),
    editId,
    person: who,
    why,
    wrongs,
    saveWord: verbs.takeOut,
    lines: fields.map((field) => [field.label, wordsOf(field, "seen")] as const).filter(([, words]) =>
      words !== "nothing" && words !== "0 rows"
    ),
  };
  return <TakeOutPage view={view} />;
}
