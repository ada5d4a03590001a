import type { VNode } from "preact";
import { partsOfForm } from "../../core/form/entries.ts";
import type { FieldNode, FormNode } from "../../core/form/node.ts";

/** One thing that is wrong with a field: what, and what to do. */
export interface Wrong {
  readonly name: string;
  readonly label: string;
  readonly message: string;
  readonly wayOut: string;
}

/** What a form says beside its fields. */
export interface Says {
  errors(name: string): readonly Wrong[];
  /** Whether something was typed into a part, or is wrong in it. */
  filled(node: FormNode): boolean;
}

/** What stands beside the fields of a form with these errors. */
export function saysOf(wrongs: readonly Wrong[]): Says {
  const errors = (name: string) => wrongs.filter((one) => one.name === name);
  return {
    errors,
    filled: (node) =>
      partsOfForm(node).some((part) =>
        errors(part.name).length > 0 || part.kind === "field" && part.text !== part.shown
      ),
  };
}

/** What a part means, and what is wrong with it. */
export function Remarks({ node, id, says }: { node: FormNode; id: string; says: Says }): VNode {
  const wrongs = says.errors(node.name);
  const basis = node.kind === "field" ? node.facts?.basis : "";
  const means = node.kind === "field" && node.control === "id"
    ? "left empty, it is made for you; it never changes afterwards"
    : [meaningOf(node), basis].filter(Boolean).join("; ");
  return (
    <>
      {wrongs.length > 0 && (
        <span class="wrong" id={`${id}-wrong`}>
          {wrongs.map((one) => <span key={one.message}>{`${one.message} ${one.wayOut}`}</span>)}
        </span>
      )}
      {node.kind === "field" && node.unlikely && node.text === node.shown && (
        <span class="doubt">{`Unusual: one would expect ${node.facts?.plausible}.`}</span>
      )}
      {node.kind === "field" || node.kind === "set"
        ? <span class="meaning quiet" id={`${id}-is`}>{means}</span>
        : means !== "" && <p class="quiet">{means}</p>}
    </>
  );
}

/** The meaning of a part, unless it only says the label again. */
function meaningOf({ label, meaning }: FormNode): string {
  return meaning.toLowerCase() === label.toLowerCase() ? "" : meaning.replaceAll("`", '"');
}

/** What the data dictionary says of a number, folded away. */
export function NumberNotes({ field }: { field: FieldNode }): VNode | null {
  const { facts } = field;
  if (facts === undefined || facts.source === "" && facts.plausible === "") return null;
  return (
    <details class="source">
      <summary>
        Range and source<span class="unseen">{` of ${field.label}`}</span>
      </summary>
      <p>
        {facts.plausible !== "" && `Usually ${facts.plausible}. `}
        {facts.source !== "" && `Source: ${facts.source}.`}
      </p>
    </details>
  );
}
