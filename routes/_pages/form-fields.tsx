import type { ComponentChildren, VNode } from "preact";
import type {
  FieldNode,
  FormNode,
  GroupNode,
  KindsNode,
  MonthsNode,
  RowsNode,
  SetNode,
} from "../../core/form/node.ts";
import { described, Input, inputId } from "./form-input.tsx";
import { NumberNotes, Remarks, type Says } from "./form-notes.tsx";

/** A part of a form, whatever it is. */
export function Part({ node, says }: { node: FormNode; says: Says }): VNode {
  switch (node.kind) {
    case "field":
      return <Field field={node} says={says} />;
    case "set":
      return <Ticks set={node} says={says} />;
    case "months":
      return <Months node={node} says={says} />;
    case "rows":
      return <Rows node={node} says={says} />;
    case "kinds":
      return <Kinds node={node} says={says} />;
    case "group":
      return <Group node={node} says={says} />;
  }
}

/** The parts of the whole value, without a frame around them. */
export function TopParts({ node, says }: { node: FormNode; says: Says }): VNode {
  if (node.kind === "group") return <Fields fields={node.fields} says={says} />;
  if (node.kind === "kinds") return <KindFields node={node} says={says} />;
  return <Part node={node} says={says} />;
}

/** Single fields come first, so that none seems to belong to the framed part before it. */
function Fields({ fields, says }: { fields: readonly FormNode[]; says: Says }): VNode {
  const single = (node: FormNode) => node.kind === "field" || node.kind === "set";
  const parts = [...fields.filter(single), ...fields.filter((node) => !single(node))];
  return <div class="fields">{parts.map((node) => <Part key={node.name} node={node} says={says} />)}</div>;
}

/** Says beside a label that its field may stay empty; one with a usual value gets that value back when it is emptied. */
function MayBeEmpty({ node }: { node: FieldNode | SetNode }): VNode | null {
  const usual = node.fallback !== undefined || node.kind === "field" && node.control === "id";
  return node.optional && !usual ? <span class="quiet">, may be empty</span> : null;
}

function Field({ field, says }: { field: FieldNode; says: Says }): VNode {
  const id = inputId(field.name);
  const unit = field.facts?.unit ?? "";
  if (field.control === "fixed") {
    return (
      <div class="field">
        <span class="label">{field.label}</span>
        <span class="fixed">{field.choices.find(({ is }) => is === field.seen)?.words ?? field.text}</span>
      </div>
    );
  }
  return (
    <div class={field.control === "long text" ? "field wide" : "field"}>
      <label for={id}>
        {field.label}
        <MayBeEmpty node={field} />
      </label>
      <span class={field.standing === "book value" ? "entry book" : "entry"}>
        <Input field={field} says={says} />
        {unit !== "" && <span class="unit">{unit}</span>}
        {field.standing !== undefined && field.seen !== undefined && (
          <span class="standing quiet">{field.standing}</span>
        )}
      </span>
      <Remarks node={field} id={id} says={says} />
      <NumberNotes field={field} />
    </div>
  );
}

function Ticks({ set, says }: { set: SetNode; says: Says }): VNode {
  const id = inputId(set.name);
  return (
    <fieldset class="field ticks" id={id} aria-describedby={described(set, says)}>
      <legend>
        {set.label}
        <MayBeEmpty node={set} />
      </legend>
      <input type="hidden" name={`${set.name}:asked`} value="1" />
      <span class="choices">
        {set.choices.map(({ text, words }) => (
          <label key={text}>
            <input type="checkbox" name={set.name} value={text} checked={set.picked.includes(text)} /> {words}
          </label>
        ))}
        {set.choices.length === 0 && <span class="quiet">There is none yet.</span>}
      </span>
      <Remarks node={set} id={id} says={says} />
    </fieldset>
  );
}

/** A frame with a legend; what may be left out and is, is folded. */
function Frame({ node, says, children }: {
  node: GroupNode | MonthsNode | RowsNode | KindsNode;
  says: Says;
  children: ComponentChildren;
}): VNode {
  const id = inputId(node.name);
  const out = "out" in node && node.optional && node.seen !== undefined;
  const inside = (
    <>
      <Remarks node={node} id={id} says={says} />
      {out && (
        <label class="tick">
          <input type="checkbox" name={`${node.name}:out`} value="1" checked={node.out} /> Take this out
        </label>
      )}
      {children}
    </>
  );
  const folded = "out" in node && node.optional && node.seen === undefined;
  return (
    <fieldset class="frame" id={id}>
      <legend>{node.label}</legend>
      {folded
        ? (
          <details open={says.filled(node)}>
            <summary>None. Fill in to add.</summary>
            {inside}
          </details>
        )
        : inside}
    </fieldset>
  );
}

function Group({ node, says }: { node: GroupNode; says: Says }): VNode {
  return (
    <Frame node={node} says={says}>
      <Fields fields={node.fields} says={says} />
    </Frame>
  );
}

function Months({ node, says }: { node: MonthsNode; says: Says }): VNode {
  const [first] = node.fields;
  return (
    <Frame node={node} says={says}>
      <p class="quiet">
        {[first?.meaning, first?.facts?.unit && `in ${first.facts.unit}`].filter(Boolean).join(", ")}
      </p>
      <div class="months">
        {node.fields.map((field) => (
          <div class="field" key={field.name}>
            <label for={inputId(field.name)}>{field.label}</label>
            <Input field={field} says={says} />
            {says.errors(field.name).length > 0 && (
              <Remarks node={field} id={inputId(field.name)} says={says} />
            )}
            <span class="unseen" id={`${inputId(field.name)}-is`}>{field.facts?.unit}</span>
          </div>
        ))}
      </div>
      {first !== undefined && <NumberNotes field={first} />}
    </Frame>
  );
}

function Rows({ node, says }: { node: RowsNode; says: Says }): VNode {
  return (
    <Frame node={node} says={says}>
      <input type="hidden" name={`${node.name}:rows`} value={node.rows.length} />
      {node.rows.length === 0 && <p class="quiet">None yet.</p>}
      {node.rows.map(({ node: one, old, out }) => (
        <fieldset class="row" key={one.name} id={one.kind === "field" ? undefined : inputId(one.name)}>
          <legend class={one.kind === "field" ? "unseen" : undefined}>
            {old ? one.label : `${one.label}, new`}
          </legend>
          <TopParts node={one} says={says} />
          <label class="tick">
            <input type="checkbox" name={`${one.name}:out`} value="1" checked={out} /> Take out{" "}
            <span class="unseen">{one.label}</span>
          </label>
        </fieldset>
      ))}
      {/* The page that comes back opens at the new row. */}
      <button
        type="submit"
        name="do"
        value={`add:${node.name}`}
        formaction={`#${inputId(`${node.name}/${node.rows.length}`)}`}
      >
        {`Add a row: ${node.rowWord}`}
      </button>
    </Frame>
  );
}

function Kinds({ node, says }: { node: KindsNode; says: Says }): VNode {
  return (
    <Frame node={node} says={says}>
      <KindFields node={node} says={says} />
    </Frame>
  );
}

function KindFields({ node, says }: { node: KindsNode; says: Says }): VNode {
  return (
    <>
      <div class="kind">
        <Field field={node.choice} says={says} />
        <button
          type="submit"
          name="do"
          value={`show:${node.choice.name}`}
          formaction={`#${inputId(node.choice.name)}`}
        >
          Show its fields<span class="unseen">{`: ${node.label} ${node.choice.label}`}</span>
        </button>
      </div>
      <Fields fields={node.fields} says={says} />
    </>
  );
}
