import type { ComponentChildren, VNode } from "preact";
import type { Answered } from "../_solver/ask-messages.ts";

/** How far a question has come that takes planning the year anew. */
export type Asked = "nothing" | "unreadable" | "waiting" | Answered;

/** One question with its answer: the answer in a line, and below it what stands behind it. */
export function Question({ id, asks, answer, wide, children }: {
  id: string;
  asks: string;
  answer: ComponentChildren;
  /** Takes the whole width of the page. */
  wide?: boolean;
  children?: ComponentChildren;
}): VNode {
  return (
    <section class={wide ? "part wide question" : "part question"} aria-labelledby={id}>
      <h2 id={id}>{asks}</h2>
      <p class="answer">{answer}</p>
      {children}
    </section>
  );
}

/** What was typed elsewhere on the page, so that one form does not lose what another asked. */
export function Kept({ query, but }: {
  query: ReadonlyMap<string, string>;
  /** Names that the form itself asks for. */
  but: (name: string) => boolean;
}): VNode {
  return (
    <>
      {[...query].filter(([name]) => !but(name)).map(([name, value]) => (
        <input key={name} type="hidden" name={name} value={value} />
      ))}
    </>
  );
}
