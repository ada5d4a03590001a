import type { VNode } from "preact";
import type { FieldNode, SetNode } from "../../core/form/node.ts";
import type { Says } from "./form-notes.tsx";

/** The id of a field's input on the page; links from the list of errors lead to it. */
export function inputId(name: string): string {
  return `f${name.replaceAll("/", ".")}`;
}

/** The ids of what is said beside a field: what is wrong with it, and what it means. */
export function described(field: FieldNode | SetNode, says: Says): string {
  return says.errors(field.name).length > 0
    ? `${inputId(field.name)}-wrong ${inputId(field.name)}-is`
    : `${inputId(field.name)}-is`;
}

/** What a field is filled in with, holding what was typed. */
export function Input({ field, says }: { field: FieldNode; says: Says }): VNode {
  const { name, control, text } = field;
  const emptiable = field.optional && field.fallback === undefined;
  const common = {
    id: inputId(name),
    name,
    "aria-describedby": described(field, says),
    ...(says.errors(name).length > 0 ? { "aria-invalid": true } : {}),
  };
  switch (control) {
    case "choice":
      return (
        <select {...common}>
          {!field.choices.some((one) => one.text === "") && (field.text === "" || emptiable) && (
            <option value="" selected={text === ""}>{emptiable ? "none" : "choose"}</option>
          )}
          {field.choices.map((one) => (
            <option key={one.text} value={one.text} selected={one.text === text}>{one.words}</option>
          ))}
        </select>
      );
    case "long text":
      return <textarea {...common} rows={3}>{text}</textarea>;
    case "number":
      return <input {...common} type="text" inputMode="decimal" autocomplete="off" value={text} />;
    case "day":
    case "minute":
      // What is no day would vanish from a day's input, and with it what was typed.
      if (says.errors(name).length > 0) return <input {...common} type="text" value={text} />;
      return <input {...common} type={control === "day" ? "date" : "datetime-local"} value={text} />;
    case "time":
      return (
        <input
          {...common}
          type="text"
          inputMode="numeric"
          autocomplete="off"
          placeholder="07:30"
          value={text}
        />
      );
    default:
      return <input {...common} type="text" autocomplete="off" value={text} />;
  }
}
