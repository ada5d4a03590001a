import type { VNode } from "preact";
import type { FormNode } from "../../core/form/node.ts";
import { TopParts } from "./form-fields.tsx";
import { inputId } from "./form-input.tsx";
import { saysOf, type Wrong } from "./form-notes.tsx";

/** A field that two people changed: what each of them wrote, in the reader's words. */
export interface Clash {
  /** Name of the field. */
  readonly name: string;
  readonly label: string;
  readonly theirs: string;
  readonly mine: string;
  readonly author: string;
  /** When they wrote it, as it is read. */
  readonly at: string;
}

/** What a form's page shows. */
export interface FormView {
  readonly title: string;
  readonly seasonId: string;
  /** The place that is edited; `/lots/-` for a new lot. */
  readonly place: string;
  readonly form: FormNode;
  /** What the person saw, as JSON; empty for something new. */
  readonly seen: string;
  readonly editId: string;
  /** Who is at the keyboard, as far as known. */
  readonly person: string;
  readonly people: readonly string[];
  readonly why: string;
  readonly whyNeeded: boolean;
  /** What is wrong, beside its field and on top. Those of no field of this form have an empty name. */
  readonly wrongs: readonly Wrong[];
  readonly clashes: readonly Clash[];
  /** Said above the form, such as that it was taken out by somebody else. */
  readonly notice: string;
  readonly saveWord: string;
  readonly back: string;
}

/** A form as a page that works without scripts. */
export function FormPage({ view }: { view: FormView }): VNode {
  return (
    <main id="main" class="farm form">
      <p class="back">
        <a href={view.back}>Back without saving</a>
      </p>
      <h1>{view.title}</h1>
      <WrongList wrongs={view.wrongs} />
      {view.notice !== "" && <p class="notice" role="alert">{view.notice}</p>}
      <form method="post" action={`/seasons/${view.seasonId}/farm/form`} noValidate data-edit={view.title}>
        {/* Pressing Enter in a field presses the first button of a form. */}
        <button type="submit" name="do" value="save" class="unseen" tabIndex={-1} aria-hidden="true">
          {view.saveWord}
        </button>
        <input type="hidden" name="at" value={view.place} />
        <input type="hidden" name="seen" value={view.seen} />
        <input type="hidden" name="edit" value={view.editId} />
        <Clashes clashes={view.clashes} />
        <TopParts node={view.form} says={saysOf(view.wrongs)} />
        <Signature view={view} />
        <p class="acts">
          <button type="submit" name="do" value="save" class="main">{view.saveWord}</button>
        </p>
      </form>
    </main>
  );
}

/** What the page for taking something out shows. */
export interface TakeOutView extends Omit<FormView, "form" | "clashes" | "notice" | "whyNeeded"> {
  /** The values of what is taken out, in words. */
  readonly lines: readonly (readonly [label: string, words: string])[];
}

/** The page that asks who takes something out, and why. */
export function TakeOutPage({ view }: { view: TakeOutView }): VNode {
  return (
    <main id="main" class="farm form">
      <p class="back">
        <a href={view.back}>Back, leave it in</a>
      </p>
      <h1>{view.title}</h1>
      <WrongList wrongs={view.wrongs} />
      <dl class="lines">
        {view.lines.map(([label, words]) => (
          <div key={label}>
            <dt class="quiet">{label}</dt>
            <dd>{words}</dd>
          </div>
        ))}
      </dl>
      <form method="post" action={`/seasons/${view.seasonId}/farm/form`} noValidate data-edit={view.title}>
        <input type="hidden" name="at" value={view.place} />
        <input type="hidden" name="seen" value={view.seen} />
        <input type="hidden" name="edit" value={view.editId} />
        <Signature view={{ ...view, whyNeeded: true }} />
        <p class="acts">
          <button type="submit" name="do" value="take-out" class="main">{view.saveWord}</button>
        </p>
      </form>
    </main>
  );
}

function WrongList({ wrongs }: { wrongs: readonly Wrong[] }): VNode | null {
  if (wrongs.length === 0) return null;
  const number = wrongs.length === 1 ? "One thing has" : `${wrongs.length} things have`;
  return (
    <section class="wrongs" role="alert" aria-label="What has to be mended">
      <h2>{`Nothing was saved yet. ${number} to be mended:`}</h2>
      <ul>
        {wrongs.map((one) => (
          <li key={one.name + one.message}>
            {one.name === "" ? <b>{one.label}</b> : <a href={`#${inputId(one.name)}`}>{one.label}</a>}
            {`: ${one.message} ${one.wayOut}`}
          </li>
        ))}
      </ul>
    </section>
  );
}

function Clashes({ clashes }: { clashes: readonly Clash[] }): VNode | null {
  if (clashes.length === 0) return null;
  return (
    <section class="wrongs" role="alert" aria-label="What two people changed">
      <h2>Nothing was saved yet. Somebody else changed the same in the meantime:</h2>
      {clashes.map(({ name, label, theirs, mine, author, at }) => (
        <fieldset class="clash" key={name}>
          <legend>{label}</legend>
          <label>
            <input type="radio" name={`choose:${name}`} value="theirs" />
            {` Keep theirs: ${theirs} (${author}, ${at})`}
          </label>
          <label>
            <input type="radio" name={`choose:${name}`} value="mine" checked />
            {` Use mine: ${mine}`}
          </label>
        </fieldset>
      ))}
      <p>Choose, look through the form, and save again. All else that both of you changed is in it.</p>
    </section>
  );
}

function Signature(
  { view }: { view: Pick<FormView, "person" | "people" | "why" | "whyNeeded" | "wrongs"> },
): VNode {
  const says = saysOf(view.wrongs);
  const field = (name: "who" | "why") => {
    const id = inputId(`/${name}`), wrong = says.errors(`/${name}`);
    return {
      id,
      wrong: wrong.map((one) => `${one.message} ${one.wayOut}`).join(" "),
      input: {
        id,
        name,
        ...(wrong.length > 0 ? { "aria-invalid": true, "aria-describedby": `${id}-wrong` } : {}),
      },
    };
  };
  const who = field("who"), why = field("why");
  return (
    <div class="fields signature">
      <div class="field">
        <label for={who.id}>Who</label>
        <span class="entry">
          <input
            {...who.input}
            type="text"
            list="people"
            autocomplete="off"
            maxLength={60}
            value={view.person}
          />
        </span>
        <datalist id="people">{view.people.map((name) => <option key={name} value={name} />)}</datalist>
        {who.wrong !== "" && <span class="wrong" id={`${who.id}-wrong`}>{who.wrong}</span>}
      </div>
      <div class="field">
        <label for={why.id}>
          Why{!view.whyNeeded && <span class="quiet">, may be empty</span>}
        </label>
        <span class="entry">
          <input {...why.input} type="text" autocomplete="off" maxLength={200} value={view.why} />
        </span>
        {why.wrong !== "" && <span class="wrong" id={`${why.id}-wrong`}>{why.wrong}</span>}
      </div>
    </div>
  );
}
